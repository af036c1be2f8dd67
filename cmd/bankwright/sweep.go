package main

import (
	"slices"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"

	"bankwright/engine"
	"bankwright/engine/check"
	"bankwright/engine/decl"
	"bankwright/engine/unit"
	"bankwright/export/gridfile"
	"bankwright/export/picture"
	"bankwright/export/text"
)

// sweeping is a command line of sweep.
type sweeping struct {
	file    string
	names   []string
	vary    []string
	show    []string
	matters bool
	by      string
	samples int
	seed    int
	output  string
	part    string
	plot    string
	force   bool
	all     bool
	watch   bool
	json    bool

	last map[string]string // what was shown of each study on the last save; nil: nothing yet

	share   float64         // what by means
	format  gridfile.Format // of output
	piece   gridfile.Part   // what part means
	picture picture.Format  // of plot
	set     func(flag string) bool
}

func (a *app) sweep() *cobra.Command {
	s := &sweeping{}
	cmd := &cobra.Command{
		Use:   "sweep [FILE] [NAME...]",
		Short: "show how the ranking moves with the inputs, and how sure it is",
		Long: "Shows what becomes of the comparison when inputs move: the sweeps, doubts and\n" +
			"break-evens of a scenario, then what matters most when each input alone is\n" +
			"moved. With NAMEs, only those studies; a name that several share is written\n" +
			"sweep.NAME, doubt.NAME or break_even.NAME. FILE is a scenario; without it, the\n" +
			"built-in example.\n\n" +
			"AXIS is an input and its values: battery.oak.price='800 USD..1300 USD/21' (so\n" +
			"many values), '…/step 25 USD', '800 USD,900 USD' or, of one or several inputs,\n" +
			"'by 80 %,120 %'.",
		Example: "  bankwright sweep\n  bankwright sweep cabin.toml --matters --by 20%\n  bankwright sweep price_and_depth\n" +
			"  bankwright sweep cabin.toml --vary site.depth_of_discharge=60%..90%/31",
		Args:              noneEmpty,
		ValidArgsFunction: fileThen(0, studyNames),
		RunE: func(cmd *cobra.Command, args []string) error {
			s.json = a.json
			s.set = cmd.Flags().Changed
			if err := s.read(cmd, args); err != nil {
				return err
			}
			return a.onSave(s.watch, s.file, func(before *engine.Model) (*engine.Model, error) { return a.sweepFile(s, before) })
		},
	}
	s.flags(cmd.Flags())
	a.watchFlag(cmd, &s.watch)
	flagValues(cmd, map[string]completes{
		"vary": cellOf("=", func(q *decl.Quantity) bool { return !q.Computed() && !q.Type.Tabular() }),
		"show": cellOf("", func(*decl.Quantity) bool { return true }),
		"by":   words("5%", "10%", "20%"), "samples": words("1024", "8192", "65536"), "seed": words("1", "2", "3"),
		"output": files("csv", "parquet", "xlsx"), "part": words("1/2", "1/4", "1/8"), "plot": files("svg", "png"),
	})
	a.jsonFlag(cmd)
	return cmd
}

// sweepFile runs the studies that are asked for, and shows what is other than before.
func (a *app) sweepFile(s *sweeping, before *engine.Model) (*engine.Model, error) {
	m, err := a.load(s.file)
	if err != nil {
		return nil, err
	}
	if before != nil {
		text.Since(a.out, m, before, "", a.style())
	}
	chosen, err := s.choose(m)
	if err != nil {
		return nil, err
	}
	return m, a.study(m, s, chosen)
}

