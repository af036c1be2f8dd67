package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"golang.org/x/term"

	"bankwright/engine/unit"
	"bankwright/export/text"
)

// progress draws on one line how far something is, from a second after its start
// on, and erases the line at the end. The zero value draws nothing.
type progress struct {
	to     io.Writer // a terminal, or nil
	blocks bool
	width  int
	now    func() time.Time
	name   string
	start  time.Time
	drawn  time.Time // last, zero: not yet
	done   int       // at the last call
	total  int
}

// Nothing is drawn of what is over sooner, and not more often than that.
const (
	progressAfter = time.Second
	progressEvery = 100 * time.Millisecond
)

// progress is what draws on standard error where that is a terminal.
func (a *app) progress() *progress {
	f, ok := a.err.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) || os.Getenv("TERM") == "dumb" {
		return &progress{now: time.Now}
	}
	p := &progress{to: f, blocks: text.ShowsBlocks(os.Getenv), now: time.Now, width: 80}
	if n := columns(f); n > 0 {
		p.width = n
	}
	return p
}

// begin begins with something that has a name.
func (p *progress) begin(name string) {
	p.end()
	p.name, p.start, p.done, p.total = name, p.now(), 0, 0
}

// told takes in how many points are done of how many.
func (p *progress) told(done, total int) {
	p.done, p.total = done, total
	if p.to == nil {
		return
	}
	now := p.now()
	if now.Sub(p.start) < progressAfter || now.Sub(p.drawn) < progressEvery {
		return
	}
	p.drawn = now
	fmt.Fprintf(p.to, "\r%s\x1b[K", p.line(now))
}

// end erases the line.
func (p *progress) end() {
	if p.to != nil && !p.drawn.IsZero() {
		fmt.Fprint(p.to, "\r\x1b[K")
		p.drawn = time.Time{}
	}
}

// line is what is drawn, narrower than the terminal by one so that it does not wrap.
func (p *progress) line(now time.Time) string {
	share := float64(p.done) / float64(max(1, p.total))
	seconds := now.Sub(p.start).Seconds()
	left := ""
	if p.done > 0 {
		left = ", " + duration(seconds*(1-share)/share) + " left"
	}
	figures := fmt.Sprintf(" %3.0f %%  %s points/s%s", 100*share, unit.Format(float64(p.done)/max(seconds, 1e-9), 0), left)
	room := p.width - 1
	if len(figures)+10 > room {
		return strings.TrimSpace(figures)[:max(0, min(room, len(strings.TrimSpace(figures))))]
	}
	name := []rune(p.name)
	if most := room - len(figures) - 10; len(name) > most {
		name = name[:most]
	}
	bar := text.Bars([]float64{share, 1}, min(30, room-len(figures)-len(name)-1), p.blocks)[0]
	return string(name) + " " + bar + figures
}

// duration is a time in the unit that reads best.
func duration(seconds float64) string {
	switch {
	case seconds < 100:
		return unit.Format(seconds, 0) + " s"
	case seconds < 100*60:
		return unit.Format(seconds/60, 0) + " min"
	}
	return unit.Format(seconds/3600, 0) + " h"
}
