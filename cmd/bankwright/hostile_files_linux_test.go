package main

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// folderOf does something in the folder of a case, and fails where that cannot be done.
func folderOf(do ...func(folder string) error) func(*testing.T, string) {
	return func(t *testing.T, folder string) {
		for _, f := range do {
			if err := f(folder); err != nil {
				t.Fatal(err)
			}
		}
	}
}

func link(to, name string) func(string) error {
	return func(folder string) error { return os.Symlink(to, filepath.Join(folder, name)) }
}

func pipe(name string) func(string) error {
	return func(folder string) error { return syscall.Mkfifo(filepath.Join(folder, name), 0o644) }
}

func socket(name string) func(string) error {
	return func(folder string) error {
		return syscall.Mknod(filepath.Join(folder, name), syscall.S_IFSOCK|0o644, 0)
	}
}

func subfolder(name string) func(string) error {
	return func(folder string) error { return os.MkdirAll(filepath.Join(folder, name), 0o755) }
}

// beside writes a file beside the folder of a case, out of its reach.
func beside(name, text string) func(string) error {
	return func(folder string) error { return os.WriteFile(filepath.Join(folder, "..", name), []byte(text), 0o644) }
}

// sparse makes a file of so many bytes that take no room.
func sparse(name string, size int64) func(string) error {
	return func(folder string) error {
		path := filepath.Join(folder, name)
		if err := os.WriteFile(path, nil, 0o644); err != nil {
			return err
		}
		return os.Truncate(path, size)
	}
}

func including(files ...string) string {
	return strings.Replace(crates("[crate.a]\n"), "standard_rules", fmt.Sprintf("include = [%q]\nstandard_rules", strings.Join(files, `","`)), 1)
}

func ruling(file string) string {
	return strings.Replace(crates("[crate.a]\n"), "standard_rules", fmt.Sprintf("rule_files = [%q]\nstandard_rules", file), 1)
}

