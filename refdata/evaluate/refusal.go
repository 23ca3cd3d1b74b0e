package evaluate

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// sentinels gives the names that a case's "error" may use for errors that concern no single field.
var sentinels = []struct {
	name string
	err  error
}{
	{"topped_out", spring.ErrToppedOut},
	{"bottomed_out", spring.ErrBottomedOut},
	{"locks", mechanism.ErrLocks},
}

// refusal is one thing an error complains of, under every name by which a case may expect it.
type refusal []string

// refusals lists what err complains of. A part of err that neither names a field nor is a known
// sentinel is a refusal without a name, which no case can expect.
func refusals(err error) []refusal {
	if f, ok := err.(*units.FieldError); ok {
		return []refusal{fieldNames(f)}
	}
	for _, s := range sentinels {
		if err == s.err {
			return []refusal{{s.name}}
		}
	}
	switch w := err.(type) {
	case interface{ Unwrap() []error }:
		var list []refusal
		for _, e := range w.Unwrap() {
			list = append(list, refusals(e)...)
		}
		return list
	case interface{ Unwrap() error }:
		if inner := w.Unwrap(); inner != nil {
			return refusals(inner)
		}
	}
	return []refusal{nil}
}

// fieldNames gives the names of a bad field: its own, its path with and without indices, that of
// the object whose keys are the user's own names, and that of its sentinel.
func fieldNames(f *units.FieldError) refusal {
	plain := withoutIndices(f.Field)
	names := refusal{f.Name(), f.Field, plain}
	if path := strings.Split(plain, "."); len(path) > 1 {
		switch parent := path[len(path)-2]; parent {
		case "points", "bodies":
			names = append(names, parent)
		}
	}
	for _, s := range sentinels {
		if errors.Is(f, s.err) {
			names = append(names, s.name)
		}
	}
	return names
}

// withName adds a name to a list that holds each once.
func withName(list []string, name string) []string {
	if slices.Contains(list, name) {
		return list
	}
	return append(list, name)
}

func withoutIndices(path string) string {
	var b strings.Builder
	inside := false
	for _, r := range path {
		switch {
		case r == '[':
			inside = true
		case r == ']' && inside:
			inside = false
		case !inside:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// refusalProblem says how err differs from a refusal that names exactly the fields expected; ""
// where it does not.
func refusalProblem(expected []string, err error) string {
	if err == nil {
		return "expected to be refused for " + strings.Join(expected, ", ") + ", but it was computed"
	}
	named := make([]bool, len(expected))
	var extra []string
	for _, r := range refusals(err) {
		i := slices.IndexFunc(expected, func(name string) bool { return slices.Contains(r, name) })
		switch {
		case i >= 0:
			named[i] = true
		case len(r) == 0:
			extra = withName(extra, "something that is no field")
		default:
			extra = withName(extra, r[0])
		}
	}
	var missing []string
	for i, name := range expected {
		if !named[i] {
			missing = append(missing, name)
		}
	}
	if len(missing) == 0 && len(extra) == 0 {
		return ""
	}
	text := fmt.Sprintf("expected to be refused for %s; ", strings.Join(expected, ", "))
	if len(missing) > 0 {
		text += "not named: " + strings.Join(missing, ", ") + "; "
	}
	if len(extra) > 0 {
		text += "named besides: " + strings.Join(extra, ", ") + "; "
	}
	return text + "the error was: " + firstLines(err.Error())
}
