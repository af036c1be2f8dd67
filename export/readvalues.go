package export

import (
	"math"
	"regexp"
	"strings"

	"bankwright/engine/decl"
	"bankwright/engine/unit"
)

// valued looks for formulas where values are typed: of each the stored value is taken,
// which is told, but where it is a truth that its program stored as a formula. False where one
// has none.
func (t *typedCells) valued() bool {
	all := true
	for i, c := range t.now {
		_, broken := c.Value.(ErrorValue)
		switch {
		case !c.Formula || c.Truth || broken: // an error value is refused as what it is
		case c.Value == nil:
			t.refuse(i, "formula", "Type the value, or open and save the workbook in a spreadsheet program.", "%s is a formula here, without a stored value", t.name())
			all = false
		default:
			t.r.warn(t.at[i], "formula", "", "a formula stands here; its value %s is taken", content(c))
		}
	}
	return all
}

// scalar reads the number of a cell in the unit of the sheet; NaN where it is empty.
// False where it cannot be used, which is then told.
func (t *typedCells) scalar(i int, u unit.Unit) (float64, bool) {
	c := t.now[i]
	switch v := c.Value.(type) {
	case nil:
		return math.NaN(), true
	case bool:
		t.refuse(i, "wrong-type", t.old(i)+".", "%s is a number, not %s", t.name(), content(c))
	case ErrorValue:
		t.refuse(i, "number", "Type the value.", "%s has no value here: a formula gives %s", t.name(), v)
	case string:
		t.refuseText(i, v)
	case float64:
		switch {
		case c.Date:
			t.refuse(i, "wrong-type", "Set the cell's format to a number, and type it again.", "%s is a date or a time here: the program took what was typed for one", t.name())
		case c.Percent && u.Name == "%":
			return round15(100 * v), true // 80 % that was typed with its sign is stored as 0.8
		case c.Percent:
			t.refuse(i, "unit", "Set the cell's format to a number, and type it again without the sign.", "%s is a percentage here, and not a number in %s", t.name(), named(t.r.pl.unitName(u)))
		default:
			return v, true
		}
	}
	return 0, false
}

func named(u string) string {
	if u == "" {
		return "plain numbers"
	}
	return u
}

// thousands are numbers whose thousands are apart, and what stands behind them. Where a
// comma is not of these, nobody knows what it means: 0,5 is no 5.
var thousands = regexp.MustCompile(`^(-?[1-9]\d{0,2}(?:[,' \x{a0}]\d{3})+)(\.\d+|)((?:[^\d.,'].*)?)$`)

// refuseText tells of a text in the cell of a number.
func (t *typedCells) refuseText(i int, text string) {
	mend := t.old(i) + ": digits and a decimal sign alone."
	plain := strings.TrimSpace(text)
	if m := thousands.FindStringSubmatch(plain); m != nil {
		plain = strings.NewReplacer(",", "", "'", "", " ", "", "\u00a0", "").Replace(m[1]) + m[2] + m[3]
	}
	if v, _, err := unit.ParseValue(plain); err == nil {
		mend = "Type " + decl.Figure(v) + ": digits and a decimal sign alone. The unit stands beside it."
	}
	t.refuse(i, "wrong-type", mend, "%s is a number, but this is the text %q", t.name(), cut(text, 40))
}

// judged reports whether the rules allow a value; where not, or where it is unusual,
// that is told at its cell.
func (t *typedCells) judged(i int, read func(v *decl.Value) (float64, bool), u unit.Unit, x float64) bool {
	text := strings.TrimSpace(decl.Figure(x) + " " + strings.TrimPrefix(u.In(t.r.pl.prog.Model.Currency), "1"))
	_, ok := read(decl.ValueAt(t.r.pos(t.at[i]), text))
	t.faulty = t.faulty || !ok
	return ok
}

// signTyped warns of a small percentage: programs store 70 % as 0.7, and do not all
// show that the sign was typed.
func (t *typedCells) signTyped(i int, u unit.Unit, before, x float64) {
	if u.Name == "%" && math.Abs(x) <= 1 && x != 0 && !(math.Abs(before) <= 1) && !t.now[i].Percent {
		meant := t.r.pl.told15(u, round15(100*x))
		t.r.warn(t.at[i], "unusual", "Is that what you mean? Where it is "+meant+", type it without the sign.", "%s is %s: a program keeps that where %s is typed with its sign", t.name(), t.r.pl.told15(u, x), meant)
	}
}

// truth reads a cell that is true or false, NaN where it is empty.
func (t *typedCells) truth(i int) (float64, bool) {
	switch v := t.now[i].Value.(type) {
	case nil:
		return math.NaN(), true
	case bool:
		if v {
			return 1, true
		}
		return 0, true
	case float64:
		if v == 0 || v == 1 { // some programs store truths as numbers
			return v, true
		}
	}
	t.refuse(i, "wrong-type", "Choose TRUE or FALSE.", "%s is true or false, not %s", t.name(), content(t.now[i]))
	return 0, false
}
