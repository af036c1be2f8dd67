package calc

import (
	"math"
	"testing"

	"bankwright/engine/oracle"
)

// sheet is a workbook of one sheet, "S", for tests: formulas begin with =.
type sheet [][]any

func (s sheet) Sheet(name string) int {
	if name == "S" || name == "My sheet" {
		return 0
	}
	return -1
}

func (s sheet) Cell(_, row, col int) (string, any) {
	if row > len(s) || col > len(s[row-1]) {
		return "", nil
	}
	if f, ok := s[row-1][col-1].(string); ok && f != "" && f[0] == '=' {
		return f[1:], nil
	}
	return "", s[row-1][col-1]
}

func (s sheet) Name(name string) (string, bool) {
	if name == "rate" {
		return "S!$A$1", true
	}
	return "", false
}

var cells = sheet{
	{0.5, 2, 3, "oak", true},
	{1, 4, 9, "Ash", false},
	{nil, 5, "", "elm", true},
	{"=A6", "=B1+1", "=1/0", "=A1:B1"},
	{2, 1, 3},
	{"=A4"},
}

// The expected values are those of spreadsheet programs, from memory of the
// functions' published descriptions (ECMA-376, part 1, 18.17). The formulas of
// whole workbooks are held against LibreOffice in package export.
func TestFormulas(t *testing.T) {
	for _, c := range []struct {
		formula string
		want    any
	}{
		// A sign binds tighter than a power, and powers go from left to right.
		{"-2^2", 4.0}, {"2^3^2", 64.0}, {"2^-1", 0.5}, {"-(2^2)", -4.0}, {"10-4-3", 3.0}, {"8/4/2", 1.0}, {"2+3*4", 14.0}, {"--TRUE", 1.0},
		{"1=1", true}, {"1<>1", false}, {"2>=2", true}, {"2<1", false}, {"1+1=2", true}, {`"a"&"b"&1`, "ab1"}, {`"say ""so"""`, `say "so"`},
		{`"a"="A"`, true}, {`EXACT("a","A")`, false}, {`"1"=1`, false}, {`A3=""`, true}, {"A3=0", true}, {`C3=""`, true}, {`TRUE=""`, false}, {`"x">5`, true},
		{"A3+1", 1.0}, {"B1+B2", 6.0}, {"S!B1+'My sheet'!$B$2", 6.0}, {"rate*2", 1.0}, {"1.5E+03", 1500.0}, {"B4", 3.0},
		{"1/0", "#DIV/0!"}, {`""+1`, "#VALUE!"}, {"A4", "#CYCLE!"}, {"C4+1", "#DIV/0!"}, {"nothing", "#NAME?"}, {"X!A1", "#REF!"}, {"NONE(1)", "#NAME?"}, {"(1", "#NAME?"},
		{"IF(TRUE,1,1/0)", 1.0}, {"IF(FALSE,1/0,2)", 2.0}, {"IF(1/0,1,2)", "#DIV/0!"},
		{"AND(E1:E3)", false}, {"OR(E1:E3)", true}, {"AND(TRUE,1)", true}, {"OR(FALSE,1/0)", "#DIV/0!"}, {"AND(D1:D2)", "#VALUE!"}, {"NOT(FALSE)", true},
		{`SUBSTITUTE("a_b_c","_"," ")`, "a b c"}, {`SUBSTITUTE("ab","_"," ")`, "ab"}, {`LEN("größer")`, 6.0}, {"LEN(1/0)", "#DIV/0!"}, {`LEFT("größer",3)`, "grö"}, {`LEFT("ab",5)`, "ab"}, {`LEFT("ab",-1)`, "#VALUE!"},
		{"SUM(A1:C3)", 24.5}, {"SUM(B1:B2,5)", 11.0}, {"AVERAGE(B1:B3)", 11.0 / 3}, {"MIN(A1:C2)", 0.5}, {"MAX(C1:C3,2)", 9.0}, {"MAX(D1:D3)", 0.0}, {"SUM(C3:C4)", "#DIV/0!"},
		{"COUNT(A1:E3)", 7.0}, {"COUNTA(A1:A3)", 2.0}, {"COUNTIF(E1:E3,TRUE)", 2.0}, {`COUNTIF(B1:B3,">=4")`, 2.0}, {`COUNTIF(D1:D3,"ash")`, 1.0}, {`COUNTIF(B1:B3,"<="&B2)`, 2.0},
		{`SUMIF(B1:B2,">2",C1:C2)`, 9.0}, {`AVERAGEIF(B1:B2,">0",C1:C2)`, 6.0}, {`COUNTIFS(B1:B2,">1",E1:E2,TRUE)`, 1.0},
		{"SUMPRODUCT(B1:B2,C1:C2)", 42.0}, {"SUMPRODUCT((B1:B3>2)*(B1:B3<5))", 1.0}, {"SUMPRODUCT(MMULT(B1:C1,A1:A2))", 4.0}, {"SUMPRODUCT(MMULT(B1:C1,--E1:E2))", 2.0},
		{"SUMPRODUCT(ISNUMBER(C1:C3)*(C1:C3<5))", 1.0}, {"SUMPRODUCT((ABS(B1:B3-4)<0.1)*(ROW(B1:B3)-MIN(ROW(B1:B3))+1))", 2.0},
		{"SUM(COLUMN(B1:C1))", 5.0}, {"COLUMN(C3)", 3.0}, {`16-SUMPRODUCT(MAX((INDEX(A2:C3,2,0)="")*(16-COLUMN(A1:C1))))`, 1.0}, {"INDEX(B1:B3,2)", 4.0}, {"INDEX(B1:D1,3)", "oak"}, {"INDEX(B1:C3,2,2)", 9.0}, {"SUM(INDEX(B1:C2,0,2))", 12.0}, {"INDEX(B1:B3,4)", "#REF!"}, {"INDEX(INDEX(B1:C2,0,2),2)", 9.0}, {"ROWS(B1:B3)", 3.0}, {"COLUMNS(B1:D1)", 3.0},
		{`MATCH("ash",D1:D3,0)`, 2.0}, {"MATCH(4.5,B1:B3,1)", 2.0}, {`MATCH("x",D1:D3,0)`, "#N/A"}, {"NA()", "#N/A"},
		{"ABS(-2)", 2.0}, {"SQRT(9)", 3.0}, {"SQRT(-1)", "#NUM!"}, {"EXP(0)", 1.0}, {"LN(1)", 0.0}, {"INT(-1.5)", -2.0}, {"ROUND(2.5,0)", 3.0}, {"ROUND(-2.5,0)", -3.0}, {"ROUND(1.005,2)", 1.01},
		{"SMALL(A1:C3,1)", 0.5}, {"SMALL(A1:C3,4)", 3.0}, {"SMALL(B1:B3,4)", "#NUM!"}, {"SMALL(B4:C4,1)", "#DIV/0!"}, {"COUNTBLANK(A1:C3)", 2.0}, {"COUNTBLANK(B1:B3)", 0.0},
		{"ISERROR(C4)", true}, {"ISERROR(A1)", false}, {"IFERROR(C4,2)", 2.0}, {"IFERROR(B1,1/0)", 2.0}, {"IFERROR(A3,1)", 0.0},
		{"STDEV(B1:B3)", 1.5275252316519468}, {"STDEV(B1:B3,D1:E1)", 1.5275252316519468}, {"STDEV(B1)", "#DIV/0!"}, {"STDEV(C3:C4)", "#DIV/0!"}, {"SIGN(-3)", -1.0}, {"SIGN(A3)", 0.0}, {"SIGN(2)", 1.0},
		{"BETADIST(0.5,2,3)", 0.6875}, {"BETADIST(1,2,3)", 1.0}, {"BETADIST(2,2,3)", "#NUM!"}, {"BETADIST(0.5,0,3)", "#NUM!"}, {"BETADIST(0.5,D1,3)", "#VALUE!"}, {"BETADIST(0.5,2)", "#VALUE!"},
		{"BETAINV(0.6875,2,3)", 0.5}, {"BETAINV(1,2,3)", 1.0}, {"BETAINV(0,2,3)", "#NUM!"}, {"NORMSINV(0.975)", 1.959963984540054}, {"NORMSINV(0.5)", 0.0}, {"NORMSINV(1)", "#NUM!"},
		{"PV(0.05,2,1)", -1.8594104308390023}, {"PV(0,3,1)", -3.0},
		{"FIXED(1234.565,2)", "1,234.57"}, {"FIXED(-0.001,2)", "0.00"}, {`FIXED(0.125/1%,1)&" %"`, "12.5 %"}, {"FIXED(-0.5,0)", "-1"}, {"FIXED(1e6,0)", "1,000,000"}, {"FIXED(1250,-2)", "1,300"}, {`FIXED("x",1)`, "#VALUE!"}, {"FIXED(C4,1)", "#VALUE!"}, {"D4", "#VALUE!"},
	} {
		b := New(cells)
		if got := b.formula(c.formula, 0).Any(); got != c.want {
			x, isNumber := got.(float64)
			y, wantNumber := c.want.(float64)
			if !isNumber || !wantNumber || math.Abs(x-y) > 1e-14*math.Abs(y) {
				t.Errorf("%s = %v, want %v", c.formula, got, c.want)
			}
		}
	}
}

func FuzzFormula(f *testing.F) {
	for _, s := range []string{"-2^2", "IF(A1:B2,,)", "INDEX(B1:B3,-1)", "'x", `"`, "MMULT(A1)", "S!", "1E+", "$$1", "ROUND()"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		defer oracle.Within(t, oracle.Fuzzed)()
		if len(text) > 200 {
			return
		}
		if n, err := parse(text, 0, cells.Sheet); err == nil && n == nil {
			t.Error("nothing was read, without an error")
		}
	})
}
