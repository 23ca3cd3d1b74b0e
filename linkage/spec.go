package linkage

import (
	"strings"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Spec describes a curve in one of several ways, of which exactly one is
// given. As JSON:
//
//	{"constant": 2.6, "travel": "150 mm"}
//	{"fork": {"head_angle": "64 deg", "travel": "170 mm"}}
//	{"table": {"stroke": ["0 mm", …], "travel": ["0 mm", …], "method": "monotone"}}
//	{"mechanism": {"points": {…}, "bodies": {…}, "axle": "A", "shock": ["S1", "S2"], "stroke": "57.5 mm"}}
//
// The travel beside a constant is the wheel's, vertical; a fork's is along the
// stanchions.
type Spec struct {
	*ConstantRatio                 // its fields stand in the JSON object itself
	Fork           *Fork           `json:"fork,omitempty"`
	Table          *Table          `json:"table,omitempty"`
	Mechanism      *mechanism.Spec `json:"mechanism,omitempty"`
}

// New returns the curve that a spec describes: [NewConstant], [NewFork],
// [NewTable], or [Compile] of a mechanism. The error names every bad field by its path, such as
// fork.head_angle, and the ways there are where not exactly one is given.
func New(spec Spec) (*Curve, error) {
	var given []string
	var curve *Curve
	var err error
	if spec.ConstantRatio != nil {
		given = append(given, "constant")
		curve, err = NewConstant(*spec.ConstantRatio)
	}
	if spec.Fork != nil {
		given = append(given, "fork")
		curve, err = NewFork(*spec.Fork)
		err = units.At("fork", err)
	}
	if spec.Table != nil {
		given = append(given, "table")
		curve, err = NewTable(*spec.Table)
		err = units.At("table", err)
	}
	if spec.Mechanism != nil {
		given = append(given, "mechanism")
		var m *mechanism.Mechanism
		if m, err = mechanism.New(*spec.Mechanism); err == nil {
			curve, err = Compile(m)
		}
		err = units.At("mechanism", err)
	}
	if len(given) == 1 {
		return curve, err
	}
	const want = "exactly one of constant (with travel), fork, table, mechanism"
	if len(given) == 0 {
		return nil, &units.FieldError{Package: "linkage", Want: want, Class: units.ErrMissing}
	}
	return nil, &units.FieldError{Package: "linkage", Want: want + ", not " + strings.Join(given, " and "), Class: units.ErrConflict}
}
