package export

import (
	"strings"

	"bankwright/export/told"
)

// ranking finds the places, best first, who is best and second, and what is
// said of them, a step in each row.
func (w *workings) ranking() {
	r := &w.rows
	w.row++
	w.s.text(w.row, labelCol, "How the places are found", Section)
	w.row++
	w.toMend()
	at := w.figureAt
	r.score = w.across("Figure of those that may win", Computed, w.pl.format(w.by), func(_ int, col string) string {
		return "IF(AND(" + col + number(float64(r.eligible)) + "," + at(r.wrong) + "=0)," + col + number(float64(r.figure)) + `,"")`
	})
	w.unitOf(r.score, w.pl.places[w.by])
	margin := w.across("What differs by less is level", Computed, "0E+00", func(_ int, col string) string {
		x := col + number(float64(r.score))
		return "IF(" + x + `="","",tolerance*ABS(` + x + "))"
	})
	w.unitOf(margin, w.pl.places[w.by])
	w.places(margin)
	ranks, scores, names := w.span(r.rank), w.span(r.score), w.span(r.head)
	r.best = w.single("Which of them is best", "IF(COUNT("+ranks+`)=0,"",MATCH(1,`+ranks+",0))", "0")
	r.second = w.single("Which is second", "IF(COUNT("+ranks+`)<=1,"",MATCH(INDEX(`+ranks+","+at(r.best)+")+1,"+ranks+",0))", "0")
	pick := func(label, of string, row int, format string) int {
		return w.single(label, "IF("+at(row)+`="","",INDEX(`+of+","+at(row)+"))", format)
	}
	r.bestName = pick("Its name", names, r.best, "")
	r.secondName = pick("Name of the second", names, r.second, "")
	r.bestFigure = pick("Its figure", scores, r.best, w.pl.format(w.by))
	second := pick("Figure of the second", scores, r.second, w.pl.format(w.by))
	w.unitOf(r.bestFigure, w.pl.places[w.by])
	w.unitOf(second, w.pl.places[w.by])
	gap := "ABS(" + at(second) + "-" + at(r.bestFigure) + ")"
	r.lead = w.single("How far it lies from the best", "IF("+at(second)+`="","",IF(`+gap+"=0,0,IF("+at(r.bestFigure)+`=0,"",`+gap+"/ABS("+at(r.bestFigure)+"))))", "0.0 %")
	w.said()
}

// said makes the sentence that matters most, and what is to be mended.
func (w *workings) said() {
	r, at := &w.rows, w.figureAt
	missing := w.single("Words if an input is missing", w.toMendSentence("Missing: ", r.missing, r.first), "")
	wrong := w.single("Words if one is not possible", w.toMendSentence("Not possible: ", r.wrong, r.wrong+1), "")
	best := w.recommendation()
	none := w.none()
	r.sentence = w.single("The sentence of the first sheet", "IF("+at(r.missing)+">0,"+at(missing)+",IF("+at(r.wrong)+">0,"+at(wrong)+",IF("+
		at(r.best)+`="",`+at(none)+","+at(best)+")))", "")
	points := at(r.points)
	r.pointWords = w.single("Words if points do not count", "IF("+points+`=0,"",`+points+
		`&IF(`+points+`=1," point of a table does"," points of tables do")&" not count: incomplete, or there twice (sheet Inputs).")`, "")
	if r.stops > 0 {
		r.beyond = w.single("Checks not met beyond those told on the first sheet", "", "0")
		r.rest = w.single("Words on them", "", "")
	}
	if w.pl.stale != "" {
		r.stale = w.single("Words if computed figures are of other inputs", w.pl.stale, "")
	}
	w.pl.warning = "IF(" + workingsName + "!" + at(r.missing) + "+" + workingsName + "!" + at(r.wrong) + ">0," + workingsName + "!" + at(r.sentence) + `,"")`
}

// toMend counts what is missing and what does not count on the page of inputs.
func (w *workings) toMend() {
	all := func(col int) string {
		c := limitsName + "!$" + columnName(col) + "$"
		return "SUM(" + c + number(float64(w.pl.mendFrom)) + ":$" + columnName(col) + "$" + number(float64(w.pl.mendTo)) + ")"
	}
	first := func(col int) string { return limitsName + "!" + cellName(w.pl.mendFrom, col) + `&""` }
	w.rows.missing = w.single("Inputs missing", all(lackCol), "0")
	w.rows.first = w.single("The first of them", first(lackWordsCol), "")
	w.single("Its cell on the sheet "+w.pl.inputs.name, first(lackCellCol), "")
	w.rows.wrong = w.single("Inputs not possible", all(wrongCol), "0")
	w.single("The first of these", first(wrongWordsCol), "")
	w.single("The cell of it", first(wrongCellCol), "")
	w.rows.points = w.single("Points that do not count", all(pointsCol), "0")
}

