package export

import "strings"

// ranking finds the places, best first, who is best and second, and what is
// said of them.
func (a *answer) ranking() {
	n := func(r int) string { return number(float64(r)) }
	r := &a.rows
	a.row++
	a.s.text(a.row, labelCol, "How the places are found", Section)
	a.row++
	single := func(label, form, format string) int {
		a.s.text(a.row, labelCol, label, Label)
		a.s.Set(a.row, itemCol, Cell{Formula: form, Style: Computed, Format: format})
		a.row++
		return a.row - 1
	}
	a.toMend(single)
	wrong := columnName(itemCol) + n(r.wrong)
	r.score = a.across("Figure of those that may win", Computed, a.pl.format(a.by), func(_ int, col string) string {
		return "IF(AND(" + col + n(r.eligible) + ",$" + columnName(itemCol) + "$" + n(r.wrong) + "=0)," + col + n(r.figure) + `,"")`
	})
	a.places()
	c, ranks, scores := columnName(itemCol), a.span(r.rank), a.span(r.score)
	r.best = single("Which of them is best", "IF(COUNT("+ranks+`)=0,"",MATCH(1,`+ranks+",0))", "0")
	r.second = single("Which is second", "IF(COUNT("+ranks+`)<2,"",MATCH(2,`+ranks+",0))", "0")
	best := "INDEX(" + scores + "," + c + n(r.best) + ")"
	second := "INDEX(" + scores + "," + c + n(r.second) + ")"
	r.lead = single("Lead over the second", "IF("+c+n(r.second)+`="","",IF(`+second+`=0,"",ABS(`+second+"-"+best+")/ABS("+second+")))", "0.0 %")
	missing := columnName(itemCol) + n(r.missing)
	a.s.Set(r.sentence, labelCol, Cell{Formula: "IF(" + missing + ">0," + a.missingSentence() + ",IF(" + wrong + ">0," + a.wrongSentence() + "," + a.recommendation() + "))", Style: Lead})
	amiss := "Answer!$" + columnName(itemCol) + "$"
	a.pl.warning = "IF(" + amiss + n(r.missing) + "+" + amiss + n(r.wrong) + ">0,Answer!$A$" + n(r.sentence) + `,"")`
	points := columnName(itemCol) + n(r.points)
	a.s.Set(r.sentence+1, labelCol, Cell{Style: Alert, Formula: "IF(" + points + `=0,"",` + points +
		`&IF(` + points + `=1," point of a table on the sheet Inputs does"," points of tables on the sheet Inputs do")&" not count: incomplete, or there twice.")`})
}

// toMend counts what is missing and what does not count on the page of inputs.
func (a *answer) toMend(single func(label, form, format string) int) {
	all := func(col int) string {
		c := limitsName + "!$" + columnName(col) + "$"
		return "SUM(" + c + number(float64(a.pl.mendFrom)) + ":$" + columnName(col) + "$" + number(float64(a.pl.mendTo)) + ")"
	}
	first := func(col int) string { return limitsName + "!" + cellName(a.pl.mendFrom, col) + `&""` }
	a.rows.missing = single("Inputs missing", all(lackCol), "0")
	a.rows.first = single("The first of them", first(lackWordsCol), "")
	a.rows.wrong = single("Inputs not possible", all(wrongCol), "0")
	single("The first of these", first(wrongWordsCol), "")
	a.rows.points = single("Points that do not count", all(pointsCol), "0")
}

// wrongSentence names what is not possible.
func (a *answer) wrongSentence() string {
	c := columnName(itemCol)
	wrong, first := c+number(float64(a.rows.wrong)), c+number(float64(a.rows.wrong+1))
	return `"Not possible: "&` + first + `&IF(` + wrong + `>1,", and "&(` + wrong + `-1)&" more","")&" (sheet Inputs)."`
}

// missingSentence names what is missing.
func (a *answer) missingSentence() string {
	c := columnName(itemCol)
	missing, first := c+number(float64(a.rows.missing)), c+number(float64(a.rows.first))
	return `"Missing: "&` + first + `&IF(` + missing + `>1,", and "&(` + missing + `-1)&" more","")&" (sheet Inputs)."`
}

// span is a row of the comparison over all items.
func (a *answer) span(row int) string {
	n := number(float64(row))
	return "$" + columnName(itemCol) + n + ":$" + columnName(itemCol+len(a.k.Items)-1) + n
}

// places fills the row of places: how many are better, and how many of the same
// figure come before in the scenario. Figures within the tolerance are the same.
func (a *answer) places() {
	row, first := number(float64(a.rows.score)), columnName(itemCol)
	next := a.row
	a.row = a.rows.rank
	a.across("Place", Total, "0", func(_ int, col string) string {
		x := col + row
		low, high := x+"-tolerance*ABS("+x+")", x+"+tolerance*ABS("+x+")"
		scores := a.span(a.rows.score)
		before := "$" + first + row + ":" + x
		better := ">" + high
		if a.k.Compare.Lowest {
			better = "<" + low
		}
		return "IF(" + x + `="","",SUMPRODUCT(ISNUMBER(` + scores + ")*(" + scores + better + "))+SUMPRODUCT(ISNUMBER(" +
			before + ")*(" + before + ">=" + low + ")*(" + before + "<=" + high + ")))"
	})
	a.row = next
}

// recommendation is the live sentence that matters most.
func (a *answer) recommendation() string {
	n := func(r int) string { return number(float64(r)) }
	rows, c := a.rows, columnName(itemCol)
	row := func(r int, at int) string { return "INDEX(" + a.span(r) + "," + c + n(at) + ")" }
	word, under := "highest ", " above "
	if a.k.Compare.Lowest {
		word, under = "lowest ", " below "
	}
	label := lowerFirst(labelOf(a.by))
	unit := a.pl.unitName(a.by.Unit)
	if unit != "" {
		unit = " " + unit
	}
	figure := "TEXT(" + row(rows.score, rows.best) + `,"` + a.pl.format(a.by) + `")`
	second := row(rows.head, rows.second)
	lead := "IF(" + c + n(rows.lead) + `="","",IF(` + c + n(rows.lead) + `<=tolerance,", level with "&` + second +
		`,", "&TEXT(` + c + n(rows.lead) + `,"0.0 %")&` + quoteText(under) + "&" + second + "))"
	return "IF(" + c + n(rows.best) + `="",` + a.none() + "," + row(rows.head, rows.best) + "&" +
		quoteText(" has the "+word+label+": ") + "&" + figure + "&" + quoteText(unit) + "&" + lead + `&".")`
}

// none says why nothing is recommended.
func (a *answer) none() string {
	kind := strings.ReplaceAll(a.k.Name, "_", " ")
	figures := "COUNT(" + a.span(a.rows.figure) + ")"
	noFigure := quoteText("No " + kind + " has a figure: " + lowerFirst(labelOf(a.by)) + " cannot be calculated from these inputs.")
	each := quoteText("No "+kind+" can be recommended: each is stopped or unfit") + "&IF(" + figures + "<" + number(float64(len(a.k.Items))) +
		`,", or has no figure","")&` + quoteText(", as the sheet Checks says.")
	return "IF(" + figures + "=0," + noFigure + "," + each + ")"
}
