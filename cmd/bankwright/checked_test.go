package main

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/eval"
)

type rated struct{ direct, noticed, moved, read string }

func ruleName(q *check.Quantity) string {
	if q.Kind != nil && !strings.Contains(q.Name, "check.") {
		return q.Kind.Name + "." + q.Name
	}
	return q.Name
}

func TestExplore(t *testing.T) {
	all := map[string]*rated{}
	std := modelOf(t, "")
	var order []*check.Quantity
	for _, q := range std.Quantities {
		if q.Value != nil && strings.HasPrefix(q.At.File, "rules/") {
			all[nameOf(std, q)] = &rated{}
			order = append(order, q)
		}
	}
	files := outsideFiles(t)
	for _, file := range files {
		list, err := publishedIn(file)
		if err != nil {
			t.Fatal(err)
		}
		groups := map[string][]published{}
		for _, p := range list {
			k := strings.Join(p.with, "\n")
			groups[k] = append(groups[k], p)
		}
		for _, g := range groups {
			explore(t, all, file, modelWith(t, file, g[0].with), g)
		}
	}
	n, d, no, mv, rd := 0, 0, 0, 0, 0
	var lines []string
	for _, q := range order {
		r := all[nameOf(std, q)]
		n++
		switch {
		case r.direct != "":
			d++
		case r.noticed != "":
			no++
		case r.moved != "":
			mv++
		case r.read != "":
			rd++
		}
		state := "-"
		if r.direct != "" {
			state = "direct"
		} else if r.noticed != "" {
			state = "noticed"
		} else if r.moved != "" {
			state = "moved"
		} else if r.read != "" {
			state = "read"
		}
		lines = append(lines, fmt.Sprintf("%-8s %s:%-4d %s %s", state, filepath.Base(q.At.File), q.At.Line, nameOf(std, q), r.noticed+r.moved))
	}
	slices.SortStableFunc(lines, func(a, b string) int { return strings.Compare(strings.Fields(a)[1], strings.Fields(b)[1]) })
	os.WriteFile("/tmp/checked.txt", []byte(strings.Join(lines, "\n")), 0o644)
	t.Logf("%d rules, direct %d, noticed %d, moved %d, read %d, none %d", n, d, no, mv, rd, n-d-no-mv-rd)
}

func nameOf(m *engine.Model, q *check.Quantity) string {
	for _, c := range m.Checks {
		if c.Result == q {
			return "check." + c.Name
		}
	}
	return q.Kind.Name + "." + q.Name
}

func explore(t *testing.T, all map[string]*rated, file string, m *engine.Model, list []published) {
	var places []spot
	seen := map[eval.Cell]bool{}
	var queue []eval.Cell
	var tree []*check.Quantity
	inTree := map[*check.Quantity]bool{}
	for _, p := range list {
		at, err := spotOf(m, p)
		if err != nil {
			t.Fatal(err)
		}
		places = append(places, at)
		if !p.meets(at.in(m.Result)) {
			t.Errorf("%s: %s is %v", file, p.cell, at.in(m.Result))
		}
		if r := all[nameOf(m, at.Quantity)]; r != nil {
			r.direct = file
		}
		queue = append(queue, at.Cell)
	}
	for len(queue) > 0 {
		c := queue[0]
		queue = queue[1:]
		if seen[c] {
			continue
		}
		seen[c] = true
		if q := c.Quantity; !inTree[q] && q.Value != nil && strings.HasPrefix(q.At.File, "rules/") {
			inTree[q] = true
			tree = append(tree, q)
		}
		queue = append(queue, m.Result.Reads(c)...)
	}
	base := make([]float64, len(places))
	for i, at := range places {
		base[i] = at.in(m.Result)
	}
	runs := 0
	for _, q := range tree {
		r := all[nameOf(m, q)]
		if r == nil || r.noticed != "" {
			continue
		}
		r.read = file
		for _, factor := range []float64{1.1, 0.9} {
			was := q.Value
			q.Value = spoilt(was, factor, m)
			res := eval.Run(m.Program)
			runs++
			q.Value = was
			for i, at := range places {
				v := at.in(res)
				if !list[i].meets(v) {
					r.noticed = filepath.Base(file)
				}
				if !(math.Abs(v-base[i]) <= 1e-9*math.Abs(base[i])) {
					r.moved = filepath.Base(file)
				}
			}
			if r.noticed != "" {
				break
			}
		}
	}
	t.Logf("%s: tree %d, runs %d", file, len(tree), runs)
}

func spoilt(e *check.Expr, factor float64, m *engine.Model) *check.Expr {
	switch e.Type {
	case decl.Boolean:
		return &check.Expr{Op: check.Not, Type: decl.Boolean, Args: []*check.Expr{e}}
	case decl.Text:
		return &check.Expr{Op: check.Literal, Type: decl.Text, Num: 0}
	}
	return &check.Expr{Op: check.Mul, Type: decl.Number, Dim: e.Dim, Args: []*check.Expr{e, {Op: check.Literal, Type: decl.Number, Num: factor}}}
}
