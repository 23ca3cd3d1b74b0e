package evaluate

import (
	"fmt"
	"slices"
	"strings"

	"example.com/wheelrate/units"
)

// refusal is one thing an error complains of, under every name by which a case may expect it, the
// most exact first. What neither names a field nor has a class of its own has no name, and no case can
// expect it.
type refusal []string

// refusals lists what err complains of. The names of a bad field are its path with and without indices,
// its own, that of the object whose keys are the user's own names, and the code of a class such as
// spring.ErrToppedOut, which is a kind of one of package units.
func refusals(err error) (list []refusal) {
	for _, f := range units.Faults(err) {
		var names refusal
		var path []string
		for name, index := range f.Path() {
			if !index {
				path = append(path, name)
			}
		}
		if f.Field != "" {
			names = refusal{f.Field, strings.Join(path, "."), f.Name()}
		}
		if n := len(path); n > 1 && (path[n-2] == "points" || path[n-2] == "bodies") {
			names = append(names, path[n-2])
		}
		if f.Class.Unwrap() != nil {
			names = append(names, f.Class.Code())
		}
		list = append(list, names)
	}
	return list
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
	return text + "the error was: " + err.Error()
}