// hostileIncludes are files that draw in themselves, others without end, or what lies
// outside their folder.
func hostileIncludes() []hostile {
	out := []hostile{
		{name: "includes itself", text: including("s.toml"), status: 1, want: "is the scenario itself"},
		{name: "includes itself by a way round", text: including("a/../s.toml"), status: 1, want: "leaves the scenario's folder"},
		{name: "includes itself through a list", text: including("a.toml"), and: map[string]string{"a.toml": "include = [\"s.toml\"]\n"}, status: 1, want: "is the scenario itself"},
		{name: "lists in a circle", text: including("a.toml"), and: map[string]string{"a.toml": "include = [\"b.toml\"]\n", "b.toml": "include = [\"a.toml\"]\n"}, status: 1, want: "includes itself by way of"},
		{name: "a list that includes itself", text: including("a.toml"), and: map[string]string{"a.toml": "include = [\"a.toml\"]\n"}, status: 1, want: "includes itself"},
		{name: "includes itself under another name", text: including("t.toml"), make: folderOf(link("s.toml", "t.toml")), status: 1, want: "t.toml:"},
		{name: "rules that are the scenario", text: ruling("s.toml"), status: 1, want: "is the scenario itself"},
		{name: "rules that draw in rules", text: ruling("r.toml"), and: map[string]string{"r.toml": "rule_files = [\"r.toml\"]\n"}, status: 1, want: "r.toml:1:"},
		{name: "a chain of three hundred lists", text: including("l0.toml"), make: func(t *testing.T, folder string) {
			for i := range 300 {
				os.WriteFile(filepath.Join(folder, fmt.Sprintf("l%d.toml", i)), []byte(fmt.Sprintf("include = [\"l%d.toml\"]\n", i+1)), 0o644)
			}
		}, status: 1, want: "more than 200 files"},
		{name: "a thousand lists", text: strings.Replace(crates("[crate.a]\n"), "standard_rules", "include = ["+many(1000, "\"l%d.toml\",")+"]\nstandard_rules", 1), status: 1, want: "more than 200 files"},
		{name: "two hundred lists of a megabyte", text: strings.Replace(crates("[crate.a]\n"), "standard_rules", "include = ["+many(190, "\"l%d.toml\",")+"]\nstandard_rules", 1), make: func(t *testing.T, folder string) {
			for i := range 190 {
				os.WriteFile(filepath.Join(folder, fmt.Sprintf("l%d.toml", i)), []byte(strings.Repeat("#"+strings.Repeat("x", 99)+"\n", 10_000)), 0o644)
			}
		}, status: 1, want: "more than 16 MB together"},
		{name: "lists that have no name", text: including(""), status: 1, want: "s.toml:3:"},
		{name: "a list as a date", text: strings.Replace(including("a"), `["a"]`, "1979-05-27", 1), status: 1, want: "s.toml:3:"},
		{name: "links in a circle", text: including("a.toml"), make: folderOf(link("b.toml", "a.toml"), link("a.toml", "b.toml")), status: 1, want: "a.toml"},
		{name: "a chain of forty links", text: including("a0.toml"), make: func(t *testing.T, folder string) {
			for i := range 60 {
				os.Symlink(fmt.Sprintf("a%d.toml", i+1), filepath.Join(folder, fmt.Sprintf("a%d.toml", i)))
			}
		}, status: 1, want: "a0.toml"},
		{name: "a link that leads nowhere", text: including("a.toml"), make: folderOf(link("nowhere.toml", "a.toml")), status: 1, want: "there is no such file"},
		{name: "a link within the folder", text: including("a.toml"), and: map[string]string{"lists/b.toml": "[crate.b]\n"}, make: folderOf(link("lists/b.toml", "a.toml")), args: []string{"explain", "s.toml", "crate.b.mass"}, want: "crate.b.mass = 3"},
		{name: "a folder that is a link within the folder", text: including("l/b.toml"), and: map[string]string{"lists/b.toml": "[crate.b]\n"}, make: folderOf(link("lists", "l")), args: []string{"explain", "s.toml", "crate.b.mass"}, want: "crate.b.mass = 3"},
		{name: "a scenario that is a link out of the folder", make: folderOf(beside("outside.toml", crates("[crate.a]\n")), link("../outside.toml", "s.toml")), args: []string{"explain", "s.toml", "crate.a.mass"}, want: "crate.a.mass = 3"},
	}
	const secret = "[crate.secret]\ncount = 42\n"
	for _, key := range []string{"include", "rule_files"} {
		text := including
		if key == "rule_files" {
			text = func(files ...string) string { return ruling(files[0]) }
		}
		for _, path := range []string{"../outside.toml", "a/../../outside.toml", "/etc/passwd", "/proc/self/environ", "./../outside.toml", "C:/outside.toml", `..\outside.toml`, "~/outside.toml", "file:///etc/passwd", "//host/share", "a\x00b"} {
			written := strings.NewReplacer(`\`, `\\`, "\x00", `\u0000`).Replace(path)
			out = append(out, hostile{name: fmt.Sprintf("%s of %q", key, path), text: strings.Replace(text("X"), "X", written, 1), make: folderOf(beside("outside.toml", secret)), status: 1, want: "s.toml:3:"})
		}
		out = append(out,
			hostile{name: key + " by a link out of the folder", text: text("a.toml"), make: folderOf(beside("outside.toml", secret), link("../outside.toml", "a.toml")), status: 1, want: "leads out of the folder"},
			hostile{name: key + " by a whole link out of the folder", text: text("a.toml"), make: folderOf(link("/etc/passwd", "a.toml")), status: 1, want: "leads out of the folder"},
			hostile{name: key + " by a folder that leads out", text: text("l/outside.toml"), make: folderOf(beside("outside.toml", secret), link("..", "l")), status: 1, want: "leads out of the folder"},
			hostile{name: key + " by a chain of links that leads out", text: text("a.toml"), make: folderOf(beside("outside.toml", secret), link("b.toml", "a.toml"), link("c.toml", "b.toml"), link("../outside.toml", "c.toml")), status: 1, want: "leads out of the folder"})
	}
	return out
}

// hostileDevices are what is no file, in the place of one.
func hostileDevices() []hostile {
	logged := func(log string) string {
		return edited(starterText(), `trial.a: battery = "large"`, "trial.a: log = "+fmt.Sprintf("%q", log))
	}
	named := func(name, file string, status int, want string) hostile {
		return hostile{name: "scenario: " + name, args: []string{"check", file}, status: status, want: want}
	}
	out := []hostile{
		named("/dev/zero", "/dev/zero", 1, "is a device or a pipe"),
		named("/dev/null", "/dev/null", 1, "is a device or a pipe"),
		named("/dev/full", "/dev/full", 1, "is a device or a pipe"),
		named("/dev/urandom", "/dev/urandom", 1, "is a device or a pipe"),
		named("the memory of the program", "/proc/self/mem", 1, "cannot be read"),
		named("a folder", ".", 1, "it is a folder"),
		named("the root folder", "/", 1, "cannot be read"),
		{name: "scenario: standard input", args: []string{"check", "/dev/stdin"}, in: crates("[crate.a]\n"), status: 1, want: "is a device or a pipe"},
		{name: "scenario: a pipe that nobody fills", args: []string{"check", "s.toml"}, make: folderOf(pipe("s.toml")), status: 1, want: "is a device or a pipe"},
		{name: "scenario: a socket", args: []string{"check", "s.toml"}, make: folderOf(socket("s.toml")), status: 1, want: "is a device or a pipe"},
		{name: "scenario: a terabyte", args: []string{"check", "s.toml"}, make: folderOf(sparse("s.toml", 1<<40)), status: 1, want: "s.toml:1:"},
		{name: "workbook: a pipe that nobody fills", args: []string{"readback", "a.xlsx"}, make: folderOf(pipe("a.xlsx")), status: 1, want: "is no file"},
		{name: "workbook: a pipe as a scenario", args: []string{"check", "a.xlsx"}, make: folderOf(pipe("a.xlsx")), status: 1, want: "is a device or a pipe"},
		{name: "workbook: a terabyte", args: []string{"readback", "a.xlsx"}, make: folderOf(sparse("a.xlsx", 1<<40)), status: 1, want: "is larger than"},
		{name: "workbook: over a pipe", text: starterText(), args: []string{"book", "s.toml", "-o", "a.xlsx"}, make: folderOf(pipe("a.xlsx")), status: 1, want: "is a device or a pipe"},
		{name: "workbook: over a terabyte", text: starterText(), args: []string{"book", "s.toml", "-o", "a.xlsx"}, make: folderOf(sparse("a.xlsx", 1<<40)), status: 1, want: "stays as it is"},
		{name: "points: over a pipe", text: starterText(), args: []string{"sweep", "s.toml", "--vary", "battery.large.price=1USD,2USD", "-o", "a.csv"}, make: folderOf(pipe("a.csv")), status: 1, want: "is a device or a pipe"},
		{name: "picture: over a pipe", text: starterText(), args: []string{"draw", "s.toml", "-o", "a.svg"}, make: folderOf(pipe("a.svg")), status: 1, want: "is a device or a pipe"},
		{name: "starter: over a pipe", args: []string{"new", "a.toml"}, make: folderOf(pipe("a.toml")), status: 1, want: "is a device or a pipe"},
		{name: "starter: over a link that leads nowhere", args: []string{"new", "a.toml"}, make: folderOf(link("nowhere/b.toml", "a.toml")), status: 1, want: "bankwright: "},
		{name: "readback: of a pipe as its scenario", text: starterText(), args: []string{"readback", "a.xlsx", "p.toml"}, make: folderOf(pipe("p.toml"), sparse("a.xlsx", 100)), status: 1, want: "a.xlsx is"},
	}
	for _, key := range []string{"include", "rule_files"} {
		text := including
		if key == "rule_files" {
			text = func(files ...string) string { return ruling(files[0]) }
		}
		out = append(out,
			hostile{name: key + ": a pipe", text: text("a.toml"), make: folderOf(pipe("a.toml")), status: 1, want: "is a device or a pipe"},
			hostile{name: key + ": a socket", text: text("a.toml"), make: folderOf(socket("a.toml")), status: 1, want: "is a device or a pipe"},
			hostile{name: key + ": a folder", text: text("a.toml"), make: folderOf(subfolder("a.toml")), status: 1, want: "it is a folder"},
			hostile{name: key + ": a folder that is a file", text: text("s.toml/a.toml"), status: 1, want: "there is no such file"},
			hostile{name: key + ": a link to zeros without end", text: text("a.toml"), make: folderOf(link("/dev/zero", "a.toml")), status: 1, want: "leads out of the folder"},
			hostile{name: key + ": a terabyte", text: text("a.toml"), make: folderOf(sparse("a.toml", 1<<40)), status: 1, want: "a.toml:1:"})
	}
	return append(out,
		hostile{name: "log: a pipe", text: logged("a.csv"), make: folderOf(pipe("a.csv")), status: 1, want: "is a device or a pipe"},
		hostile{name: "log: a socket", text: logged("a.csv"), make: folderOf(socket("a.csv")), status: 1, want: "is a device or a pipe"},
		hostile{name: "log: a folder", text: logged("a.csv"), make: folderOf(subfolder("a.csv")), status: 1, want: "it is a folder"},
		hostile{name: "log: a link to zeros without end", text: logged("a.csv"), make: folderOf(link("/dev/zero", "a.csv")), status: 1, want: "leads out of the folder"},
		hostile{name: "log: a link to a secret", text: logged("a.csv"), make: folderOf(beside("b.csv", "time (s),voltage,current\n0,1,1\n1,1,1\n"), link("../b.csv", "a.csv")), status: 1, want: "leads out of the folder"},
		hostile{name: "log: links in a circle", text: logged("a.csv"), make: folderOf(link("b.csv", "a.csv"), link("a.csv", "b.csv")), status: 1, want: "a.csv"},
		hostile{name: "log: the scenario itself", text: logged("s.toml"), status: 1, want: "s.toml"},
		hostile{name: "log: half a terabyte of zeros", text: logged("a.csv"), make: folderOf(sparse("a.csv", 1<<39)), status: 1, want: "a.csv"},
	)
}