// toMendSentence names the first input that is to be mended, its cell, which stands in the
// row below the name, and how many more there are.
func (w *workings) toMendSentence(word string, count, first int) string {
	n := w.figureAt(count)
	return quoteText(word) + "&" + w.figureAt(first) + `&" (sheet Inputs, cell "&` + w.figureAt(first+1) + `&")"&IF(` + n + `>1,", and "&(` + n + `-1)&" more","")&"."`
}

// places fills the row of places: how many are better, and how many of the same
// figure come before in the scenario. Figures within the tolerance are the same.
func (w *workings) places(margin int) {
	row, first := number(float64(w.rows.score)), columnName(itemCol)
	next := w.row
	w.row = w.rows.rank
	w.link(w.row, workingsName+"!"+cellName(w.rows.score, labelCol))
	w.across("Place", Total, "0", func(_ int, col string) string {
		x := col + row
		low, high := x+"-"+col+number(float64(margin)), x+"+"+col+number(float64(margin))
		before := "$" + first + row + ":" + x
		better := `">"&` + high
		if w.k.Compare.Lowest {
			better = `"<"&` + low
		}
		return "IF(" + x + `="","",COUNTIF(` + w.span(w.rows.score) + "," + better + ")+COUNTIFS(" + before + `,">="&` + low + "," + before + `,"<="&` + high + "))"
	})
	w.s.text(w.rows.rank, unitCol, numberWord, Unit)
	w.row = next
}

// recommendation is the row of the sentence on the best.
func (w *workings) recommendation() int {
	r, at := w.rows, w.figureAt
	word, side := "highest ", " below"
	if w.k.Compare.Lowest {
		word, side = "lowest ", " above"
	}
	unit := w.pl.unitName(w.by.Unit)
	if unit != "" {
		unit = " " + unit
	}
	name, far := at(r.secondName), at(r.lead)
	apart := w.single("Words on the distance", "IF("+far+`="","",IF(`+far+`<=tolerance,", level with "&`+name+`,"; "&`+name+`&" lies "&`+percent(far, side)+"))", "")
	second := w.single("Words on the second", "IF("+name+`="","",IF(`+far+`="","; "&`+name+`&" comes next",`+at(apart)+"))", "")
	extreme, beyond := "MAX", ">"
	if w.k.Compare.Lowest {
		extreme, beyond = "MIN", "<-"
	}
	best := at(r.bestFigure)
	among := w.single("Words if one that is out has a better figure", "IF("+best+`="","",IF(`+extreme+"("+w.span(r.figure)+")-"+best+beyond+
		"tolerance*ABS("+best+"),"+quoteText(told.Among)+`,""))`, "")
	decimals := w.given("Decimals of its figure", w.pl.decimals(w.by))
	figure := w.single("Words on its figure", "IF("+best+`="","",`+quoteText(" has the "+word+w.byWords())+"&"+at(among)+`&": "&FIXED(`+best+","+at(decimals)+")&"+quoteText(unit)+")", "")
	return w.single("Words on the best", at(r.bestName)+"&"+at(figure)+"&"+at(second)+`&"."`, "")
}

// percent is a share as per cent with a decimal, and words behind it, in a formula. The
// program that opens the workbook knows how decimals are written in its language.
func percent(share, words string) string { return "FIXED(" + share + "/1%,1)&" + quoteText(" %"+words) }

// none is the row that says why nothing is recommended.
func (w *workings) none() int {
	kind := strings.ReplaceAll(w.k.Name, "_", " ")
	figures := w.span(w.rows.figure)
	count := w.single("How many have a figure", "COUNT("+figures+")", "0")
	noFigure := w.single("Words if none has", quoteText("No "+kind+" has a figure: "+w.byWords()+" cannot be calculated from these inputs."), "")
	some := w.single("Words if some have none", "IF("+w.figureAt(count)+"<COLUMNS("+figures+`),", or has no figure","")`, "")
	each := quoteText("No "+kind+" can be recommended: each is stopped or unfit") + "&" + w.figureAt(some) + "&" + quoteText(", as the sheet Checks says.")
	return w.single("Words if none may win", "IF("+w.figureAt(count)+"=0,"+w.figureAt(noFigure)+","+each+")", "")
}

// byWords is the label of the figure that decides, as a sentence can hold it.
func (w *workings) byWords() string { return cut(lowerFirst(labelOf(w.by)), mostPlain) }