func (s *sweeping) flags(f *pflag.FlagSet) {
	f.SortFlags = false
	f.StringArrayVar(&s.vary, "vary", nil, "make a grid over this `AXIS`, and over others")
	f.StringArrayVar(&s.show, "show", nil, "show this `CELL` of that grid as well")
	f.BoolVar(&s.matters, "matters", false, "show only what matters, one input at a time")
	f.StringVar(&s.by, "by", "10%", "move inputs by this `SHARE` for that")
	f.IntVar(&s.samples, "samples", 0, "draw so many points (`N`) for doubts")
	f.IntVar(&s.seed, "seed", 0, "draw other points, for each number `N`")
	f.StringVarP(&s.output, "output", "o", "", "write the points of a grid to `FILE`.csv, .parquet, .xlsx")
	f.StringVar(&s.part, "part", "", "with -o, write only the `K/N`-th part of it")
	f.StringVar(&s.plot, "plot", "", "draw one study into `FILE`.svg or .png")
	f.BoolVar(&s.force, "force", false, "overwrite a file even if it is not plainly ours")
	f.BoolVar(&s.all, "all", false, "show whole tables")
}

// read takes the arguments apart and refuses what cannot be meant together.
func (s *sweeping) read(cmd *cobra.Command, args []string) error {
	for i, arg := range args {
		switch {
		case i == 0 && isFile(arg):
			s.file = arg
		case isScenario(arg):
			return usagef("the file stands before the names: %s %s %s", cmd.CommandPath(), quoted(arg), strings.Join(args[:i], " "))
		default:
			s.names = append(s.names, arg)
		}
	}
	for _, flag := range []string{"output", "plot", "part", "by"} {
		if err := noEmptyFlag(cmd, flag); err != nil {
			return err
		}
	}
	if err := s.conflicts(); err != nil {
		return err
	}
	if err := s.endings(); err != nil {
		return err
	}
	share, err := readShare(s.by)
	if err != nil {
		return err
	}
	s.share = share
	switch {
	case s.set("samples") && (s.samples < decl.MinSamples || s.samples > decl.MaxSamples):
		return usagef("--samples takes a number from %d to %d, not %d", decl.MinSamples, decl.MaxSamples, s.samples)
	case s.set("seed") && (s.seed < 0 || s.seed > decl.MaxSeed):
		return usagef("--seed takes a number from 0 to %d, not %d", decl.MaxSeed, s.seed)
	}
	return nil
}

// endings refuses names of files whose end says nothing, and parts that are none.
func (s *sweeping) endings() error {
	var err error
	s.piece = gridfile.Part{K: 1, N: 1}
	if s.output != "" {
		s.format, err = gridfile.FormatOf(s.output)
	}
	if s.part != "" && err == nil {
		s.piece, err = gridfile.ParsePart(s.part)
	}
	if s.plot != "" && err == nil {
		s.picture, err = picture.FormatOf(s.plot)
	}
	if err != nil {
		return usageError{err}
	}
	return nil
}

