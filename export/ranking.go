package export

import "strings"

// ranking finds the places, best first, who is best and second, and what is
// said of them, a step in each row.
func (a *answer) ranking(checks *checkPage) {
	r := &a.rows
	a.row++
	a.s.text(a.row, labelCol, "How the places are found", Section)
	a.row++
	a.toMend()
	at := a.figureAt
	r.score = a.across("Figure of those that may win", Computed, a.pl.format(a.by), func(_ int, col string) string {
		return "IF(AND(" + col + number(float64(r.eligible)) + "," + at(r.wrong) + "=0)," + col + number(float64(r.figure)) + `,"")`
	})
	a.unitOf(r.score, a.pl.places[a.by])
	margin := a.across("What differs by less is level", Computed, "0E+00", func(_ int, col string) string {
		x := col + number(float64(r.score))
		return "IF(" + x + `="","",tolerance*ABS(` + x + "))"
	})
	a.unitOf(margin, a.pl.places[a.by])
	a.places(margin)
	ranks, scores, names := a.span(r.rank), a.span(r.score), a.span(r.head)
	r.best = a.single("Which of them is best", "IF(COUNT("+ranks+`)=0,"",MATCH(1,`+ranks+",0))", "0")
	r.second = a.single("Which is second", "IF(COUNT("+ranks+`)<=1,"",MATCH(INDEX(`+ranks+","+at(r.best)+")+1,"+ranks+",0))", "0")
	pick := func(label, of string, row int, format string) int {
		return a.single(label, "IF("+at(row)+`="","",INDEX(`+of+","+at(row)+"))", format)
	}
	r.bestName = pick("Its name", names, r.best, "")
	r.secondName = pick("Name of the second", names, r.second, "")
	r.bestFigure = pick("Its figure", scores, r.best, a.pl.format(a.by))
	second := pick("Figure of the second", scores, r.second, a.pl.format(a.by))
	a.unitOf(r.bestFigure, a.pl.places[a.by])
	a.unitOf(second, a.pl.places[a.by])
	r.lead = a.single("Lead over the second", "IF("+at(second)+`="","",IF(`+at(second)+`=0,"",ABS(`+at(second)+"-"+at(r.bestFigure)+")/ABS("+at(second)+")))", "0.0 %")
	a.said()
	if r.more > 0 {
		count := "Checks!" + cellName(checks.sum[a.k], checkItemCol)
		beyond := at(a.single("Checks not met beyond those in words above", "MAX(0,"+count+"-"+r.told+")", "0"))
		a.s.Set(r.more, labelCol, Cell{Style: Note, Formula: "IF(" + count + `=0,"None: every check is met or not applicable.",IF(` + beyond +
			`>0,"and "&` + beyond + `&" more, on the sheet Checks",""))`})
	}
}

// figureAt is the first cell of figures in a row.
func (a *answer) figureAt(row int) string {
	return "$" + columnName(itemCol) + "$" + number(float64(row))
}

// single draws a row with one figure, or with words where it has no format.
func (a *answer) single(label, form, format string) int {
	look := Computed
	if format == "" {
		look = Note
	}
	a.s.text(a.row, labelCol, label, Label)
	if to := a.links[a.row]; to != "" {
		a.s.Set(a.row, labelCol, Cell{Value: label, Style: Link, Link: to})
	}
	a.s.text(a.row, unitCol, numberWord, Unit)
	if look == Note {
		a.s.text(a.row, unitCol, "words", Unit)
	}
	a.s.Set(a.row, itemCol, Cell{Formula: form, Style: look, Format: format})
	a.row++
	return a.row - 1
}

// unitOf writes the unit of a line beside a row.
func (a *answer) unitOf(row int, l *line) { a.s.text(row, unitCol, unitWord(l), Unit) }

// said writes the sentence that matters most, and what is to be mended.
func (a *answer) said() {
	r, at := &a.rows, a.figureAt
	missing := a.single("Words if an input is missing", a.toMendSentence("Missing: ", r.missing, r.first), "")
	wrong := a.single("Words if one is not possible", a.toMendSentence("Not possible: ", r.wrong, r.wrong+1), "")
	best := a.recommendation()
	none := a.none()
	a.s.Set(r.sentence, labelCol, Cell{Formula: "IF(" + at(r.missing) + ">0," + at(missing) + ",IF(" + at(r.wrong) + ">0," + at(wrong) + ",IF(" +
		at(r.best) + `="",` + at(none) + "," + at(best) + ")))", Style: Lead})
	a.pl.warning = "IF(Answer!" + at(r.missing) + "+Answer!" + at(r.wrong) + ">0,Answer!$A$" + number(float64(r.sentence)) + `,"")`
	points := at(r.points)
	a.s.Set(r.sentence+1, labelCol, Cell{Style: Alert, Formula: "IF(" + points + `=0,"",` + points +
		`&IF(` + points + `=1," point of a table does"," points of tables do")&" not count: incomplete, or there twice (sheet Inputs).")`})
}

