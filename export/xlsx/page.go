package xlsx

import (
	"strings"

	"github.com/xuri/excelize/v2"

	"bankwright/export"
)

// page sets up how a sheet is shown and printed.
func (w *writer) page(s *export.Sheet) error {
	fit, lines, below, wide, high, row := s.Print.Scale == 0, false, false, max(1, s.Print.Wide), s.Print.High, rowHigh
	if err := w.f.SetSheetProps(s.Name, &excelize.SheetPropsOptions{FitToPage: &fit, OutlineSummaryBelow: &below, DefaultRowHeight: &row}); err != nil {
		return err
	}
	if err := w.f.SetSheetView(s.Name, 0, &excelize.ViewOptions{ShowGridLines: &lines}); err != nil {
		return err
	}
	orientation, a4 := "portrait", 9
	if s.Print.Landscape {
		orientation = "landscape"
	}
	layout := &excelize.PageLayoutOptions{Size: &a4, Orientation: &orientation, FitToWidth: &wide, FitToHeight: &high}
	if !fit {
		scale := uint(s.Print.Scale)
		layout = &excelize.PageLayoutOptions{Size: &a4, Orientation: &orientation, AdjustTo: &scale}
	}
	if err := w.f.SetPageLayout(s.Name, layout); err != nil {
		return err
	}
	if err := w.margins(s); err != nil {
		return err
	}
	said := "&L" + coded(s.Print.Footer) + "&C&A&RPage &P of &N"
	header := ""
	if s.Print.Header != "" {
		header = "&L&B" + coded(s.Print.Header)
	}
	return w.f.SetHeaderFooter(s.Name, &excelize.HeaderFooterOptions{OddFooter: said, OddHeader: header})
}

// coded is a text as a header or a footer takes it.
func coded(s string) string { return strings.ReplaceAll(cut(clean(s), 120), "&", "&&") }

// margins sets those of a sheet: of 10 mm if nothing else is said, and below, where the
// footer stands, and above, where a header does, half as much again.
func (w *writer) margins(s *export.Sheet) error {
	const inch = 25.4 // mm
	wide := 10.0
	if s.Print.Margin > 0 {
		wide = float64(s.Print.Margin)
	}
	side, top, below, foot := wide/inch, wide/inch, 1.5*wide/inch, 0.6*wide/inch
	if s.Print.Header != "" {
		top = below
	}
	return w.f.SetPageMargins(s.Name, &excelize.PageLayoutMarginsOptions{Left: &side, Right: &side, Top: &top, Bottom: &below, Header: &foot, Footer: &foot})
}

func panes(s *export.Sheet) *excelize.Panes {
	p := &excelize.Panes{Freeze: true, XSplit: s.FreezeCols, YSplit: s.FreezeRows, ActivePane: "bottomRight"}
	p.TopLeftCell, _ = excelize.CoordinatesToCellName(s.FreezeCols+1, s.FreezeRows+1)
	switch {
	case s.FreezeCols == 0:
		p.ActivePane = "bottomLeft"
	case s.FreezeRows == 0:
		p.ActivePane = "topRight"
	}
	return p
}
