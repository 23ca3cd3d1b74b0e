package evaluate_test

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/refdata"
	"example.com/wheelrate/refdata/evaluate"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// sentinels are the errors that concern no single field, by their names in cases.
var sentinels = map[string]*units.Class{
	"topped_out": spring.ErrToppedOut, "bottomed_out": spring.ErrBottomedOut, "locks": mechanism.ErrLocks,
}

func TestRefusalsNameTheFieldsExpected(t *testing.T) {
	field := func(path string) error {
		return &units.FieldError{Package: "p", Field: path, Want: units.Want{Text: "better"}, Class: units.ErrRange}
	}
	joined := errors.Join(field("wire_diameter"), field("coil.active_coils"))
	tests := []struct {
		name     string
		expected []string
		err      error
		ok       bool
	}{
		{"the field", []string{"rate"}, field("rate"), true},
		{"no error", []string{"rate"}, nil, false},
		{"another field", []string{"rate"}, field("travel"), false},
		{"part of a name", []string{"rate"}, field("sub_rate"), false},
		{"last of a path", []string{"bore"}, field("front.air.bore"), true},
		{"whole path", []string{"front.air.bore"}, field("front.air.bore"), true},
		{"middle of a path", []string{"air"}, field("front.air.bore"), false},
		{"element of a list", []string{"at"}, field("at[3]"), true},
		{"element of a list, named so", []string{"at[3]"}, field("at[3]"), true},
		{"element of a nested list", []string{"law.parallel.starts_at"}, field("law.parallel[1].starts_at"), true},
		{"a point by its name", []string{"A"}, field("mechanism.points.A[0]"), true},
		{"a point by the list of points", []string{"points"}, field("mechanism.points.A[0]"), true},
		{"a body by the list of bodies", []string{"bodies"}, field("bodies.swingarm"), true},
		{"all of two", []string{"active_coils", "wire_diameter"}, joined, true},
		{"one of two", []string{"wire_diameter"}, joined, false},
		{"three of two", []string{"wire_diameter", "active_coils", "ends"}, joined, false},
		{"the same field twice", []string{"at"}, errors.Join(field("at[0]"), field("at[1]")), true},
		{"a name that ends another's path", []string{"load", "readings[1].load"}, errors.Join(field("load"), field("readings[1].load")), true},
		{"the same in another order", []string{"readings[1].load", "load"}, errors.Join(field("readings[1].load"), field("load")), true},
		{"a path for itself and for its end", []string{"load", "readings[1].load"}, field("readings[1].load"), false},
		{"two paths, one by its end", []string{"load", "readings[1].load"}, errors.Join(field("readings[0].load"), field("readings[1].load")), true},
		{"two elements of a path without indices", []string{"load", "readings.load"}, errors.Join(field("readings[0].load"), field("readings[1].load")), false},
		{"a field and its sentinel", []string{"stroke", "topped_out"}, errors.Join(&units.FieldError{Field: "stroke", Class: spring.ErrToppedOut}, spring.ErrToppedOut), true},
		{"two fields of one name", []string{"rate"}, errors.Join(field("front.rate"), field("rear.rate")), true},
		{"wrapped", []string{"rate"}, fmt.Errorf("while trying: %w", field("rate")), true},
		{"wrapped twice", []string{"rate", "travel"}, fmt.Errorf("%w and %w", field("rate"), field("travel")), true},
		{"no field at all", []string{"rate"}, errors.New("rate is bad"), false},
		{"field and something else", []string{"rate"}, errors.Join(field("rate"), errors.New("besides")), false},
		{"a class is no sentinel", []string{"rate"}, units.ErrRange, false},
	}
	for name, sentinel := range sentinels {
		tests = append(tests, []struct {
			name     string
			expected []string
			err      error
			ok       bool
		}{
			{name, []string{name}, sentinel, true},
			{name + " wrapped", []string{name}, fmt.Errorf("at 5 mm: %w", sentinel), true},
			{name + " as a field's class", []string{name}, &units.FieldError{Field: "stroke", Class: sentinel}, true},
			{name + " by its field", []string{"stroke"}, &units.FieldError{Field: "stroke", Class: sentinel}, true},
			{name + " not expected", []string{"rate"}, errors.Join(sentinel, field("rate")), false},
			{name + " not met", []string{name}, field("rate"), false},
		}...)
	}
	for _, tt := range tests {
		if j := evaluate.Judge(refdata.Case{Error: tt.expected}, nil, tt.err); j.Pass() != tt.ok || (j.Problem == "") != tt.ok {
			t.Errorf("%s: problem %q, want ok %v", tt.name, j.Problem, tt.ok)
		}
	}
}

// What is not named and what is named besides is listed once each, in order.
func TestRefusalsListWhatDiffers(t *testing.T) {
	bad := func(names ...string) (err error) {
		for _, name := range names {
			err = errors.Join(err, &units.FieldError{Field: name, Want: units.Want{Text: "better"}, Class: units.ErrRange})
		}
		return err
	}
	for want, row := range map[string]struct {
		expected []string
		err      error
	}{
		"expected to be refused for rate; named besides: load, travel; the error was: ": {[]string{"rate"}, bad("rate", "travel", "load", "travel")},
		"expected to be refused for rate, load; not named: load; the error was: ":       {[]string{"rate", "load"}, bad("rate")},
	} {
		if got := evaluate.Judge(refdata.Case{Error: row.expected}, nil, row.err).Problem; !strings.HasPrefix(got, want) {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
