package evaluate

import (
	"errors"
	"fmt"
	"testing"

	"example.com/wheelrate/units"
)

func TestRefusalProblem(t *testing.T) {
	field := func(path string) error {
		return &units.FieldError{Package: "p", Field: path, Want: "better", Class: units.ErrRange}
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
		{"two fields of one name", []string{"rate"}, errors.Join(field("front.rate"), field("rear.rate")), true},
		{"wrapped", []string{"rate"}, fmt.Errorf("while trying: %w", field("rate")), true},
		{"wrapped twice", []string{"rate", "travel"}, fmt.Errorf("%w and %w", field("rate"), field("travel")), true},
		{"no field at all", []string{"rate"}, errors.New("rate is bad"), false},
		{"field and something else", []string{"rate"}, errors.Join(field("rate"), errors.New("besides")), false},
		{"a class is no sentinel", []string{"rate"}, units.ErrRange, false},
	}
	for _, s := range sentinels {
		tests = append(tests, []struct {
			name     string
			expected []string
			err      error
			ok       bool
		}{
			{s.name, []string{s.name}, s.err, true},
			{s.name + " wrapped", []string{s.name}, fmt.Errorf("at 5 mm: %w", s.err), true},
			{s.name + " as a field's class", []string{s.name}, &units.FieldError{Field: "stroke", Class: s.err}, true},
			{s.name + " by its field", []string{"stroke"}, &units.FieldError{Field: "stroke", Class: s.err}, true},
			{s.name + " not expected", []string{"rate"}, errors.Join(s.err, field("rate")), false},
			{s.name + " not met", []string{s.name}, field("rate"), false},
		}...)
	}
	for _, tt := range tests {
		if got := refusalProblem(tt.expected, tt.err); (got == "") != tt.ok {
			t.Errorf("%s: problem %q, want ok %v", tt.name, got, tt.ok)
		}
	}
}
