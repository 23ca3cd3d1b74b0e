package linkage_test

import (
	"bytes"
	"flag"
	"fmt"
	"strings"
	"testing"
	"time"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units/unitstest"
)

// hostile is how long hostile texts are: short where every push runs them, 104857600 by hand.
var hostile = flag.Int("hostile", 1<<17, "bytes of a hostile text")

// A table is read, or refused in one short error, for a small multiple of its
// length in memory, and for a fixed amount where it is over the limit.
func TestHostileTables(t *testing.T) {
	const head = "stroke (mm),travel (mm)\n"
	fill := func(part string) string { return strings.Repeat(part, *hostile/len(part)) }
	docs := map[string]func() string{
		"lines":                func() string { return head + fill("0,0\n") },
		"rising lines":         func() string { return head + numbered("%d,%d\n") },
		"bad lines":            func() string { return head + fill("x,y\n") },
		"one line":             func() string { return head + fill("0,") },
		"empty lines":          func() string { return head + fill("\n") },
		"a cell":               func() string { return head + "0," + fill("1") + "\n" },
		"a bad cell":           func() string { return head + "0," + fill("x") + "\n" },
		"a bad cell of quotes": func() string { return head + "0,\"" + fill(`""`) + "\"\n" },
		"an open quote":        func() string { return head + "0,\"" + fill("1\n") },
		"spaces":               func() string { return head + fill(" ") + "0,0\n" },
		"a header of cells":    func() string { return fill("a,") + "stroke (mm),travel (mm)\n0,0\n" },
		"a header of strokes":  func() string { return fill("stroke (mm),") },
		"a long title":         func() string { return fill("x") + ",stroke (mm)\n0,0\n" },
		"a long unit":          func() string { return "stroke (" + fill("m") + "),travel (mm)\n0,0\n" },
		"brackets":             func() string { return "stroke " + fill("(") + ",travel " + fill(")") + "\n0,0\n" },
		"semicolons":           func() string { return fill(";") + "\n" },
		"decimal commas":       func() string { return "stroke (mm);travel (mm)\n0;" + fill(",") + "\n" },
		"NaN":                  func() string { return head + "0,NaN\nInf,0x1p-3\n1e999,١\n" },
		"not UTF-8":            func() string { return head + fill("\xff,\xff\n") },
		"NUL":                  func() string { return head + fill("\x00,\x00\n") },
		"byte order marks":     func() string { return fill("\ufeff") + head },
		"carriage returns":     func() string { return strings.ReplaceAll(head, "\n", "\r") + fill("0,0\r") },
	}
	try := func(name, doc string) {
		var table linkage.Table
		var err error
		start := time.Now()
		n := unitstest.Allocated(func() { table, err = linkage.ReadCSV(strings.NewReader(doc), linkage.Monotone) })
		if took := time.Since(start); testing.Verbose() && took > 100*time.Millisecond {
			t.Logf("%v: %s", took.Round(time.Millisecond), name)
		}
		if err == nil {
			if len(table.Stroke) > 1000 || len(table.Stroke) != len(table.Travel) {
				t.Errorf("%s: %d strokes, %d travels", name, len(table.Stroke), len(table.Travel))
			}
			if _, err := linkage.NewTable(table); unitstest.Refusal(err, 5000) != "" {
				t.Errorf("%s: %s", name, unitstest.Refusal(err, 5000))
			}
		} else if wrong := unitstest.Refusal(err, 5000); wrong != "" {
			t.Errorf("%s: %s: %.300v", name, wrong, err)
		}
		// A line of nothing but separators makes a cell of every byte.
		if most := 160*min(len(doc), 1<<20) + 1<<17; n > most {
			t.Errorf("%s: %d bytes of memory for %d, want at most %d", name, n, len(doc), most)
		}
	}
	for name, doc := range docs {
		try(name, doc())
	}
	for name, doc := range unitstest.Hostile(*hostile) {
		try(name, string(doc))
	}
}

// numbered is a text of lines that count.
func numbered(format string) string {
	var b bytes.Buffer
	for i := 0; b.Len() < *hostile; i++ {
		fmt.Fprintf(&b, format, i, i)
	}
	return b.String()
}
