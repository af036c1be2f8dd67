package formula

import (
	"errors"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"github.com/expr-lang/expr/ast"
	"github.com/expr-lang/expr/file"
	"github.com/expr-lang/expr/parser"
)

// Limits of a formula. They are far beyond anything readable, and keep the
// parser, which recurses, from being exhausted by a hostile file.
const (
	MaxLength = 4096 // bytes
	MaxDepth  = 64   // open brackets, and signs in a row
	MaxNodes  = 500
)

// Problem is why a formula cannot be used: a sentence, the mend, and the place
// in the text.
type Problem struct {
	At   Span
	Text string
	Mend string
}

// Parse reads a formula. It reports the first syntax error that expr's parser
// finds, or every construct outside the subset.
func Parse(src string) (*Node, []*Problem) {
	if p := bounded(src); p != nil {
		return nil, []*Problem{p}
	}
	tree, err := parser.Parse(src)
	if err != nil {
		return nil, []*Problem{syntaxProblem(src, err)}
	}
	r := reader{length: utf8.RuneCountInString(src)}
	n := r.read(tree.Node)
	if len(r.problems) > 0 {
		return nil, r.problems
	}
	count := 0
	n.Walk(func(*Node) { count++ })
	if count > MaxNodes {
		return nil, []*Problem{{At: n.At, Text: fmt.Sprintf("the formula has %d parts, more than the %d that are read", count, MaxNodes), Mend: "Split it into several quantities with names of their own."}}
	}
	return n, nil
}

// bounded refuses what could exhaust the parser before it sees the text.
func bounded(src string) *Problem {
	whole := Span{0, utf8.RuneCountInString(src)}
	if strings.TrimSpace(src) == "" {
		return &Problem{whole, "the formula is empty", "Write an expression, such as \"price * count\"."}
	}
	if len(src) > MaxLength {
		return &Problem{Span{0, 1}, fmt.Sprintf("the formula is %d bytes long, more than the %d that are read", len(src), MaxLength), "Split it into several quantities with names of their own."}
	}
	if !utf8.ValidString(src) {
		return &Problem{Span{0, 1}, "the formula is not valid UTF-8 text", ""}
	}
	depth, signs := 0, 0
	for i, c := range []rune(src) {
		switch c {
		case '(', '[', '{':
			depth++
		case ')', ']', '}':
			depth--
		case '-', '+', '!', '~':
			signs++
		case ' ', '\t', '\n', '\r':
			continue
		default:
			signs = 0
		}
		if depth > MaxDepth || signs > MaxDepth {
			return &Problem{Span{i, 1}, fmt.Sprintf("the formula nests deeper than %d levels here", MaxDepth), "Split it into several quantities with names of their own."}
		}
	}
	return nil
}

var (
	tokenText  = regexp.MustCompile(`^unexpected token (\w+)(?:\((.*)\))?$`)
	eachDirect = regexp.MustCompile(`\b(min|max|mean|deviation)\(\s*([\w.]+)\s*,\s*[^)]*\.`)
)

// syntaxProblem rewords an error of expr's parser.
func syntaxProblem(src string, err error) *Problem {
	var e *file.Error
	if !errors.As(err, &e) {
		return &Problem{Span{0, utf8.RuneCountInString(src)}, "the formula cannot be read", ""}
	}
	p := &Problem{At: Span{e.From, max(1, e.To-e.From)}, Text: "the formula cannot be read here: " + e.Message}
	m := tokenText.FindStringSubmatch(e.Message)
	switch {
	case m == nil:
	case m[1] == "EOF":
		p.Text = "the formula ends too early: something is missing at its end"
		p.At = Span{max(0, utf8.RuneCountInString(src)-1), 1}
	case m[2] != "":
		p.Text = fmt.Sprintf("%s is not expected here", m[2])
	}
	if f := eachDirect.FindStringSubmatch(src); f != nil {
		p.Text = fmt.Sprintf("%s over items is written with map", f[1])
		p.Mend = fmt.Sprintf("Write %s(map(%s, ...)).", f[1], f[2])
	} else if strings.Contains(src, "=") && strings.Contains(e.Message, `"="`) {
		p.Mend = "Write == to compare; a formula does not assign."
	} else if strings.Contains(e.Message, `"."`) {
		p.Mend = "A name with a dot in front belongs inside sum, count, any, all or map."
	} else if strings.Contains(e.Message, `","`) {
		p.Mend = "Write decimals with a point."
	} else if strings.Contains(e.Message, `"%"`) {
		p.Mend = "Write shares as values with the unit %, outside formulas."
	}
	return p
}

// reader turns expr's tree into ours and notes what is outside the subset.
type reader struct {
	length   int
	problems []*Problem
}

func (r *reader) refuse(at Span, mend, format string, args ...any) *Node {
	r.problems = append(r.problems, &Problem{at, fmt.Sprintf(format, args...), mend})
	return &Node{Kind: Number, At: at}
}

