package setup_test

import (
	"encoding/json"
	"iter"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/internal/sagtest"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

const jobText = sagtest.JobText

var (
	readJob, sheet = sagtest.Job, sagtest.Sheet
	near, names    = sagtest.Near, sagtest.Names
	linear, bend   = sagtest.Linear, sagtest.Bend
)

// curveOf is the curve of an end.
func curveOf(t testing.TB, e setup.EndJob) *linkage.Curve {
	t.Helper()
	return sagtest.Curve(t, e.Curve)
}

func template(t testing.TB) *setup.Template {
	t.Helper()
	b, err := setup.NewTemplate(readJob(t, jobText))
	require.NoError(t, err)
	return b
}

// massesFrom yields n masses from 40 kg on, in even steps up to 120 kg.
func massesFrom(n int) iter.Seq[units.Mass] {
	return func(yield func(units.Mass) bool) {
		for i := range n {
			if !yield(40 + 80*units.Mass(i)/units.Mass(n)) {
				return
			}
		}
	}
}

// text is a value as JSON.
func text(t testing.TB, v any) string {
	t.Helper()
	out, err := json.Marshal(v)
	require.NoError(t, err)
	return string(out)
}

// plainJob is an invented job with one coil of 80 N/mm and a collar fixed at 1 mm
// behind a constant ratio of 2.5, and one of 9 N/mm without preload in a
// vertical fork: all of it can be worked by hand.
func plainJob(t testing.TB) setup.Job {
	t.Helper()
	return readJob(t, `{
	  "schema": "wheelrate/job/1",
	  "masses": {"rider_mass": "80 kg", "bike_mass": "20 kg", "unsprung_front": "2 kg", "unsprung_rear": "3 kg", "rear_share": 0.6},
	  "front": {"curve": {"constant": 1, "travel": "160 mm"}, "sag": 0.25, "coil": {"shelf": [{"rate": "9 N/mm", "solid_travel": "170 mm"}]}},
	  "rear": {"curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.28,
	    "coil": {"shelf": [{"rate": "80 N/mm", "solid_travel": "70 mm"}], "preload_min": "1 mm", "preload_max": "1 mm"}}
	}`)
}

// under is the plain job with so much on the spring of either end, and nothing
// unsprung.
func under(t testing.TB, load units.Force) setup.Job {
	t.Helper()
	j := plainJob(t)
	j.Masses = sag.Masses{RiderMass: load.Mass(), BikeMass: load.Mass(), UnsprungFront: new(units.Mass(0)), UnsprungRear: new(units.Mass(0)), RearShare: 0.5}
	return j
}

const g0 = 9.80665

// airSpring is an invented shock of one chamber, with all that it needs.
func airSpring() *fit.Chamber {
	return &fit.Chamber{
		NegativeChamber: fit.None,
		Spec:            airspring.Spec{Bore: 0.045, PositiveVolume: 190e-6, Exponent: 1.4, Ambient: 98e3},
		MaxFill:         units.BarGauge(40),
	}
}

// codes are the warnings of a sheet: "rear goes_solid".
func codes(s *setup.Sheet) []string {
	list := []string{}
	for _, w := range s.Warnings {
		list = append(list, w.Field+" "+w.Code)
	}
	return list
}

// warning is the one of a code about an end; the test fails where there is none.
func warning(t testing.TB, s *setup.Sheet, end, code string) units.Warning {
	t.Helper()
	for _, w := range s.Warnings {
		if w.Field == end && w.Code == code {
			return w
		}
	}
	t.Fatalf("no %s of %s among %v", code, end, codes(s))
	return units.Warning{}
}

// refused checks that an error complains of these fields and no others; of none,
// that there is no error.
func refused(t testing.TB, what string, err error, fields ...string) {
	t.Helper()
	got := names(err)
	slices.Sort(got)
	slices.Sort(fields)
	if !slices.Equal(got, fields) {
		t.Errorf("%s: complains of %q, want %q: %v", what, got, fields, err)
	}
}

func justBelow(x float64) float64 { return math.Nextafter(x, math.Inf(-1)) }
func justAbove(x float64) float64 { return math.Nextafter(x, math.Inf(1)) }

// part is the sheet without what only NewSheet adds to it: riders, pump, what was taken for granted
// and its effects, and implausible values.
func part(s *setup.Sheet) *setup.Sheet {
	p := *s
	p.Riders, p.LeftOut, p.Warnings = nil, []setup.Omission{}, []units.Warning{}
	for _, end := range []**setup.EndSheet{&p.Front, &p.Rear} {
		if *end != nil {
			one := **end
			one.Pump, *end = nil, &one
		}
	}
	for _, o := range s.LeftOut {
		if slices.Contains([]string{"coupled", "geometry", "head_angle", "trail", "bottom_bracket", "free_sag", "stances"}, o.Code) {
			o.Effects = nil
			o.Text, _, _ = strings.Cut(o.Text, " With a wheelbase")
			p.LeftOut = append(p.LeftOut, o)
		}
	}
	for _, w := range s.Warnings {
		if w.Code != "implausible" {
			p.Warnings = append(p.Warnings, w)
		}
	}
	return &p
}

// omission is that of a code and a field; the test fails where there is none.
func omission(t testing.TB, s *setup.Sheet, code, field string) setup.Omission {
	t.Helper()
	for _, o := range s.LeftOut {
		if o.Code == code && o.Field == field {
			return o
		}
	}
	t.Fatalf("no %s of %s among %+v", code, field, s.LeftOut)
	return setup.Omission{}
}
