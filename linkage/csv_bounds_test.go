package linkage_test

import (
	"errors"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// What a table may be written like, beyond the plain: spaces around titles and
// before quotes.
func TestReadCSVSpaces(t *testing.T) {
	want := linkage.Table{Stroke: []units.Length{0, mm(5)}, Travel: []units.Length{0, mm(13)}}
	for _, text := range []string{
		"stroke (mm) ,  travel (mm) \n0, \"0\"\n5, \"13\"\n",
		"\"stroke (mm) \", \" travel (mm)\"\n0,0\n5,13\n",
		"stroke(mm),travel ( mm )\n0,0\n5,13\n",
	} {
		got, err := linkage.ReadCSV(strings.NewReader(text), "")
		if err != nil {
			t.Errorf("%q: %v", text, err)
		} else if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%q: (-want +got)\n%s", text, diff)
		}
	}
}

// A comma is a decimal one only where something else separates cells, and only
// where there is no point and no other comma.
func TestReadCSVDecimalComma(t *testing.T) {
	for _, test := range []struct {
		text, says string
	}{
		{"stroke (mm),travel (mm)\n0,\"1,5\"\n", "a number, in line 2"},
		{"stroke (mm);travel (mm)\n0;1,234.5\n", "a number, in line 2"},
		{"stroke (mm);travel (mm)\n0;1,234,5\n", "a number, in line 2"},
	} {
		if _, err := linkage.ReadCSV(strings.NewReader(test.text), ""); err == nil || !strings.Contains(err.Error(), test.says) {
			t.Errorf("%q: %v", test.text, err)
		}
	}
}

// The limits: 1 MiB, 1000 lines, ten bad cells before reading ends.
func TestReadCSVLimits(t *testing.T) {
	const head = "stroke (mm),travel (mm)\n"
	full := head + "0,0\n1,2"
	full += strings.Repeat(" ", 1<<20-len(full))
	if _, err := linkage.ReadCSV(strings.NewReader(full), ""); err != nil {
		t.Errorf("1 MiB: %v", err)
	}
	if _, err := linkage.ReadCSV(strings.NewReader(full+" "), ""); !errors.Is(err, units.ErrRange) {
		t.Errorf("a byte more than 1 MiB: %v", err)
	}
	if _, err := linkage.ReadCSV(strings.NewReader(""), ""); !errors.Is(err, units.ErrMissing) {
		t.Errorf("nothing: %v", err)
	}
	if got, err := linkage.ReadCSV(strings.NewReader(head+strings.Repeat("1,2\n", 1000)), ""); err != nil || len(got.Stroke) != 1000 {
		t.Errorf("1000 lines: %v", err)
	}
	_, err := linkage.ReadCSV(strings.NewReader(head+strings.Repeat("0,y\n", 30)), "")
	if n := len(badFields(err)); n != 10 {
		t.Errorf("%d faults named, want 10", n)
	}
}

// The line named is that of the cell itself, not that in which a cell before it
// begins.
func TestReadCSVNamesTheLine(t *testing.T) {
	for text, says := range map[string]string{
		"note,stroke (mm),travel (mm)\n\"a\nb\",0,x\n": "line 3",
		"stroke (mm),travel (mm),note\n0,x,\"a\nb\"\n": "line 2",
		"stroke (mm),note,travel (mm)\nx,\"a\nb\",0\n": "line 2",
	} {
		if _, err := linkage.ReadCSV(strings.NewReader(text), ""); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %s", text, err, says)
		}
	}
}

func TestTableOfFewPoints(t *testing.T) {
	for n, want := range map[int]int{-1: 2, 1: 2, 2: 2, 3: 3} {
		table := bent(t).Table(n, linkage.Monotone)
		if len(table.Stroke) != want || len(table.Travel) != want || table.Stroke[0] != 0 || table.Stroke[want-1] != bent(t).Stroke() {
			t.Errorf("%d points: %v", n, table)
		}
	}
}

// Positions at the bounds that the doc comment gives.
func TestPositionsBounds(t *testing.T) {
	many := func(n int) []units.Length { return make([]units.Length, n) }
	long := func(n int) []units.Length {
		list := many(n)
		for i := range list {
			list[i] = 0.2
		}
		return list
	}
	for _, test := range []struct {
		shock, axle []units.Length
		want        []string
	}{
		{[]units.Length{1e3, 1e-6}, []units.Length{-1e3, 1e3}, nil},
		{[]units.Length{above(1e3), below(1e-6)}, []units.Length{below(-1e3), above(1e3)},
			[]string{"axle_height[0]", "axle_height[1]", "shock_length[0]", "shock_length[1]"}},
		{long(2), many(2), nil},
		{long(1), many(1), []string{"axle_height", "shock_length"}},
		{long(1000), many(1000), nil},
		{long(1001), many(1001), []string{"axle_height", "shock_length"}},
	} {
		_, err := linkage.Positions{ShockLength: test.shock, AxleHeight: test.axle}.Readings()
		if diff := cmp.Diff(test.want, badFields(err)); diff != "" {
			t.Errorf("(-want +got)\n%s%v", diff, err)
		}
	}
}