// toMend counts what is missing and what does not count on the page of inputs.
func (a *answer) toMend() {
	all := func(col int) string {
		c := limitsName + "!$" + columnName(col) + "$"
		return "SUM(" + c + number(float64(a.pl.mendFrom)) + ":$" + columnName(col) + "$" + number(float64(a.pl.mendTo)) + ")"
	}
	first := func(col int) string { return limitsName + "!" + cellName(a.pl.mendFrom, col) + `&""` }
	a.rows.missing = a.single("Inputs missing", all(lackCol), "0")
	a.rows.first = a.single("The first of them", first(lackWordsCol), "")
	a.rows.wrong = a.single("Inputs not possible", all(wrongCol), "0")
	a.single("The first of these", first(wrongWordsCol), "")
	a.rows.points = a.single("Points that do not count", all(pointsCol), "0")
}

// toMendSentence names the first input that is to be mended, and how many more
// there are.
func (a *answer) toMendSentence(word string, count, first int) string {
	n := a.figureAt(count)
	return quoteText(word) + "&" + a.figureAt(first) + `&IF(` + n + `>1,", and "&(` + n + `-1)&" more","")&" (sheet Inputs)."`
}

// span is a row of the comparison over all items.
func (a *answer) span(row int) string {
	n := number(float64(row))
	return "$" + columnName(itemCol) + n + ":$" + columnName(itemCol+len(a.k.Items)-1) + n
}

// places fills the row of places: how many are better, and how many of the same
// figure come before in the scenario. Figures within the tolerance are the same.
func (a *answer) places(margin int) {
	row, first := number(float64(a.rows.score)), columnName(itemCol)
	next := a.row
	a.row = a.rows.rank
	a.link(a.row, "Answer!"+cellName(a.rows.score, labelCol))
	a.across("Place", Total, "0", func(_ int, col string) string {
		x := col + row
		low, high := x+"-"+col+number(float64(margin)), x+"+"+col+number(float64(margin))
		before := "$" + first + row + ":" + x
		better := `">"&` + high
		if a.k.Compare.Lowest {
			better = `"<"&` + low
		}
		return "IF(" + x + `="","",COUNTIF(` + a.span(a.rows.score) + "," + better + ")+COUNTIFS(" + before + `,">="&` + low + "," + before + `,"<="&` + high + "))"
	})
	a.s.text(a.rows.rank, unitCol, numberWord, Unit)
	a.row = next
}

// recommendation is the row of the sentence on the best.
func (a *answer) recommendation() int {
	r, at := a.rows, a.figureAt
	word, under := "highest ", " above "
	if a.k.Compare.Lowest {
		word, under = "lowest ", " below "
	}
	unit := a.pl.unitName(a.by.Unit)
	if unit != "" {
		unit = " " + unit
	}
	lead := a.single("Words on the lead", "IF("+at(r.lead)+`="","",IF(`+at(r.lead)+`<=tolerance,", level with "&`+at(r.secondName)+
		`,", "&TEXT(`+at(r.lead)+`,"0.0 %")&`+quoteText(under)+"&"+at(r.secondName)+"))", "")
	figure := a.single("Words on its figure", quoteText(" has the "+word+a.byWords()+": ")+"&TEXT("+at(r.bestFigure)+`,"`+a.pl.format(a.by)+`")&`+quoteText(unit), "")
	return a.single("Words on the best", at(r.bestName)+"&"+at(figure)+"&"+at(lead)+`&"."`, "")
}

// none is the row that says why nothing is recommended.
func (a *answer) none() int {
	kind := strings.ReplaceAll(a.k.Name, "_", " ")
	figures := a.span(a.rows.figure)
	count := a.single("How many have a figure", "COUNT("+figures+")", "0")
	noFigure := a.single("Words if none has", quoteText("No "+kind+" has a figure: "+a.byWords()+" cannot be calculated from these inputs."), "")
	some := a.single("Words if some have none", "IF("+a.figureAt(count)+"<COLUMNS("+figures+`),", or has no figure","")`, "")
	each := quoteText("No "+kind+" can be recommended: each is stopped or unfit") + "&" + a.figureAt(some) + "&" + quoteText(", as the sheet Checks says.")
	return a.single("Words if none may win", "IF("+a.figureAt(count)+"=0,"+a.figureAt(noFigure)+","+each+")", "")
}

// byWords is the label of the figure that decides, as a sentence can hold it.
func (a *answer) byWords() string { return cut(lowerFirst(labelOf(a.by)), mostPlain) }
