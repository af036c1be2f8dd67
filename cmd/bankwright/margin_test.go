package main

import (
	"context"
	"testing"

	"bankwright/engine"
	"bankwright/engine/sweep"
)

func TestMarginScratch(t *testing.T) {
	m, list, _ := engine.Load(sources(""))
	if m == nil {
		t.Fatal(list)
	}
	best, _ := m.Compare().Best()
	for _, c := range []struct {
		cell      string
		low, high float64
	}{{"battery.oak.price", 100, 10000}, {"site.depth_of_discharge", 0.1, 1}} {
		cell, err := m.ParseCell(c.cell)
		if err != nil {
			t.Fatal(err)
		}
		before := cpu()
		ms, err := sweep.Margins(context.Background(), m.Program, m.Result, best.Item, []sweep.Range{{Cell: cell, Low: c.low, High: c.high}})
		t.Logf("%+v %v %v", ms, err, cpu()-before)
	}
	before := cpu()
	e, err := sweep.OneAtATime(context.Background(), m.Program, m.Result, best.Item, sweep.Around(m.Program, m.Result, 0.1))
	t.Log(len(e.All), err, cpu()-before, e.Figure, e.Lead)
	for _, x := range e.All[:12] {
		t.Logf("%s %v..%v: %.4f %.4f lead %.4f %.4f best %d %d", m.CellName(x.Cell), x.Low, x.High, x.FigureLow, x.FigureHigh, x.LeadLow, x.LeadHigh, x.BestLow, x.BestHigh)
	}
}
