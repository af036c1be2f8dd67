package main

import (
	"bytes"
	"strings"
	"testing"
	"time"
	"unicode/utf8"
)

// TestProgress: nothing is drawn within the first second, then at most ten times a
// second, on one line that fits, which is erased at the end.
func TestProgress(t *testing.T) {
	var b bytes.Buffer
	clock := time.Unix(0, 0)
	p := &progress{to: &b, width: 80, now: func() time.Time { return clock }}
	p.begin("doubt market")
	for range 99 {
		clock = clock.Add(10 * time.Millisecond)
		p.told(10, 1000)
	}
	if b.Len() > 0 {
		t.Fatalf("drawn within a second: %q", b.String())
	}
	for i := range 100 {
		clock = clock.Add(10 * time.Millisecond)
		p.told(400+i, 1000)
	}
	lines := strings.Split(strings.TrimPrefix(b.String(), "\r"), "\r")
	if len(lines) != 10 {
		t.Fatalf("drawn %d times within a second: %q", len(lines), lines)
	}
	first := strings.TrimSuffix(lines[0], "\x1b[K")
	if first != "doubt market ############                    40 %  400 points/s, 2 s left" {
		t.Errorf("%q", first)
	}
	before := b.Len()
	p.end()
	if got := b.String()[before:]; got != "\r\x1b[K" {
		t.Errorf("erased by %q", got)
	}
	p.end()
	if b.Len() != before+4 {
		t.Error("erased twice")
	}
	for _, width := range []int{1, 10, 40, 60, 200} {
		p := &progress{width: width, now: time.Now, name: strings.Repeat("long name ", 9), done: 1, total: 3_000_000_000}
		if n := utf8.RuneCountInString(p.line(p.start.Add(100 * time.Hour))); n >= width && n > 0 {
			t.Errorf("%d characters on %d columns", n, width)
		}
	}
}

// TestDuration: a time is told in the unit that reads best.
func TestDuration(t *testing.T) {
	for seconds, want := range map[float64]string{0.4: "0 s", 99: "99 s", 150: "3 min", 5400: "90 min", 36000: "10 h"} {
		if got := duration(seconds); got != want {
			t.Errorf("%v s is %q, want %q", seconds, got, want)
		}
	}
}
