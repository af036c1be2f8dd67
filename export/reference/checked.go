package reference

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
)

// Checked is what a run of published values through rules has found: each value
// beside the published one, and how far the rules are reached by them.
type Checked struct {
	Sources []CheckedSource `json:"sources"`
	Rules   []CheckedRule   `json:"rules"`
}

// CheckedSource is where values were published, and what the rules give instead.
type CheckedSource struct {
	Source   string         `json:"source"`
	Status   string         `json:"status"`   // how far the publication was seen
	Evidence Evidence       `json:"evidence"` // what that amounts to
	File     string         `json:"file"`     // the scenario that holds its figures
	Values   []CheckedValue `json:"values"`
}

// CheckedValue is one published value. A finding is 1 where a check is passed.
type CheckedValue struct {
	Cell       string   `json:"cell"`
	Label      string   `json:"label"`
	With       []string `json:"with,omitempty"` // lines of the scenario that are others here
	Finding    bool     `json:"finding,omitempty"`
	Text       string   `json:"text,omitempty"` // a published text: both values are 1 where it is ours
	Published  float64  `json:"published"`
	Ours       float64  `json:"ours"`
	Difference float64  `json:"difference"` // ours less the published one; 0 within rounding
	Tolerance  float64  `json:"tolerance"`
	Unit       string   `json:"unit,omitempty"` // of all four, none for a plain number
}

// Relative is the difference in parts of the published value, NaN where that is 0.
func (v CheckedValue) Relative() float64 {
	if v.Published == 0 {
		return math.NaN()
	}
	return v.Difference / math.Abs(v.Published)
}

// Reach is how a rule is reached by values from outside.
type Reach string

const (
	// Direct: its own result is compared.
	Direct Reach = "direct"
	// Through: a value is missed when its result is made another.
	Through Reach = "through"
	// Unreached: no value would tell.
	Unreached Reach = "none"
)

// Evidence is how far a value from outside can be trusted to be one: how far its
// publication was seen.
type Evidence string

const (
	// Printed: the publication, or a reproduction of it, was seen to print the value.
	Printed Evidence = "printed"
	// Worked: the figures that it follows from were seen printed.
	Worked Evidence = "worked"
	// Memory: the publication, or a part of what is used of it, is told from memory.
	Memory Evidence = "memory"
	// Simulated: a program for other purposes computes it.
	Simulated Evidence = "simulated"
	// Consistent: figures were chosen so that a published total comes out, of which the
	// parts are not published. Such a value reaches nothing directly.
	Consistent Evidence = "consistent"
	// Practice: many state it, and nobody publishes it as a value.
	Practice Evidence = "practice"
	// Nothing: no value reaches the rule.
	Nothing Evidence = "none"
)

// Evidences are all of them, the best one first.
var Evidences = []Evidence{Printed, Worked, Memory, Simulated, Consistent, Practice, Nothing}

// CheckedRule is a quantity with a formula or a check, and the best evidence that would
// tell that it is wrong.
type CheckedRule struct {
	Name     string   `json:"name"` // kind.quantity or check.name
	Group    string   `json:"group"`
	Evidence Evidence `json:"evidence"`
	Reach    Reach    `json:"reach"`            // by values of that evidence
	File     string   `json:"file,omitempty"`   // where it is reached
	Because  string   `json:"source,omitempty"` // whom the rule itself goes back to
}

// ReadChecked reads what was found.
func ReadChecked(data []byte) (*Checked, error) {
	var c Checked
	if err := json.Unmarshal(data, &c); err != nil {
		return nil, fmt.Errorf("what was found of published values cannot be read: %w", err)
	}
	return &c, nil
}

// Count is how many rules have this as their best evidence, and how many of them are
// reached directly by it.
func (c *Checked) Count(e Evidence) (rules, directly int) {
	for _, r := range c.Rules {
		if r.Evidence == e {
			rules++
			if r.Reach == Direct {
				directly++
			}
		}
	}
	return rules, directly
}

// Values is how many values there are of some evidence, and from how many sources.
func (c *Checked) Values(of ...Evidence) (values, sources int) {
	for _, s := range c.Sources {
		if slices.Contains(of, s.Evidence) {
			values += len(s.Values)
			sources++
		}
	}
	return values, sources
}

// Of is how many rules of a group have this as their best evidence, and how many rules
// it has.
func (c *Checked) Of(group string, e Evidence) (n, all int) {
	for _, r := range c.Rules {
		if r.Group == group {
			all++
			if r.Evidence == e {
				n++
			}
		}
	}
	return n, all
}
