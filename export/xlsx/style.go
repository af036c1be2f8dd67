package xlsx

import (
	"github.com/xuri/excelize/v2"

	"bankwright/export"
	"bankwright/export/picture"
)

// font is one that every machine has, or another with letters of the same widths
// (Liberation Sans), so that a page is as wide on all. Columns are counted in its digits,
// of the size of what stands in cells; a row is as high as a line of them.
const (
	font     = "Arial"
	fontSize = 10
	rowHigh  = 12.75
)

// face makes the font that of a file.
func face(f *excelize.File) error {
	if err := f.SetDefaultFont(font); err != nil {
		return err
	}
	*f.Styles.Fonts.Font[0].Sz.Val = fontSize
	return nil
}

// Colours of the palette of Okabe and Ito (Color Universal Design, 2008), which
// colour-blind readers tell apart, and pale tints of them for fills.
const (
	blue       = "0072B2" // heads
	vermillion = "D55E00" // stop
	orange     = "E69F00" // unfit
	green      = "009E73" // pass
	ink        = "1A1A1A"
	grey       = "666666"
	rule       = "BFBFBF"
	paleYellow = "FBF6CF" // inputs, of F0E442
	paleBlue   = "E3F1FA" // brought here, of 56B4E9
	paleRed    = "F9DFD0"
	paleOrange = "FBEBCB"
	paleGold   = "F8F4C4"
	paleGreen  = "D6EFE6"
	paleGrey   = "E8E8E8" // computed, not live
)

type styleKey struct {
	style  export.Style
	format string
	wraps  bool // it has room for several lines, whatever its look
	shrink bool // it has room for one, in smaller letters where it takes more
}

// style is the library's number for a look with a number format.
func (w *writer) style(key styleKey) (int, error) {
	if key == w.last && w.lastID > 0 { // as in the cell to the left
		return w.lastID, nil
	}
	if id, ok := w.styles[key]; ok {
		w.last, w.lastID = key, id
		return id, nil
	}
	st := look(key.style)
	if key.format != "" {
		format := key.format // of its own, so that a key asked for costs no memory
		st.CustomNumFmt = &format
	}
	st.Alignment.WrapText, st.Alignment.ShrinkToFit = (st.Alignment.WrapText || key.wraps) && !key.shrink, key.shrink
	id, err := w.f.NewStyle(st)
	w.styles[key] = id
	return id, err
}

// look is what a style looks like.
func look(s export.Style) *excelize.Style {
	st := &excelize.Style{Font: &excelize.Font{Family: font, Size: fontSize, Color: ink}, Alignment: &excelize.Alignment{Vertical: "center"}}
	switch s {
	case export.Title:
		st.Font.Size, st.Font.Bold, st.Font.Color = 16, true, blue
	case export.Heading:
		st.Font.Size, st.Font.Bold, st.Font.Color = 12, true, blue
	case export.Label, export.ComputedText:
		st.Alignment.WrapText = true
	case export.Section:
		st.Font.Bold = true
	case export.Head, export.HeadText:
		head(st, s == export.HeadText)
	case export.Unit, export.Note, export.Remark, export.Below:
		st.Font.Color = grey
		st.Alignment.WrapText = s == export.Remark
	case export.Input, export.InputText:
		st.Fill = fill(paleYellow)
		st.Border = []excelize.Border{{Type: "left", Color: rule, Style: 1}, {Type: "right", Color: rule, Style: 1}, {Type: "top", Color: rule, Style: 1}, {Type: "bottom", Color: rule, Style: 1}}
		st.Protection = &excelize.Protection{Locked: false}
	case export.Pulled, export.PulledText:
		st.Fill = fill(paleBlue)
		st.Alignment.WrapText = s == export.PulledText
	case export.Frozen, export.FrozenText:
		st.Font.Italic = true
		st.Fill = fill(paleGrey)
		st.Alignment.WrapText = s == export.FrozenText
	case export.FrozenWords:
		st.Font.Italic, st.Alignment.WrapText = true, true
		st.Fill = fill(paleGrey)
	case export.Words:
		st.Alignment.WrapText = true
	case export.Total, export.TotalText:
		st.Font.Bold = true
		st.Border = []excelize.Border{{Type: "top", Color: rule, Style: 1}}
	case export.Lead:
		st.Font.Size, st.Font.Bold = 12, true
	case export.Alert:
		st.Font.Bold, st.Font.Color = true, vermillion
	case export.Stopped:
		mark(st, vermillion, paleRed)
	case export.Unfit:
		mark(st, "7A4B00", paleOrange)
	case export.Cautioned:
		mark(st, "5A5300", paleGold)
	case export.Passed:
		mark(st, "00553E", paleGreen)
	case export.Link:
		st.Font.Color, st.Font.Underline = blue, "single"
	}
	if hue := s.Hue(); hue >= 0 || s == export.NoneWon {
		won(st, hue)
	}
	switch s {
	case export.Input, export.Computed, export.Pulled, export.Total, export.InputText, export.ComputedText, export.PulledText, export.Frozen, export.FrozenText, export.Published, export.Below:
		st.Alignment.Horizontal = "right"
	}
	return st
}

func head(st *excelize.Style, left bool) {
	st.Font.Bold, st.Font.Color = true, blue
	st.Border = []excelize.Border{{Type: "bottom", Color: rule, Style: 1}}
	st.Alignment.Horizontal, st.Alignment.WrapText = "right", !left
	if left {
		st.Alignment.Horizontal = "left"
	}
}

func mark(st *excelize.Style, text, ground string) {
	st.Font.Color = text
	st.Fill = fill(ground)
}

// won is the look of a cell of a map: a thin white line parts it from its neighbours,
// and its word stands in the middle.
func won(st *excelize.Style, hue int) {
	ground, letters := "FFFFFF", grey
	if hue >= 0 {
		ground, letters = picture.Area(hue)
	}
	mark(st, letters, ground)
	st.Alignment.Horizontal, st.Alignment.WrapText = "center", true
	for _, side := range []string{"left", "right", "top", "bottom"} {
		st.Border = append(st.Border, excelize.Border{Type: side, Color: "FFFFFF", Style: 1})
	}
}

func fill(color string) excelize.Fill {
	return excelize.Fill{Type: "pattern", Pattern: 1, Color: []string{color}}
}
