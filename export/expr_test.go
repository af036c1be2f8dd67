package export

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"bankwright/engine/check"
	"bankwright/engine/decl"
)

// boxes declares what the formulas below are made of.
const boxes = `
title = "Boxes"
currency = "EUR"
standard_rules = false
[rules.kind.box]
many = "boxes"
[rules.kind.tag]
many = "tags"
[rules.kind.shop]
[rules.axis.year]
steps = 4
active = "shop.years"
[rules.table.size]
columns = { rating = "kg", price = "money", share = "%" }
rows = [[1, 2, 10], [5, 3, 20]]
source = "invented"
[rules.shop.years]
default = 3
[rules.shop.rate]
unit = "%"
default = "5 %"
[rules.constant.one_kg]
value = "1 kg"
[rules.tag.price]
unit = "money"
[rules.tag.tall]
type = "boolean"
default = false
[rules.tag.width]
unit = "mm"
optional = true
[rules.box.a]
default = 2
[rules.box.b]
default = 3
[rules.box.c]
default = 4
[rules.box.m]
unit = "kg"
default = "2 kg"
[rules.box.share]
unit = "%"
default = "50 %"
[rules.box.opt]
optional = true
[rules.box.other]
optional = true
[rules.box.yes]
type = "boolean"
default = true
[rules.box.no]
type = "boolean"
default = false
[rules.box.kind]
choices = ["oak", "ash"]
default = "oak"
[rules.box.warm]
unit = "°C"
default = "20 °C"
[rules.box.hot]
unit = "°F"
default = "80 °F"
[rules.box.tag]
refers = "tag"
[rules.box.spare]
refers = "tag"
optional = true
[rules.box.marks]
refers = "tag"
set = true
default = []
[rules.box.curve]
columns = { x = "1", y = "%" }
rows = 3
optional = true
[rules.box.yearly]
over = "year"
start = "a"
formula = "prev(yearly) * 2"
[tag.red]
price = "1 EUR"
[tag.blue]
price = "2 EUR"
[box.first]
tag = "red"
marks = ["red", "blue"]
[box.second]
tag = "blue"
`

// texts are formulas and what they become. In what is wanted, a name stands for
// the cell of the box's input, and «…» for a line of workings with that formula.
type texts []struct{ unit, formula, want string }

func (list texts) check(t *testing.T) {
	t.Helper()
	for _, c := range list {
		if got := translate(t, c.unit, c.formula); got != c.want {
			t.Errorf("%s\n  gives %s\n  want  %s", c.formula, got, c.want)
		}
	}
}

// TestTextsPrecedence: precedence: spreadsheets read -2^2 as 4 and 2^3^2 as 64.
func TestTextsPrecedence(t *testing.T) {
	texts{
		{"", "-a ** 2", "-(a^2)"},
		{"", "(-a) ** 2", "(-a)^2"},
		{"", "a ** b ** c", "a^(b^c)"},
		{"", "(a ** b) ** c", "(a^b)^c"},
		{"", "a ** -b", "a^(-b)"},
		{"", "a - (b - c)", "a-(b-c)"},
		{"", "a - b - c", "a-b-c"},
		{"", "a + (b + c)", "a+(b+c)"},
		{"", "a / (b * c)", "a/(b*c)"},
		{"", "(a + b) * c", "(a+b)*c"},
		{"", "a * -b", "a*(-b)"},
		{"", "-(a + b)", "-(a+b)"},
		{"", "1e-7 * a * 1500000", "1E-07*a*1500000"},
	}.check(t)
}

// TestTextsFactors: factors stand at the leaves, and the result is brought to its unit.
func TestTextsFactors(t *testing.T) {
	texts{
		{"", "share * a", "share*a/100"},
		{"", "a / share", "a/share*100"},
		{"%", "share", "share"},
		{"%", "a / b", "a/b*100"},
		{"%", "yes ? share : a", "IF(yes,share,a*100)"},
		{"", "shop.rate * a", "shop_rate*a/100"},
		{"kg", "m + one_kg", "m+one_kg"},
		{"K", "warm - hot", "warm-(hot-32)*5/9"},
		{"°F", "warm", "warm*9/5+32"},
	}.check(t)
}

// TestTextsComparisons: comparisons snap, but for those with 0.
func TestTextsComparisons(t *testing.T) {
	texts{
		{"boolean", "a <= b", "a<=b+tolerance*ABS(b)"},
		{"boolean", "a < 5", "a<5*(1-tolerance)"},
		{"boolean", "a >= b", "a>=b-tolerance*ABS(b)"},
		{"boolean", "a > b", "a>b+tolerance*ABS(b)"},
		{"boolean", "a == b", "ABS(a-b)<=tolerance*ABS(b)"},
		{"boolean", "a != b", "ABS(a-b)>tolerance*ABS(b)"},
		{"boolean", "a - b > 0", "a-b>0"},
		{"boolean", "a * b > c", "a*b>c+tolerance*ABS(c)"},
		{"boolean", `kind == "oak"`, `kind="oak"`},
		{"boolean", `kind != "oak"`, `kind<>"oak"`},
		{"boolean", "yes == no", "yes=no"},
		{"boolean", "yes == (a > 0)", "yes=(a>0)"},
	}.check(t)
}

