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

// refusal is one thing an error complains of, under every name by which a case may expect it, the
// most exact first.
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

// fieldNames gives the names of a bad field: its path with and without indices, its own, that of
// the object whose keys are the user's own names, and that of its sentinel.
func fieldNames(f *units.FieldError) refusal {
	var path []string
	for name, index := range f.Path() {
		if !index {
			path = append(path, name)
		}
	}
	names := refusal{f.Field, strings.Join(path, "."), f.Name()}
	if n := len(path); n > 1 && (path[n-2] == "points" || path[n-2] == "bodies") {
		names = append(names, path[n-2])
	}
	for _, s := range sentinels {
		if errors.Is(f, s.err) {
			names = append(names, s.name)
		}
	}
	return names
}

// refusalProblem says how err differs from a refusal that names exactly the fields expected; ""
// where it does not. Each thing refused stands for one of the names expected, the most exact of its
// own: readings[1].load does not stand for load where both are expected.
func refusalProblem(expected []string, err error) string {
	if err == nil {
		return "expected to be refused for " + strings.Join(expected, ", ") + ", but it was computed"
	}
	missing, extra := slices.Clone(expected), []string(nil)
	for _, r := range refusals(err) {
		i := slices.IndexFunc(r, func(name string) bool { return slices.Contains(expected, name) })
		switch {
		case i >= 0:
			missing = slices.DeleteFunc(missing, func(name string) bool { return name == r[i] })
		case len(r) == 0:
			extra = append(extra, "something that is no field")
		default:
			extra = append(extra, r[0])
		}
	}
	slices.Sort(extra)
	extra = slices.Compact(extra)
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
