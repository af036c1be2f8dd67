package diag

import "testing"

func TestListSort(t *testing.T) {
	var l List
	l.Warnf(Pos{File: "b.toml", Line: 2, Col: 1}, "unusual", "", "first of %s", "b")
	l.Errorf(Pos{File: "a.toml", Line: 1, Col: 5}, "unit", "", "second")
	l.Errorf(Pos{File: "a.toml", Line: 1, Col: 2}, "unit", "", "third")
	l.Errorf(Pos{File: "b.toml", Line: 1, Col: 9}, "unit", "", "fourth")
	l.Errorf(Pos{File: "b.toml", Line: 2, Col: 1}, "unit", "", "fifth")
	l.Sort()
	want := []string{"b.toml:1:9: error: fourth", "b.toml:2:1: warning: first of b", "b.toml:2:1: error: fifth", "a.toml:1:2: error: third", "a.toml:1:5: error: second"}
	for i, d := range l {
		if d.Error() != want[i] {
			t.Errorf("%d is %q, want %q", i, d.Error(), want[i])
		}
	}
}

func TestHasErrors(t *testing.T) {
	var l List
	if l.HasErrors() {
		t.Error("an empty list has errors")
	}
	l.Warnf(Pos{}, "unusual", "", "rare")
	if l.HasErrors() {
		t.Error("a warning is an error")
	}
	l.Errorf(Pos{}, "unit", "", "wrong")
	if !l.HasErrors() {
		t.Error("an error is none")
	}
}

func TestPosString(t *testing.T) {
	for _, c := range []struct {
		at   Pos
		want string
	}{{Pos{}, ""}, {Pos{File: "a"}, "a"}, {Pos{File: "a", Line: 3}, "a:3"}, {Pos{File: "a", Line: 3, Col: 4, Len: 9}, "a:3:4"}} {
		if got := c.at.String(); got != c.want {
			t.Errorf("%+v reads %q, want %q", c.at, got, c.want)
		}
	}
}