// TestTextsLogic: logic stops where the left side decides, if the right may fail.
func TestTextsLogic(t *testing.T) {
	texts{
		{"boolean", "yes and no and a > 0", "AND(yes,no,a>0)"},
		{"boolean", "yes or not no", "OR(yes,NOT(no))"},
		{"boolean", "a > 0 and b / a > 0", "IF(a>0,b/a>0,FALSE)"},
		{"boolean", "a > 0 or b / a > 0", "IF(a>0,TRUE,b/a>0)"},
	}.check(t)
}

// TestTextsAbsence: absence spreads to what needs it, and no further.
func TestTextsAbsence(t *testing.T) {
	texts{
		{"", "opt", `IF(opt="","",opt)`},
		{"", "opt + other * opt", `IF(opt="","",IF(other="","",opt+other*opt))`},
		{"", "opt ?? a", `IF(opt="",a,opt)`},
		{"", "(opt ?? a) * 2", `IF(opt="",a,opt)*2`},
		{"", "opt ?? other", `IF(opt="",IF(other="","",other),opt)`},
		{"", "(opt ?? other) * 2", `IF(«IF(opt="",IF(other="","",other),opt)»="","",«IF(opt="",IF(other="","",other),opt)»*2)`},
		{"", "yes ? opt : a", `IF(yes,IF(opt="","",opt),a)`},
		{"", "opt > 0 ? a : b", `IF(opt="","",IF(opt>0,a,b))`},
		{"boolean", "yes and opt > 0", `IF(yes,IF(opt="","",opt>0),FALSE)`},
	}.check(t)
}

// TestTextsFunctions: functions, and workings that are needed in one arm only.
func TestTextsFunctions(t *testing.T) {
	texts{
		{"", "max(a, b, c)", "MAX(a,b,c)"},
		{"", "clamp(a + b, 0, c) * 2", "MIN(MAX(a+b,0),c)*2"},
		{"", "ceil(a / b)", "-INT(-(«a/b»-tolerance*MAX(1,ABS(«a/b»))))"},
		{"", "discount(shop.rate, a + 1)", "(1+(shop_rate/100))^(-(a+1))"},
		{"kg", "yes ? at_least(size.rating, m) : m", `IF(yes,SMALL(size_rating,1+COUNTIF(size_rating,"<"&m-tolerance*ABS(m))+0*m),m)`},
		{"", "normal_quantile(share)", "NORMSINV(share/100)"},
		{"", "t_probability(a, b)", "IF(a<0,«IF(a^2<4,0.5-BETADIST(a^2/(b+a^2),0.5,b/2)/2,BETADIST(b/(b+a^2),b/2,0.5)/2)»,1-«IF(a^2<4,0.5-BETADIST(a^2/(b+a^2),0.5,b/2)/2,BETADIST(b/(b+a^2),b/2,0.5)/2)»)"},
		{"", "len(size.rating)", "COUNT(size_rating)"},
		{"", "len(curve.x)", `IF(«IF(COUNT(C17:C19)<ROWS(«IF(«IF(COUNTA(Inputs!C24,Inputs!C27)=0,"",IF(«IF(AND(ISNUMBER(Inputs!C24),ISNUMBER(Inputs!C27)),Inputs!C24,"")»="","incomplete",IF(«0»>0,"twice","counts")))»="counts",«IF(AND(ISNUMBER(Inputs!C24),ISNUMBER(Inputs!C27)),Inputs!C24,"")»,"")»),"",SMALL(C17:C19,ROWS(«IF(«IF(COUNTA(Inputs!C24,Inputs!C27)=0,"",IF(«IF(AND(ISNUMBER(Inputs!C24),ISNUMBER(Inputs!C27)),Inputs!C24,"")»="","incomplete",IF(«0»>0,"twice","counts")))»="counts",«IF(AND(ISNUMBER(Inputs!C24),ISNUMBER(Inputs!C27)),Inputs!C24,"")»,"")»)))»="","",COUNT(C20:C22))`},
	}.check(t)
}

