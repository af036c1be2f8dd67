package main

import (
	"fmt"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// man writes the manual page.
func (a *app) man() *cobra.Command {
	return &cobra.Command{
		Use:   "man",
		Short: "write the manual page",
		Long: "Writes the manual page, section 1, as the program man reads it: what --help says\n" +
			"of all commands, exit statuses and files.",
		Example:           "  bankwright man",
		Args:              cobra.ArbitraryArgs,
		ValidArgsFunction: nothing,
		RunE: func(cmd *cobra.Command, args []string) error {
			if len(args) > 0 {
				return usagef("man takes no arguments; %s", seeHelp(cmd))
			}
			_, err := a.out.Write([]byte(manual(cmd.Root())))
			return err
		},
	}
}

// roff is a manual page as it is written.
type roff struct{ strings.Builder }

// manual is the page of all commands.
func manual(root *cobra.Command) string {
	p := &roff{}
	p.macro("TH", strings.ToUpper(root.Name()), "1", buildDate(), root.Name(), "User Commands")
	p.macro("SH", "NAME")
	p.line(root.Name() + ` \- ` + escaped(strings.ToLower(root.Short[:1])+root.Short[1:]))
	p.macro("SH", "SYNOPSIS")
	p.line(`.B ` + root.Name())
	p.line(`.I COMMAND`)
	p.line(`[\fIARGUMENT\fR...] [\fIFLAG\fR...]`)
	p.macro("SH", "DESCRIPTION")
	p.text(root.Long)
	p.macro("SH", "COMMANDS")
	for _, c := range root.Commands() {
		if c.IsAvailableCommand() {
			p.command(c)
		}
	}
	p.macro("SH", "EXIT STATUS")
	for _, s := range [][2]string{
		{"0", "Done."}, {"1", "The files have faults, or the work failed."},
		{"2", "The command line is wrong."}, {"130", "Interrupted by Ctrl-C; a run with --watch ends so with 0."},
	} {
		p.item(`\fB`+s[0]+`\fR`, s[1])
	}
	p.macro("SH", "ENVIRONMENT")
	p.item(`\fBNO_COLOR\fR`, "With any value, nothing is coloured.")
	p.macro("SH", "FILES")
	p.item(`\fI*.toml\fR`, "Scenarios, rules and lists of items.")
	p.item(`\fI`+escaped(schemaName)+`\fR`, "The schema by which editors complete scenarios; see the command schema.")
	p.macro("SH", "EXAMPLES")
	p.kept(root.Example)
	return p.String()
}

// buildDate is the day of the commit that was built, where the build knows it.
func buildDate() string {
	if info, ok := debug.ReadBuildInfo(); ok {
		for _, s := range info.Settings {
			if day, _, found := strings.Cut(s.Value, "T"); found && s.Key == "vcs.time" {
				return day
			}
		}
	}
	return ""
}

// command is the section of one command.
func (p *roff) command(c *cobra.Command) {
	p.macro("SS", c.Use)
	p.text(c.Long)
	if c.Long == "" {
		p.text(strings.ToUpper(c.Short[:1]) + c.Short[1:] + ".")
	}
	c.LocalFlags().VisitAll(func(f *pflag.Flag) {
		if f.Hidden || f.Name == "help" {
			return
		}
		value, usage := pflag.UnquoteUsage(f)
		head := `\fB\-\-` + escaped(f.Name) + `\fR`
		if f.Shorthand != "" {
			head = `\fB\-` + f.Shorthand + `\fR, ` + head
		}
		if value != "" {
			head += ` \fI` + escaped(value) + `\fR`
		}
		p.item(head, strings.ToUpper(usage[:1])+usage[1:]+".")
	})
	p.line(".PP\nExamples:\n.PP")
	p.kept(c.Example)
}

func (p *roff) line(text string) { p.WriteString(text + "\n") }

// macro is a line with a macro and its arguments.
func (p *roff) macro(name string, args ...string) {
	p.WriteString("." + name)
	for _, arg := range args {
		p.WriteString(` "` + strings.ReplaceAll(escaped(arg), `"`, `\(dq`) + `"`)
	}
	p.WriteByte('\n')
}

// item is a tagged paragraph.
func (p *roff) item(tag, text string) { p.line(".TP\n" + tag + "\n" + escapedLine(text)) }

// text is one or more paragraphs; one that is indented keeps its lines.
func (p *roff) text(text string) {
	for i, part := range strings.Split(strings.TrimSpace(text), "\n\n") {
		if i > 0 {
			p.line(".PP")
		}
		if strings.HasPrefix(part, " ") {
			p.kept(part)
			continue
		}
		for _, l := range strings.Split(part, "\n") {
			p.line(escapedLine(l))
		}
	}
}

// kept are lines that stay as they are.
func (p *roff) kept(text string) {
	p.line(".RS 4\n.nf")
	for _, l := range strings.Split(text, "\n") {
		p.line(escapedLine(strings.TrimPrefix(l, "  ")))
	}
	p.line(".fi\n.RE")
}

// escapedLine is a line of text that is no macro, whatever it begins with.
func escapedLine(text string) string {
	text = escaped(text)
	if strings.HasPrefix(text, ".") || strings.HasPrefix(text, "'") || strings.HasPrefix(text, `\(aq`) {
		return `\&` + text
	}
	return text
}

// escaped is a text in which every character stands for itself, in ASCII.
func escaped(text string) string {
	var b strings.Builder
	for _, r := range text {
		switch {
		case r == '\\':
			b.WriteString(`\e`)
		case r == '-':
			b.WriteString(`\-`)
		case r == '\'':
			b.WriteString(`\(aq`)
		case r == '~':
			b.WriteString(`\(ti`)
		case r == '^':
			b.WriteString(`\(ha`)
		case r == '`':
			b.WriteString(`\(ga`)
		case r > '~':
			fmt.Fprintf(&b, `\[u%04X]`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
