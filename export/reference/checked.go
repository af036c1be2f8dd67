package reference

import (
	"encoding/json"
	"fmt"
	"math"
)

// Checked is what a run of published values through rules has found: each value
// beside the published one, and how far the rules are reached by them.
type Checked struct {
	Sources []CheckedSource `json:"sources"`
	Rules   []CheckedRule   `json:"rules"`
}

// CheckedSource is where values were published, and what the rules give instead.
type CheckedSource struct {
	Source string         `json:"source"`
	Status string         `json:"status"` // how far the publication was seen
	File   string         `json:"file"`   // the scenario that holds its figures
	Values []CheckedValue `json:"values"`
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

// Reach is how a rule is reached by published values.
type Reach string

const (
	// Direct: its own result is compared.
	Direct Reach = "direct"
	// Through: a published value is missed when its result is made another.
	Through Reach = "through"
	// Practice: it is reached by common practice only, which many state and nobody
	// publishes as a value.
	Practice Reach = "practice"
	// Unreached: no published value would tell.
	Unreached Reach = "none"
)

// CheckedRule is a quantity with a formula or a check, and whether published values
// would tell that it is wrong.
type CheckedRule struct {
	Name    string `json:"name"` // kind.quantity or check.name
	Group   string `json:"group"`
	Reach   Reach  `json:"reach"`
	File    string `json:"file,omitempty"`   // where it is reached
	Because string `json:"source,omitempty"` // whom the rule itself goes back to
}

// ReadChecked reads what was found.
func ReadChecked(data []byte) (*Checked, error) {
	var c Checked
	if err := json.Unmarshal(data, &c); err != nil {
		return nil, fmt.Errorf("what was found of published values cannot be read: %w", err)
	}
	return &c, nil
}

// Count is how many rules are reached so.
func (c *Checked) Count(how Reach) (n int) {
	for _, r := range c.Rules {
		if r.Reach == how {
			n++
		}
	}
	return n
}

// Values is how many published values there are.
func (c *Checked) Values() (n int) {
	for _, s := range c.Sources {
		n += len(s.Values)
	}
	return n
}

// Of is how many rules of a group are not reached, and how many it has.
func (c *Checked) Of(group string) (unreached, all int) {
	for _, r := range c.Rules {
		if r.Group == group {
			all++
			if r.Reach == Unreached {
				unreached++
			}
		}
	}
	return unreached, all
}
