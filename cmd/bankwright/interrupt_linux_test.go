package main

import (
	"bytes"
	"os"
	"os/signal"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"syscall"
	"testing"
)

// TestInterrupt: Ctrl-C ends a long run with a part of its points computed, says how
// many, leaves no half file, and erases the line that tells how far it is.
func TestInterrupt(t *testing.T) {
	t.Setenv("TERM", "xterm")
	held := make(chan os.Signal, 1) // a signal that comes after the run does not end the tests
	signal.Notify(held, os.Interrupt)
	defer signal.Stop(held)
	const prices, depths = "battery.oak.price=800USD..1300USD/100000", "site.depth_of_discharge=50%..100%/10000"
	file := filepath.Join(t.TempDir(), "points.csv")
	for name, c := range map[string]struct {
		args []string
		says string
	}{
		"file":  {[]string{"--vary", prices, "--vary", depths, "-o", file}, `interrupted; ([0-9,]+) of (1,000,000,000) points were computed, and .*points.csv is not written`},
		"doubt": {[]string{"market", "oak_price", "--samples", "2280000", "--json"}, `interrupted; doubt market is not finished \(([0-9,]+) of ([0-9,]+) points\); break-even oak_price not begun`},
	} {
		t.Run(name, func(t *testing.T) {
			var out bytes.Buffer
			status, told := interruptedRun(t, &out, append([]string{"sweep"}, c.args...)...)
			said := strings.Join(strings.Fields(told), " ") // it may be wrapped
			found := regexp.MustCompile(c.says).FindStringSubmatch(said)
			if status != exitBroken || found == nil || out.Len() > 0 {
				t.Fatalf("exit status %d\n%s\n%q", status, out.String(), told)
			}
			done, total := count(t, found[1]), count(t, found[2])
			if done == 0 || done > total/2 {
				t.Errorf("%d of %d points were computed before it ended", done, total)
			}
			if last := told[:strings.Index(told, "bankwright: ")]; !strings.HasSuffix(last, "\r\x1b[K") {
				t.Errorf("the line is not erased: %q", last)
			}
		})
	}
	if left, err := os.ReadDir(filepath.Dir(file)); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

func count(t *testing.T, s string) int {
	t.Helper()
	n, err := strconv.Atoi(strings.ReplaceAll(s, ",", ""))
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// interruptedRun runs a command line whose messages go to a terminal, interrupts it as
// soon as it tells how far it is, and returns what was told.
func interruptedRun(t *testing.T, out *bytes.Buffer, args ...string) (status int, told string) {
	t.Helper()
	master, tty := openTerminal(t, 80)
	defer master.Close()
	done := make(chan int)
	go func() {
		status := run(args, out, tty)
		tty.Close()
		done <- status
	}()
	var b strings.Builder
	buf := make([]byte, 4096)
	sent := false
	for {
		n, err := master.Read(buf)
		b.Write(buf[:n])
		if !sent && strings.Contains(b.String(), "points/s") {
			sent = true
			if err := syscall.Kill(os.Getpid(), syscall.SIGINT); err != nil {
				t.Error(err)
			}
		}
		if err != nil { // the other end is closed
			return <-done, b.String()
		}
	}
}
