package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"syscall"
	"testing"
	"unicode/utf8"
	"unsafe"

	"bankwright/engine/oracle"
	"bankwright/scenarios"
)

// noTerminal skips a test where the system has no pseudo-terminals, unless
// everything is required to be there.
func noTerminal(t *testing.T, err error) {
	t.Helper()
	oracle.Missing(t, fmt.Sprintf("there is no pseudo-terminal (%v)", err))
}

// terminal opens a pseudo-terminal so many characters wide and returns the end
// that a program writes to, and what reads all that was written once that end is
// closed.
func terminal(t *testing.T, columns uint16) (tty *os.File, written func() string) {
	t.Helper()
	master, tty := openTerminal(t, columns)
	all := make(chan string)
	go func() {
		text, _ := io.ReadAll(master) // ends with an error when the other end is closed
		master.Close()
		all <- strings.ReplaceAll(string(text), "\r\n", "\n")
	}()
	return tty, func() string {
		tty.Close()
		return <-all
	}
}

// openTerminal opens both ends of a pseudo-terminal.
func openTerminal(t *testing.T, columns uint16) (master, tty *os.File) {
	t.Helper()
	master, err := os.OpenFile("/dev/ptmx", os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		noTerminal(t, err)
	}
	control := func(request uintptr, value unsafe.Pointer) {
		t.Helper()
		if _, _, errno := syscall.Syscall(syscall.SYS_IOCTL, master.Fd(), request, uintptr(value)); errno != 0 {
			noTerminal(t, errno)
		}
	}
	unlock, number := int32(0), uint32(0)
	size := [4]uint16{24, columns, 0, 0} // rows and columns, then pixels
	control(syscall.TIOCSPTLCK, unsafe.Pointer(&unlock))
	control(syscall.TIOCGPTN, unsafe.Pointer(&number))
	control(syscall.TIOCSWINSZ, unsafe.Pointer(&size))
	tty, err = os.OpenFile(fmt.Sprintf("/dev/pts/%d", number), os.O_RDWR|syscall.O_NOCTTY, 0)
	if err != nil {
		noTerminal(t, err)
	}
	return master, tty
}

// onTerminal runs a command line whose output goes to a terminal.
func onTerminal(t *testing.T, columns uint16, args ...string) string {
	t.Helper()
	tty, written := terminal(t, columns)
	run(args, tty, tty)
	return written()
}

// TestColour: a terminal gets colours, but not with NO_COLOR or where it cannot
// show them; the words are the same.
func TestColour(t *testing.T) {
	t.Setenv("NO_COLOR", "")
	t.Setenv("TERM", "xterm")
	colored := onTerminal(t, 80, "compare")
	if !strings.Contains(colored, "\x1b[1m") || !strings.Contains(colored, "\x1b[0m") {
		t.Errorf("no colour on a terminal:\n%q", colored)
	}
	if fault := onTerminal(t, 80, "compare", "nowhere.toml"); !strings.Contains(fault, "\x1b[") {
		t.Errorf("no colour in a fault on a terminal:\n%q", fault)
	}
	t.Setenv("NO_COLOR", "1")
	plain := onTerminal(t, 80, "compare")
	if strings.Contains(plain, "\x1b") {
		t.Errorf("colour with NO_COLOR:\n%q", plain)
	}
	t.Setenv("NO_COLOR", "")
	t.Setenv("TERM", "dumb")
	if dumb := onTerminal(t, 80, "compare"); dumb != plain {
		t.Errorf("colour on a dumb terminal:\n%q", dumb)
	}
	if piped := bankwright(t, "compare"); piped != plain {
		t.Errorf("on a terminal without colour:\n%s\nelsewhere:\n%s", plain, piped)
	}
	if got := withoutEscapes(colored); got != plain {
		t.Errorf("with colour:\n%s\nwithout:\n%s", got, plain)
	}
}

