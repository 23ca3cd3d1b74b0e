package card

import (
	"slices"
	"strings"
	"testing"

	"example.com/wheelrate/sag/fit"
)

// conditions are the words that ends can be, and inserts those that they say something for.
var (
	conditions = []string{"first", "unfit", "air", "coil", "fork", "held", "open", "release", "rounds", "cycled", "collar", "turned", "slack", "preloaded"}
	inserts    = []string{"held", "change", "spacers", "fill", "cycle", "rate", "stack", "turns", "collar"}
)

// A word that no end can be would leave its step out, or leave braces on the card.
func TestWordsOfSteps(t *testing.T) {
	for _, s := range work {
		for _, word := range strings.Fields(s.when) {
			if !slices.Contains(conditions, strings.TrimPrefix(word, "!")) {
				t.Errorf("%q: %q is nothing that an end is", s.do, word)
			}
		}
		for _, part := range strings.Split(s.do, "{")[1:] {
			if name, _, ok := strings.Cut(part, "}"); !ok || !slices.Contains(inserts, name) {
				t.Errorf("%q: nothing to put in for %q", s.do, part)
			}
		}
	}
}

// Each caution for the work on an end stands at one of its steps, or under them.
func TestCautionsOfSteps(t *testing.T) {
	for _, e := range []end{
		{is: map[string]bool{"air": true, "fork": true, "open": true}},
		{is: map[string]bool{"air": true}},
		{is: map[string]bool{"air": true, "release": true, "rounds": true}},
		{is: map[string]bool{"coil": true, "fork": true}},
		{is: map[string]bool{"coil": true, "collar": true, "turned": true}},
	} {
		codes := foot.codes
		for _, s := range slices.Concat(work, last) {
			if e.suits(s.when) {
				codes = slices.Concat(codes, s.codes)
			}
		}
		for _, c := range fit.Cautions(e.is["air"], e.is["coil"]) {
			if !slices.Contains(codes, c.Code) {
				t.Errorf("%v: no step has the caution %s", e.is, c.Code)
			}
		}
	}
}
