package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// module writes a module of these files into a directory of its own.
func module(t *testing.T, files map[string]string) string {
	t.Helper()
	dir := t.TempDir()
	files["go.mod"] = "module example.com/made\n\ngo 1.26\n"
	for name, text := range files {
		path := filepath.Join(dir, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return dir
}

const made = `package made

import (
	"errors"
	"io"

	"example.com/made/part"
)

const (
	Small         = 0.0254
	Large  Kind   = "lar\"ge"
	hidden        = 1
	Count  uint64 = 1<<64 - 1
)

var ErrBad, errWorse = errors.New("bad"), errors.New("worse")

type Kind string

func (k Kind) String() string { return string(k) }

type inner struct{}

func (*inner) Promoted(n int) {}
func (*inner) hidden()        {}

type Thing struct {
	inner
	part.Part
	Name  string ` + "`json:\"name\"`" + `
	small int
}

func (t *Thing) Do(r io.Reader, more ...part.Part) (n int, err error) { return 0, nil }

type Alias = part.Part

type Shape interface {
	io.Reader
	Area(scale float64) float64
	hidden()
}

type Pair[A any, B ~float64] struct{ First A }

func (p Pair[A, B]) Swap(b B) A { return p.First }

func Make[Q ~float64](q Q, f func(Q) Kind) map[string][]Q { return nil }
func unseen()                                              {}
`

// What is exported is listed, each as it must be written by a caller.
func TestList(t *testing.T) {
	dir := module(t, map[string]string{
		"made.go":            made,
		"made_test.go":       "package made\n\nfunc InTest() {}\n",
		"part/part.go":       "package part\n\ntype Part struct{ Size int }\n",
		"internal/in/in.go":  "package in\n\nfunc In() {}\n",
		"cmd/main.go":        "package main\n\nfunc Exported() {}\n\nfunc main() {}\n",
		"part/part_other.go": "//go:build ignore\n\npackage part\n\nfunc Left() {}\n",
	})
	got, err := list(dir)
	if err != nil {
		t.Fatal(err)
	}
	want := strings.TrimSpace(`
pkg ., const Count uint64 = 18446744073709551615
pkg ., const Large Kind = "lar\"ge"
pkg ., const Small untyped float = 0.0254
pkg ., func Make[Q ~float64](Q, func(Q) Kind) map[string][]Q
pkg ., method (*Thing) Do(io.Reader, ...part.Part) (int, error)
pkg ., method (*Thing) Promoted(int)
pkg ., method (Kind) String() string
pkg ., method (Pair) Swap(B) A
pkg ., type Alias = part.Part
pkg ., type Kind string
pkg ., type Pair[A any, B ~float64] struct
pkg ., type Pair[A any, B ~float64] struct, First A
pkg ., type Shape interface
pkg ., type Shape interface, Area(float64) float64
pkg ., type Shape interface, Read([]byte) (int, error)
pkg ., type Shape interface, unexported methods
pkg ., type Thing struct
pkg ., type Thing struct, Name string ` + "`json:\"name\"`" + `
pkg ., type Thing struct, embedded part.Part
pkg ., var ErrBad error
pkg part, type Part struct
pkg part, type Part struct, Size int
`)
	if got := strings.Join(got, "\n"); got != want {
		t.Errorf("lists\n%s\n\nwant\n%s", got, want)
	}
}

// A list that is written is current, until a name is gone or comes.
func TestCheck(t *testing.T) {
	files := map[string]string{"made.go": "package made\n\nfunc One() {}\n\nfunc Two() {}\n"}
	dir := module(t, files)
	file := filepath.Join(t.TempDir(), "list.txt")
	call := func(args ...string) (int, string) {
		var out, errs bytes.Buffer
		status := run(append([]string{"-module", dir}, args...), &out, &errs)
		return status, out.String() + errs.String()
	}
	if status, out := call("-check", file); status != 1 || !strings.Contains(out, "list.txt") {
		t.Errorf("without a list: exit %d, %s", status, out)
	}
	if status, out := call("-write", file); status != 0 || out != "" {
		t.Errorf("written: exit %d, %s", status, out)
	}
	if status, out := call(); status != 0 || out != "pkg ., func One()\npkg ., func Two()\n" {
		t.Errorf("printed: exit %d, %s", status, out)
	}
	if status, out := call("-check", file); status != 0 || out != "" {
		t.Errorf("checked: exit %d, %s", status, out)
	}
	if err := os.WriteFile(filepath.Join(dir, "made.go"), []byte("package made\n\nfunc One(n int) {}\n\nfunc Three() {}\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if status, out := call("-check", file); status != 1 ||
		!strings.HasPrefix(out, "-pkg ., func One()\n-pkg ., func Two()\n+pkg ., func One(int)\n+pkg ., func Three()\n") {
		t.Errorf("changed: exit %d, %s", status, out)
	}
	if status, out := call("-since", file); status != 0 ||
		out != "-pkg ., func One()\n-pkg ., func Two()\n2 lines gone or changed since "+file+", 2 new\n" {
		t.Errorf("since: exit %d, %s", status, out)
	}
}

func TestCalls(t *testing.T) {
	empty := t.TempDir()
	broken := module(t, map[string]string{"made.go": "package made\n\nfunc One() { return 1 }\n"})
	for _, c := range []struct {
		args []string
		want int
		says string
	}{
		{[]string{"-h"}, 0, "usage: apilist"},
		{[]string{"-what"}, 2, "usage: apilist"},
		{[]string{"more"}, 2, "usage: apilist"},
		{[]string{"-check", "a", "-write", "b"}, 2, "usage: apilist"},
		{[]string{"-module", empty}, 1, "apilist: go list"},
		{[]string{"-module", broken}, 1, "apilist: go list"},
	} {
		var out, errs bytes.Buffer
		if got := run(c.args, &out, &errs); got != c.want || !strings.Contains(errs.String(), c.says) || out.Len() > 0 {
			t.Errorf("%v: exit %d, %q, %q", c.args, got, &out, &errs)
		}
	}
}