// isFile reports whether the first argument is a file rather than the name of a
// study.
func isFile(arg string) bool { return isScenario(arg) || strings.ContainsAny(arg, `/\`) }

// conflicts refuses flags that cannot be meant together.
func (s *sweeping) conflicts() error {
	for _, c := range []struct {
		wrong bool
		text  string
	}{
		{s.matters && len(s.names) > 0, "--matters shows only what matters; leave out " + strings.Join(s.names, " ")},
		{s.matters && len(s.vary) > 0, "--matters shows only what matters, and --vary a grid; leave one of them out"},
		{len(s.vary) > 0 && len(s.names) > 0, "--vary makes a grid of its own; leave out " + strings.Join(s.names, " ")},
		{len(s.show) > 0 && len(s.vary) == 0, "--show belongs to --vary; a sweep of a scenario says itself what it shows"},
		{s.set("by") && (len(s.names) > 0 || len(s.vary) > 0), "--by belongs to what matters, which is not shown beside the studies that are named"},
		{s.set("by") && s.output != "", "--by belongs to what matters, and -o writes the points of a grid; leave one of them out"},
		{s.set("samples") && (s.matters || len(s.vary) > 0 || s.output != ""), "--samples belongs to doubts, and none is asked for"},
		{s.set("seed") && (s.matters || len(s.vary) > 0 || s.output != ""), "--seed belongs to doubts, and none is asked for"},
		{s.set("part") && s.output == "", "--part belongs to -o"},
		{s.output != "" && s.matters, "-o writes the points of a grid, and what matters has none; it prints with --json"},
		{s.force && s.output == "" && s.plot == "", "--force belongs to -o and --plot"},
		{s.output != "" && s.plot != "", "-o and --plot are two runs; leave one of them out"},
		{s.output != "" && s.json, "-o writes a file, and --json a document; leave one of them out"},
		{s.plot != "" && s.json, "--plot draws a file, and --json writes a document; leave one of them out"},
		{s.all && s.output != "", "all points are written with -o; leave out --all"},
		{s.all && s.plot != "", "--all is for tables; leave it out with --plot"},
		{s.all && s.json, "--json holds everything; leave out --all"},
	} {
		if c.wrong {
			return usagef("%s", c.text)
		}
	}
	return nil
}

// readShare reads a share such as "10%", "10 %" or "0.1".
func readShare(text string) (float64, error) {
	v, u, err := unit.ParseValue(text)
	v = u.ToBase(v)
	switch {
	case err != nil || u.Dim != unit.Percent.Dim:
		return 0, usagef("--by takes a share such as 10%%, not %q", text)
	case !(v > 0 && v < 1):
		return 0, usagef("--by takes a share above 0 %% and below 100 %%, not %q", text)
	}
	return v, nil
}

// chosen are the studies that are asked for.
type chosen struct {
	sweeps     []*check.Sweep
	doubts     []*check.Doubt
	breakEvens []*check.BreakEven
	matters    bool
	named      []string // those of a scenario, by name, with their sort
}

func (c *chosen) studies() int { return len(c.sweeps) + len(c.doubts) + len(c.breakEvens) }

// choose finds the studies that are asked for.
func (s *sweeping) choose(m *engine.Model) (*chosen, error) {
	c := &chosen{}
	switch {
	case len(s.vary) > 0:
		if len(s.show) == 0 && m.Compared() == nil {
			return nil, usagef("these rules compare nothing; say with --show what to show")
		}
		g, err := check.ParseSweep(m.Program, s.vary, s.show)
		if err != nil {
			return nil, usageError{err}
		}
		c.sweeps = append(c.sweeps, g)
	case len(s.names) > 0:
		for _, name := range s.names {
			if err := c.add(m, name); err != nil {
				return nil, err
			}
		}
	case s.matters:
		c.matters = true
	default:
		c.sweeps, c.doubts, c.breakEvens, c.matters = m.Sweeps, slices.Clone(m.Doubts), m.BreakEvens, m.Compared() != nil
	}
	if c.matters && m.Compared() == nil {
		return nil, usagef("these rules compare nothing, so that nothing can be said of what matters")
	}
	return c, s.suits(c)
}

// suits refuses flags that do not suit the studies that are chosen, and gives doubts
// the samples that are asked for.
func (s *sweeping) suits(c *chosen) error {
	if (s.set("samples") || s.set("seed")) && len(c.doubts) == 0 {
		return usagef("--samples and --seed belong to doubts, and none is asked for")
	}
	for i, d := range c.doubts {
		one, written := *d, *d.Doubt
		if s.set("samples") {
			written.Samples = s.samples
		}
		if s.set("seed") {
			written.Seed = s.seed
		}
		one.Doubt = &written
		c.doubts[i] = &one
	}
	switch {
	case s.output != "" && s.named() && (len(c.sweeps) != 1 || c.studies() != 1):
		return usagef("-o writes the points of one grid; name one sweep, or make one with --vary")
	case s.output != "" && len(c.sweeps) != 1:
		return usagef("-o writes the points of one grid; name one sweep%s, or make one with --vary", listed((&chosen{sweeps: c.sweeps}).names()))
	case s.plot != "" && s.named() && c.studies() != 1, s.plot != "" && !s.named() && !s.matters && len(s.vary) == 0:
		return usagef("--plot draws one study; name one%s, or take --matters or --vary", listed(c.names()))
	}
	return nil
}

// named reports whether studies are named.
func (s *sweeping) named() bool { return len(s.names) > 0 }