// TestTerminalWidth: tables fit the terminal.
func TestTerminalWidth(t *testing.T) {
	oracle.OneCore(t)
	t.Setenv("NO_COLOR", "1")
	for _, columns := range []uint16{60, 80, 110} {
		for _, args := range [][]string{{"compare"}, {"check"}, {"rules"}, {"rules", "--cautions"},
			{"sweep", "price_and_depth", "oak_price"}, {"sweep", "market", "--samples", "200"}, {"sweep", "--matters"},
			{"sweep", "--vary", "battery.oak.price=900USD..1200USD/7", "--show", "alternative.usable_energy", "--show", "alternative.first_cost"},
			{"sweep", "--vary", "battery.oak.price=900USD..1200USD/50", "--vary", "site.depth_of_discharge=60%..90%/40"},
			{"sweep", "../../scenarios/quarry_house.toml", "--matters"}, {"sweep", "../../scenarios/quarry_house.toml", "outlook", "gable_price", "--samples", "200"}} {
			longest := 0
			for _, line := range strings.Split(settled(onTerminal(t, columns, args...)), "\n") {
				longest = max(longest, utf8.RuneCountInString(line))
			}
			if longest > int(columns) || longest < 50 {
				t.Errorf("%s on %d columns: the longest line has %d characters", args, columns, longest)
			}
		}
	}
	// What takes two blocks at 80 columns stands in one at 110.
	if blocks := strings.Count(onTerminal(t, 110, "compare"), "\nin series "); blocks != 1 {
		t.Errorf("%d blocks on 110 columns", blocks)
	}
}

// TestNarrow: whatever is told fits a narrow terminal, but for a command to copy and a word
// that alone is longer.
func TestNarrow(t *testing.T) {
	oracle.OneCore(t)
	t.Setenv("NO_COLOR", "1")
	raw, err := scenarios.Files.ReadFile(scenarios.Default)
	if err != nil {
		t.Fatal(err)
	}
	odd := written(t, "odd.toml", strings.Replace(string(raw), `"1050 USD"`, `"7 USD"`, 1))
	for _, columns := range []uint16{40, 60} {
		for _, args := range [][]string{{"--help"}, {"compare", "--help"}, {"sweep", "--help"}, {"explain", "--help"}, {"book", "--help"},
			{"compare", "--only", "Life"}, {"compare", "--only", "bogus"}, {"compare", "../../scenarios/narrowboat.toml", "--all"},
			{"compare", "../../scenarios/quarry_house.toml", "--all"}, {"check"}, {"check", odd}, {"rules"}, {"sweep"},
			{"explain", "alternative.one_oak"}, {"explain", "site.day[3]"}, {"compare", "nowhere.toml"}, {"check", "--verfy"}} {
			for _, line := range strings.Split(settled(onTerminal(t, columns, args...)), "\n") {
				text := strings.TrimSpace(line)
				if utf8.RuneCountInString(line) > int(columns) && strings.Contains(text, " ") && !strings.HasPrefix(text, "bankwright ") && !strings.HasPrefix(text, odd) {
					t.Errorf("%s on %d columns: a line has %d characters: %s", args, columns, utf8.RuneCountInString(line), line)
				}
			}
		}
	}
	// Where there is no terminal an error is one line.
	var out, errs strings.Builder
	run([]string{"explain", "alternative.one_oak"}, &out, &errs)
	if strings.Count(errs.String(), "\n") != 1 {
		t.Errorf("no terminal: %s", errs.String())
	}
}

// settled is what is left of a text once lines that were erased are gone.
func settled(s string) string {
	var out []string
	for _, line := range strings.Split(s, "\n") {
		if at := strings.LastIndex(line, "\r\x1b[K"); at >= 0 {
			line = line[at+len("\r\x1b[K"):]
		}
		out = append(out, line)
	}
	return strings.Join(out, "\n")
}

// withoutEscapes takes the escape sequences out of a text.
func withoutEscapes(s string) string {
	var b strings.Builder
	for {
		before, after, found := strings.Cut(s, "\x1b[")
		b.WriteString(before)
		if !found {
			return b.String()
		}
		_, s, _ = strings.Cut(after, "m")
	}
}
