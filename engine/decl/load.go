package decl

import (
	"cmp"
	"io/fs"
	"slices"
	"strconv"

	"bankwright/engine/diag"
	"bankwright/engine/reading"
)

// Sources says where the files are.
type Sources struct {
	// Files holds the scenario and what it includes. Included files and
	// further rules files are named from the folder of the file that names
	// them, and lie in it or below it. A file system that follows links, such
	// as os.DirFS, follows them out of the folder as well; one that does not gives
	// ErrOutside.
	Files    fs.FS
	Scenario string // path of the scenario in Files; empty: the standard rules alone
	Folder   string // stands before the names of Files in messages; may be empty

	// Standard holds the standard rules: every *.toml in it and its folders,
	// in the order of their names. They are shown as rules/NAME. May be nil.
	Standard fs.FS

	// Symbols are those that drawings may use, known to who draws; nil: any name is
	// taken as it is written.
	Symbols []string

	// Recordings keeps what was found in recordings from one loading to the next;
	// may be nil.
	Recordings *reading.Shelf
}

// Load reads a scenario, what it includes and its rules. The list holds every
// fault and warning of all files, by file and place. Model.Files is complete
// as far as files could be read at all; where one could not, the model holds
// nothing else, since names would seem to be missing that are not.
func Load(src Sources) (*Model, diag.List) {
	l := &loader{
		src: src, diags: &diag.List{}, model: &Model{},
		seen:   map[string]diag.Pos{},
		paths:  map[string]string{},
		kinds:  map[string]*Kind{},
		axes:   map[string]*Axis{},
		named:  map[string]diag.Pos{},
		broken: map[*Quantity]bool{},
		byName: map[*Kind]map[string]*Quantity{},
		items:  map[*Kind]map[string]*Item{},
		groups: map[*Kind]map[string]*Item{},
		names:  map[*Kind][]string{},
		parsed: map[*node]*Given{},
		unless: map[*Quantity]*node{}, instead: map[*Quantity]*node{}, inverse: map[*Quantity]*node{},

		partial: map[*Kind]bool{}, lost: map[*Kind]bool{}, presumed: map[*Kind]map[string]bool{},
	}
	var root *node
	if src.Scenario != "" {
		root = l.open(src.Files, src.Scenario, l.shown(src.Scenario), false, nil)
	}
	if root != nil {
		l.scenario(root)
	} else {
		l.readStandard()
	}
	l.declare()
	l.resolveUnless()
	l.resolveInstead()
	l.resolveInverse()
	l.collect()
	l.tooFew()
	l.stepKinds()
	l.fillItems()
	l.studies()
	l.currency()
	l.sort()
	if l.unread {
		l.model = &Model{Files: l.model.Files}
	}
	return l.model, *l.diags
}

// loader holds what is known while files are read.
type loader struct {
	src   Sources
	diags *diag.List
	model *Model

	paths  map[string]string   // in Sources.Files, by the name for people
	seen   map[string]diag.Pos // files by path: where they were first named
	unread bool                // a file could not be read: names may be missing
	bytes  int                 // of all files that others name

	header *node      // the scenario's root; nil where it could not be read
	rules  []*ruleSet // in order
	lists  []*node    // the scenario and included lists, in order

	kinds   map[string]*Kind
	axes    map[string]*Axis
	named   map[string]diag.Pos // whatever must be unique, by "what name"
	byName  map[*Kind]map[string]*Quantity
	unless  map[*Quantity]*node // the names of the inputs that stand for them
	instead map[*Quantity]*node // what spellings that are no units mean there
	inverse map[*Quantity]*node // the names of the references that sets are the inverse of
	broken  map[*Quantity]bool  // declared with a fault: what is said of it is not judged

	entries  []*entry
	partial  map[*Kind]bool // of which combinations are at fault and not made
	lost     map[*Kind]bool // of which a table was given twice: there may be items under other names
	later    []later        // combinations that wait for the items of other kinds
	tables   int            // of items, that have been read
	items    map[*Kind]map[string]*Item
	presumed map[*Kind]map[string]bool  // items whose tables are at fault, which is told
	groups   map[*Kind]map[string]*Item // the first combination, by the table that made it
	names    map[*Kind][]string         // of all items, once they are known
	parsed   map[*node]*Given           // values of combinations are read once
	slips    []slip

	collected    bool // all items are known
	count, cells int  // items, and their values
	guesses      int  // names compared in search of the nearest
}

// ruleSet is a rules file, or the inline rules of a scenario.
type ruleSet struct {
	root   *node
	inline bool
}

// sort puts the diagnostics in the order of the files and places.
func (l *loader) sort() {
	rank := map[string]int{}
	for i, f := range l.model.Files {
		rank[f.Name] = i
	}
	slices.SortStableFunc(*l.diags, func(a, b diag.Diagnostic) int {
		return cmp.Or(cmp.Compare(rank[a.At.File], rank[b.At.File]),
			cmp.Compare(a.At.Line, b.At.Line), cmp.Compare(a.At.Col, b.At.Col))
	})
}

// unique reports whether a name is used for the first time; where it is not,
// it reports both places.
func (l *loader) unique(what, name string, at diag.Pos) bool {
	key := what + " " + name
	first, again := l.named[key]
	if !again {
		l.named[key] = at
		return true
	}
	l.diags.Add(diag.Diagnostic{
		Code: "duplicate", At: at,
		Summary: what + " `" + name + "` is already given at " + placed(first, at),
		Mend:    "Keep one of the two, or give one another name.",
		Related: []diag.Related{{At: first, Text: "first given here"}},
	})
	return false
}

// placed names a place as seen from another one.
func placed(at, from diag.Pos) string {
	if at.File == from.File {
		return "line " + strconv.Itoa(at.Line)
	}
	return at.File + ":" + strconv.Itoa(at.Line)
}