func (r *reader) read(n ast.Node) *Node {
	at := Span{n.Location().From, max(1, n.Location().To-n.Location().From)}
	switch n := n.(type) {
	case *ast.IntegerNode:
		return &Node{Kind: Number, At: at, Num: float64(n.Value)}
	case *ast.FloatNode:
		return &Node{Kind: Number, At: at, Num: n.Value}
	case *ast.BoolNode:
		b := &Node{Kind: Truth, At: at}
		if n.Value {
			b.Num = 1
		}
		return b
	case *ast.StringNode:
		return &Node{Kind: Text, At: at, Text: n.Value}
	case *ast.IdentifierNode, *ast.MemberNode:
		return r.name(n, at)
	case *ast.UnaryNode:
		return r.unary(n, at)
	case *ast.BinaryNode:
		return r.binary(n, at)
	case *ast.ConditionalNode:
		args := r.all([]ast.Node{n.Cond, n.Exp1, n.Exp2})
		return &Node{Kind: Cond, At: args[0].At.To(args[2].At), Args: args}
	case *ast.BuiltinNode:
		return r.call(n.Name, n.Arguments, at)
	case *ast.CallNode:
		if id, ok := n.Callee.(*ast.IdentifierNode); ok {
			return r.call(id.Value, n.Arguments, at)
		}
		return r.refuse(at, "Call a function by its plain name.", "only named functions can be called")
	case *ast.NilNode:
		return r.refuse(at, "An optional input is given a replacement with ??, as in (discount ?? 0).", "nil has no place in a formula")
	case *ast.PointerNode:
		return r.refuse(at, "Write .name for a quantity of the item.", "an item itself is not a value")
	case *ast.ArrayNode, *ast.MapNode, *ast.SliceNode:
		return r.refuse(at, "Put several values into a table or a series.", "lists and maps have no place in a formula")
	}
	return r.refuse(at, "Formulas use arithmetic, comparisons, and/or/not, ?:, ?? and the listed functions.", "this is outside what formulas may say")
}

func (r *reader) all(nodes []ast.Node) []*Node {
	args := make([]*Node, len(nodes))
	for i, n := range nodes {
		args[i] = r.read(n)
	}
	return args
}

// name reads a, a.b, .a, .a.b.
func (r *reader) name(n ast.Node, at Span) *Node {
	switch n := n.(type) {
	case *ast.IdentifierNode:
		return &Node{Kind: Name, At: Span{at.Start, utf8.RuneCountInString(n.Value)}, Path: []string{n.Value}}
	case *ast.PointerNode:
		if n.Name == "" {
			return &Node{Kind: Name, At: Span{at.Start, 1}, Dot: true}
		}
	case *ast.MemberNode:
		prop, ok := n.Property.(*ast.StringNode)
		if !ok || n.Optional {
			return r.refuse(at, "A step of a series is reached with prev, first or last; an item by its name.", "only plain names can follow a dot")
		}
		base := r.name(n.Node, Span{n.Node.Location().From, 1})
		if base.Kind != Name {
			return base
		}
		end := Span{prop.Location().From, utf8.RuneCountInString(prop.Value)}
		return &Node{Kind: Name, At: base.At.To(end), Dot: base.Dot, Path: append(base.Path, prop.Value)}
	}
	return r.refuse(at, "A path is made of names with dots between.", "only names can be followed by a dot")
}

func (r *reader) unary(n *ast.UnaryNode, at Span) *Node {
	arg := r.read(n.Node)
	at = at.To(arg.At)
	switch n.Operator {
	case "+":
		return arg
	case "-":
		return &Node{Kind: Unary, Op: "-", At: at, Args: []*Node{arg}}
	case "!", "not":
		return &Node{Kind: Unary, Op: "not", At: at, Args: []*Node{arg}}
	}
	return r.refuse(at, "", "the operator %s is outside what formulas may say", n.Operator)
}

var operators = map[string]string{
	"+": "+", "-": "-", "*": "*", "/": "/", "**": "**", "^": "**", "==": "==", "!=": "!=",
	"<": "<", "<=": "<=", ">": ">", ">=": ">=", "and": "and", "&&": "and", "or": "or", "||": "or", "??": "??",
}

func (r *reader) binary(n *ast.BinaryNode, at Span) *Node {
	op, ok := operators[n.Operator]
	if !ok {
		mend := "Write text comparisons with == and !=."
		if n.Operator == "%" {
			mend = "For the remainder write a - floor(a / b) * b; for a share use a value with the unit %."
		}
		return r.refuse(at, mend, "the operator %s is outside what formulas may say", n.Operator)
	}
	args := r.all([]ast.Node{n.Left, n.Right})
	return &Node{Kind: Binary, Op: op, At: args[0].At.To(args[1].At), Args: args}
}

// call reads f(x, …), and aggregates with a body: sum(xs, body) and
// max(map(xs, body)).
func (r *reader) call(name string, argv []ast.Node, at Span) *Node {
	at.Len = max(at.Len, utf8.RuneCountInString(name))
	if len(argv) == 2 {
		if pred, ok := argv[1].(*ast.PredicateNode); ok {
			if name == "map" {
				return r.refuse(at, "Write it inside min, max or mean: max(map(items, .x)).", "map alone gives a list, not a value")
			}
			return r.each(name, argv[0], pred, at)
		}
	}
	if len(argv) == 1 {
		if m, ok := argv[0].(*ast.BuiltinNode); ok && m.Name == "map" && len(m.Arguments) == 2 {
			if pred, ok := m.Arguments[1].(*ast.PredicateNode); ok {
				return r.each(name, m.Arguments[0], pred, at)
			}
		}
	}
	args := r.all(argv)
	for _, a := range args {
		at = at.To(a.At)
	}
	return &Node{Kind: Call, Text: name, At: r.closed(at), Args: args}
}

func (r *reader) each(name string, over ast.Node, pred *ast.PredicateNode, at Span) *Node {
	xs, body := r.read(over), r.read(pred.Node)
	return &Node{Kind: Each, Text: name, At: r.closed(at.To(xs.At).To(body.At)), Args: []*Node{xs, body}}
}

// closed takes in the closing bracket of a call.
func (r *reader) closed(at Span) Span {
	at.Len = min(at.Len+1, r.length-at.Start)
	return at
}
