package sweep

import (
	"context"

	"bankwright/engine/check"
	"bankwright/engine/eval"
	"bankwright/engine/sample"
)

// chunk is how many points of a design are computed before their answers are put
// together.
const chunk = 64

// chunks is how many chunks a replicate has.
func (w *draws) chunks() int { return (w.each + chunk - 1) / chunk }

// designed is how many points the shares take; none where they are not defined.
func (w *draws) designed() int {
	if w.ties != nil {
		return 0
	}
	return Replicates * w.chunks() * (len(w.inputs) + 2) * chunk
}

// shares finds the part of each input in the variance of the winner's figure and of
// its lead, from as many points as the doubt has: the model is computed once for
// each point and input, and twice more.
func shares(ctx context.Context, p *check.Program, base *eval.Result, w *draws, seed uint64, winner int, out *Doubted) error {
	k := len(w.inputs)
	var designs []*sample.Design
	for r := range Replicates {
		d, err := sample.NewDesign(k, w.ties, sample.Seed(seed, r))
		if err != nil {
			out.Unclear = err.Error()
			return nil
		}
		designs = append(designs, d)
	}
	chunks, sets := w.chunks(), k+2
	fill := func(cols [][]float64, first int) { w.design(designs, cols, first) }
	j := NewJudge(p, 0)
	total := w.designed()
	s, err := base.Sweep([]eval.Axis{{Inputs: w.inputs, Steps: total, Fill: fill}}, j.Want)
	if err != nil {
		return err
	}
	figure, lead := newGather(k), newGather(k)
	err = s.Run(ctx, 0, total, func(pts *eval.Points) error {
		w.meter.add(pts.N)
		for i := range pts.N {
			at := (pts.First + i) / chunk
			place := (pts.First + i) % chunk
			figure.put(at%sets, place, pts.At(j.Figure(winner), i))
			lead.put(at%sets, place, j.Lead(pts, winner, i))
			if at%sets == sets-1 && place == chunk-1 {
				figure.add(at / sets / chunks)
				lead.add(at / sets / chunks)
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	for i := range k {
		out.Shares = append(out.Shares, Share{figure.all.First(i), figure.all.Total(i), lead.all.First(i), lead.all.Total(i)})
	}
	return nil
}

// design enters the inputs of points first and following: by replicate, chunk, set and
// place in the chunk, the last fastest.
func (w *draws) design(designs []*sample.Design, cols [][]float64, first int) {
	var room [64][]float64
	chunks, sets := w.chunks(), len(w.inputs)+2
	for at := 0; at < len(cols[0]); {
		i, rest := (first+at)%chunk, (first+at)/chunk
		set, rest := rest%sets, rest/sets
		n := min(len(cols[0])-at, chunk-i)
		sub := room[:0]
		for _, c := range cols {
			sub = append(sub, c[at:at+n])
		}
		designs[rest/chunks].Fill(sub, set, uint64(rest%chunks*chunk+i))
		w.spread(sub)
		at += n
	}
}

// gather holds the answers to one chunk of a design over all its sets.
type gather struct {
	sets [][]float64
	all  *sample.Indices
}

func newGather(inputs int) *gather {
	g := &gather{all: sample.NewIndices(inputs, Replicates)}
	for range inputs + 2 {
		g.sets = append(g.sets, make([]float64, chunk))
	}
	return g
}

func (g *gather) put(set, place int, v float64) { g.sets[set][place] = v }

func (g *gather) add(replicate int) { g.all.Add(replicate, g.sets[0], g.sets[1], g.sets[2:]) }
