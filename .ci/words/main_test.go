package main

import (
	"strings"
	"testing"
	"testing/fstest"
)

func TestPhrasesAreFound(t *testing.T) {
	tree := fstest.MapFS{}
	for name, text := range map[string]string{
		"a.go": "package a\n\n// A tells whether it holds, and hangs\n// on nothing.\nvar law = \"the Law is none\"\n",
		"b.md": "There is none, and nothing reports whether it isn't: there\nis none. It is none of\nthese; None is None.\n",
		"c.py": "# comes to\n# no  end\n",
		"d":    "#!/bin/sh\nis told of\n",

		"testdata/fuzz/F/1": "is told of",
		".git/x.md":         "is told of",
		"picture.png":       "is told of",
		"program":           "\x00 is told of",
		"words.go":          "tells whetherever, is nonesuch, thisis none\n",
	} {
		tree[name] = &fstest.MapFile{Data: []byte(text)}
	}
	const want = `a.go:3: "tells whether"; write reports whether
a.go:3: "hangs on"; write depends on, or is joined to
a.go:5: "is none"; write is invalid, or what it lacks
c.py:1: "comes to no end"; write does not converge
d:2: "is told of"; write is given, or is reported
`
	var out strings.Builder
	if count, err := read(tree, &out); err != nil || count != 5 || out.String() != want {
		t.Errorf("%d, %v:\n%s\nwant\n%s", count, err, out.String(), want)
	}
}