// TestTextsReferences: references: the position is found once, what it points to is pulled.
func TestTextsReferences(t *testing.T) {
	texts{
		{"money", "tag.price * a", "«INDEX(tag_price,«IFERROR(MATCH(tag,Inputs!$C$33:$D$33,0),1)»)»*a"},
		{"boolean", "tag.tall and yes", "AND(«INDEX(tag_tall,«IFERROR(MATCH(tag,Inputs!$C$33:$D$33,0),1)»)»,yes)"},
		{"money", "spare.price ?? 0", `IF(«IF(«IFERROR(MATCH(spare,Inputs!$C$33:$D$33,0),"")»="","",INDEX(tag_price,«IFERROR(MATCH(spare,Inputs!$C$33:$D$33,0),"")»))»="",0,«IF(«IFERROR(MATCH(spare,Inputs!$C$33:$D$33,0),"")»="","",INDEX(tag_price,«IFERROR(MATCH(spare,Inputs!$C$33:$D$33,0),"")»))»)`},
		{"money", "tags.blue.price", "Inputs!$D$34"},
	}.check(t)
}

// TestTextsAggregates: aggregates over items, sets and steps.
func TestTextsAggregates(t *testing.T) {
	texts{
		{"money", "sum(tags, .price)", "SUM(tag_price)"},
		{"money", "max(map(tags, .price))", "MAX(tag_price)"},
		{"", "count(tags, .tall)", "COUNTIF(tag_tall,TRUE)"},
		{"boolean", "all(tags, .tall)", "COUNTIF(tag_tall,FALSE)=0"},
		{"mm", "sum(tags, .width)", `IF(COUNT(tag_width)<COLUMNS(tag_width),"",SUM(tag_width))`},
		{"money", "sum(marks, .price)", "SUMPRODUCT(MMULT(tag_price,--Inputs!C22:C23))"},
		{"", "deviation(map(boxes, .a))", `IF(COUNT(box_a)<=1,"",STDEV(box_a))`},
		{"K", "deviation(map(boxes, .hot))", `IF(COUNT(box_hot)<=1,"",STDEV(box_hot)*5/9)`},
		{"", "deviation(yearly)", `IF(COUNT(Year!C8:C11)<=1,"",STDEV(Year!C8:C11))`},
		{"", "deviation(map(boxes, .opt))", `IF(COUNT(box_opt)<=1,"",IF(COUNT(box_opt)<COLUMNS(box_opt),"",STDEV(box_opt)))`},
		{"", "sum(yearly)", "SUM(Year!C8:C11)"},
		{"", "first(yearly)", "Year!C8"},
		{"", "last(yearly)", "INDEX(Year!C8:C11,MIN(ROWS(Year!C8:C11),INT(shop_years*(1+tolerance))))"},
	}.check(t)
}

// translate writes a formula of the first box out.
func translate(t *testing.T, unit, formula string) string {
	t.Helper()
	kind := "unit = \"" + unit + "\""
	switch unit {
	case "":
		kind = ""
	case "boolean":
		kind = "type = \"boolean\""
	}
	rule := "[rules.box.result]\n" + kind + "\nformula = '''" + formula + "'''\n"
	m := load(t, fstest.MapFS{"boxes.toml": {Data: []byte(strings.Replace(boxes, "[rules.box.yearly]", rule+"[rules.box.yearly]", 1))}}, "boxes.toml", nil)
	pl := plotBook(m, nil)
	if pl.fault != nil {
		t.Fatal(formula, pl.fault)
	}
	names := map[string]string{}
	for _, q := range m.Quantities {
		if l := pl.places[q]; q.Kind.Name == "box" && !q.IsRule() && l.rows == 1 {
			names["Inputs!"+cellName(l.row, l.col)] = q.Name
		}
	}
	return written(pl, pl.places[quantity(m.Program, "result")], names)
}

// written is the formula of the first item's cell of a line, cells of inputs
// under their names and those of workings written out.
func written(pl *plan, l *line, names map[string]string) string {
	text := l.page.sheet.At(l.row, l.col).Formula
	for _, other := range slices.Concat(l.page.lines, l.page.pulled, l.page.points) {
		if other != l && other.q == nil {
			name := cellName(other.row, other.col)
			text = replaceCell(text, name, func() string { return "«" + written(pl, other, names) + "»" })
		}
	}
	for c, name := range names {
		text = replaceCell(text, c, func() string { return name })
	}
	return text
}

// replaceCell replaces a cell's name that is not part of a longer one.
func replaceCell(text, name string, by func() string) string {
	var b strings.Builder
	for {
		i := strings.Index(text, name)
		if i < 0 {
			return b.String() + text
		}
		end := i + len(name)
		whole := (end == len(text) || text[end] != ':' && (text[end] < '0' || text[end] > '9')) &&
			(i == 0 || strings.IndexByte("$!:", text[i-1]) < 0 && (text[i-1] < 'A' || text[i-1] > 'Z'))
		b.WriteString(text[:i])
		if whole {
			b.WriteString(by())
		} else {
			b.WriteString(name)
		}
		text = text[end:]
	}
}

func quantity(p *check.Program, name string) *check.Quantity {
	for _, q := range p.Quantities {
		if q.Name == name && q.Type != decl.Set {
			return q
		}
	}
	return nil
}
