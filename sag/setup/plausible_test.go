package setup_test

import (
	"encoding/json"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// implausible are the fields of a sheet's warnings of implausible values.
func implausible(t testing.TB, list []units.Warning) []string {
	t.Helper()
	fields := []string{}
	for _, w := range list {
		if w.Code == "implausible" {
			fields = append(fields, w.Field)
			if w.Value == "" || w.Limit == "" || w.Text == "" || w.Source == "" || strings.Contains(w.Text, "%!") {
				t.Errorf("%+v", w)
			}
		}
	}
	return fields
}

// Nothing of a plausible job is called implausible, and each thing that isn't is named by its field. None
// of it is refused.
func TestImplausibleValuesAreNamed(t *testing.T) {
	for _, name := range []string{"job.json", "coil-fork.json", "hardtail.json"} {
		if got := implausible(t, sheet(t, demonstration(t, name)).Warnings); len(got) != 0 {
			t.Errorf("%s: %q", name, got)
		}
	}
	coil := func(change func(*fit.Shelf)) func(*setup.Job) { return func(j *setup.Job) { change(j.Rear.Coil) } }
	air := func(change func(*fit.Chamber)) func(*setup.Job) { return func(j *setup.Job) { change(j.Front.Air) } }
	for _, test := range []struct {
		name   string
		change func(*setup.Job)
		want   []string
	}{
		{"a rider of 820 kg", func(j *setup.Job) { j.Masses.RiderMass = 820 }, []string{"masses.rider_mass", "rear.coil.shelf"}},
		{"a travel of 50 m", func(j *setup.Job) {
			j.Front.Curve.Fork.Travel, j.Front.Air = 50, nil
			j.Front.Coil = &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 10e3, SolidTravel: 0.3}}}
		}, []string{"front.curve.fork.travel", "front.coil.shelf"}},
		{"a preload of 1 m", coil(func(s *fit.Shelf) { s.PreloadMax = 1 }), []string{"rear.coil.preload_max"}},
		{"a sag of 0.8", func(j *setup.Job) { j.Rear.Sag = 0.8 }, []string{"rear.sag"}},
		{"a marking ten times too high", air(func(a *fit.Chamber) { a.MaxFill = units.BarGauge(100) }), []string{"front.air.max_fill", "front.air.max_fill"}},
		{"columns swapped", func(j *setup.Job) {
			c := j.Rear.Curve.Table
			j.Rear.Curve.Table = &linkage.Table{Stroke: c.Travel, Travel: c.Stroke, Method: c.Method}
		}, []string{"rear.curve", "rear.coil.shelf"}},
		{"a ratio the other way round", func(j *setup.Job) {
			j.Rear.Curve = linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 0.4, Travel: 0.06}}
		}, []string{"rear.curve.constant", "rear.curve", "rear.coil.shelf"}},
		{"a ratio of 8", func(j *setup.Job) {
			j.Rear.Curve = linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 8, Travel: 0.2}}
		}, []string{"rear.curve.constant", "rear.curve", "rear.coil.shelf"}},
		{"a fork that moves the wheel more than its spring", func(j *setup.Job) {
			j.Front.Curve = linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 1.1, Travel: 0.17}}
		}, []string{"front.curve"}},
		{"a bike as heavy as two riders", func(j *setup.Job) { j.Masses.BikeMass = 164 }, []string{"masses.bike_mass", "masses.bike_mass"}},
		{"half the bike unsprung", func(j *setup.Job) { *j.Masses.UnsprungRear = 8 }, []string{"masses.unsprung_rear"}},
		{"a head angle of a chopper", func(j *setup.Job) { j.Front.Curve.Fork.HeadAngle = 35 * units.Degree }, []string{"front.curve.fork.head_angle"}},
		{"friction above the spring", func(j *setup.Job) { j.Front.Friction = 390 }, []string{"front.friction"}},
		{"rates ten times too low", coil(func(s *fit.Shelf) {
			s.Springs = slices.Clone(s.Springs)
			for i := range s.Springs {
				s.Springs[i].Rate /= 10
			}
		}), []string{"rear.coil.shelf"}},
		{"rates in other units", coil(func(s *fit.Shelf) {
			s.Springs = slices.Clone(s.Springs)
			for i := range s.Springs {
				s.Springs[i].Rate *= 5.71
			}
		}), []string{"rear.coil.shelf[2].rate", "rear.coil.shelf"}},
		{"chambers swapped", air(func(a *fit.Chamber) { a.NegativeVolume = 260e-6 }), []string{"front.air.negative_volume"}},
		{"a spring filled past its marking", air(func(a *fit.Chamber) { a.Fill = units.BarGauge(11) }), []string{"front.air.fill"}},
		{"a wheelbase in the wrong unit", func(j *setup.Job) { j.Masses.Wheelbase, j.Masses.MassCentreHeight = 12, 11 }, []string{"masses.wheelbase", "masses.mass_centre_height"}},
		{"another rider", func(j *setup.Job) { j.Riders = []units.Mass{70, 7000} }, []string{"riders[1]"}},
	} {
		j := readJob(t, jobText)
		test.change(&j)
		if diff := cmp.Diff(test.want, implausible(t, sheet(t, j).Warnings)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
	// 82 g: nothing here is soft enough for it, which is another warning.
	j := plainJob(t)
	j.Masses.RiderMass = 82 * units.Gram
	w := sheet(t, j).Warnings
	require.Contains(t, implausible(t, w), "masses.rider_mass")
	for _, one := range w {
		if one.Field == "masses.rider_mass" {
			require.Equal(t, units.Warning{Code: "implausible", Field: "masses.rider_mass", Value: "0.082 kg", Limit: "from 25 kg to 180 kg",
				Text:   "0.082 kg is stated, where the mass of a rider is from 25.0 kg (55.1 lb) to 180.0 kg (396.8 lb): look at the number and its unit.",
				Source: "a choice of this package"}, one)
		}
	}
	if w := warning(t, sheet(t, func() setup.Job {
		j := plainJob(t)
		j.Rear.Curve.ConstantRatio.Ratio = 0.4
		j.Rear.Curve.ConstantRatio.Travel = 0.06
		return j
	}()), "rear.curve", "implausible"); !strings.Contains(w.Text, "columns stroke and travel swapped") {
		t.Errorf("%+v", w)
	}
}

// A table that goes through readings with errors has a warning with its place, and one of ratios makes a sheet.
func TestReadingsWithErrorsAreTold(t *testing.T) {
	j := plainJob(t)
	table := linkage.Table{}
	for i := range 31 {
		s := 2e-3 * float64(i)
		table.Travel = append(table.Travel, units.Length(2.5*s))
		table.LeverRatio = append(table.LeverRatio, 2.9-10*s+0.15*float64(i%2))
	}
	j.Rear.Curve = linkage.Spec{Table: &table}
	if w := warning(t, sheet(t, j), "rear.curve.table", "table_scatters"); !strings.Contains(w.Text, "measured") {
		t.Errorf("%+v", w)
	}
	table.Method = linkage.Measured
	for _, w := range sheet(t, j).Warnings {
		require.NotEqual(t, "table_scatters", w.Code)
	}
}

// What is usual is a range of one kind of value, in a unit of its own.
func TestUsualValuesAreRanges(t *testing.T) {
	text, err := os.ReadFile("usual.json")
	require.NoError(t, err)
	var list []struct {
		Names, What string
		Low, High   any
	}
	require.NoError(t, json.Unmarshal(text, &list))
	require.Greater(t, len(list), 40)
	for _, u := range list {
		low, number := u.Low.(float64)
		high, _ := u.High.(float64)
		ranges := number && low < high
		for _, rises := range []func(low, high string) bool{
			rises[units.Mass], rises[units.Length], rises[units.Volume], rises[units.Force], rises[units.Stiffness], rises[units.Angle],
			rises[units.GaugePressure], rises[units.AbsolutePressure],
		} {
			ranges = ranges || !number && rises(u.Low.(string), u.High.(string))
		}
		if !ranges || u.Names == "" || u.What == "" {
			t.Errorf("%+v", u)
		}
	}
}

func rises[Q units.Dimensional](low, high string) bool {
	from, err := units.Parse[Q](low)
	to, other := units.Parse[Q](high)
	return err == nil && other == nil && from < to
}

// Two values of a job are held against each other from where the limit says: at the limit nothing is said,
// a little beyond it something is. By hand, 600 N behind 2.5 at 16.8 mm is a spring of 89.3 N/mm.
func TestValuesThatDoNotGoTogether(t *testing.T) {
	rear := func(change func(*setup.EndJob)) func(*setup.Job) { return func(j *setup.Job) { change(j.Rear) } }
	ratio := func(ratio float64) func(*setup.Job) {
		return rear(func(e *setup.EndJob) {
			e.Curve.ConstantRatio = &linkage.ConstantRatio{Ratio: ratio, Travel: 0.15}
			e.Coil.Springs = []fit.ShelfSpring{{Rate: 1e3}, {Rate: 400e3}}
		})
	}
	rates := func(rates ...units.Stiffness) func(*setup.Job) {
		return rear(func(e *setup.EndJob) {
			e.Coil.Collar, e.Coil.Springs = fit.Collar{}, nil
			for _, k := range rates {
				e.Coil.Springs = append(e.Coil.Springs, fit.ShelfSpring{Rate: k})
			}
		})
	}
	air := func(change func(*fit.Chamber)) func(*setup.Job) {
		return rear(func(e *setup.EndJob) {
			e.Coil, e.Air = nil, airSpring()
			change(e.Air)
		})
	}
	unsprung := func(m units.Mass) func(*setup.Job) {
		return func(j *setup.Job) { j.Masses.BikeMass, *j.Masses.UnsprungRear = 15, m }
	}
	bike := func(m units.Mass) func(*setup.Job) {
		return func(j *setup.Job) { j.Masses.RiderMass, j.Masses.BikeMass = 40, m }
	}
	for _, test := range []struct {
		name        string
		field       string
		at, past    func(*setup.Job)
		alsoSilent  func(*setup.Job) // may be nil
		wantInWords string
	}{
		{"a third of the bike", "masses.unsprung_rear", unsprung(5), unsprung(5.1), nil, "5.1 kg (11.2 lb) are said to be unsprung"},
		{"bike and rider", "masses.bike_mass", bike(40), bike(40.1), nil, "heavier than its rider"},
		{"a ratio of 1", "rear.curve", ratio(1), ratio(0.99), ratio(1.4), "a lever ratio of 0.990"},
		{"a ratio of 6", "rear.curve", ratio(6), ratio(6.1), nil, "6.100 times as far"},
		{"the marking", "rear.air.fill", air(func(a *fit.Chamber) { a.MaxFill, a.Fill = units.BarGauge(30), units.BarGauge(30) }),
			air(func(a *fit.Chamber) { a.MaxFill, a.Fill = units.BarGauge(30), units.BarGauge(30.5) }), nil, "more than its marking permits, 30.00 bar"},
		{"a tenth of the marking", "rear.air.max_fill", air(func(a *fit.Chamber) { a.Bore, a.PositiveVolume, a.MaxFill = 0.07, 400e-6, units.BarGauge(28) }),
			air(func(a *fit.Chamber) { a.Bore, a.PositiveVolume, a.MaxFill = 0.07, 400e-6, units.BarGauge(35) }), nil, "a tenth or less of the marking"},
		{"a piston as wide as the travel", "rear.air.bore",
			rear(func(e *setup.EndJob) {
				e.Coil, e.Air, e.Curve.ConstantRatio = nil, airSpring(), &linkage.ConstantRatio{Ratio: 2, Travel: 0.045}
			}), rear(func(e *setup.EndJob) {
				e.Coil, e.Air, e.Curve.ConstantRatio = nil, airSpring(), &linkage.ConstantRatio{Ratio: 2, Travel: 0.044}
			}), nil, "wider, 45.0 mm"},
		{"four times the hardest", "rear.coil.shelf", rates(20e3, 22.5e3), rates(20e3, 22e3), rates(22.5e3, 20e3), "The exact spring, 510 lbf/in (89.29 N/mm), is more than four times"},
		{"a quarter of the softest", "rear.coil.shelf", rates(356e3, 400e3), rates(358e3, 400e3), rates(400e3, 356e3), "all of the shelf, 2044 lbf/in (358.00 N/mm)"},
	} {
		job := func(change func(*setup.Job)) []units.Warning {
			j := under(t, 600)
			if strings.HasPrefix(test.field, "masses") {
				j = plainJob(t)
			}
			change(&j)
			return slices.DeleteFunc(sheet(t, j).Warnings, func(w units.Warning) bool { return w.Code != "implausible" || w.Field != test.field })
		}
		if got := job(test.at); len(got) != 0 {
			t.Errorf("%s, at the limit: %+v", test.name, got)
		}
		if got := job(test.past); len(got) != 1 || !strings.Contains(got[0].Text, test.wantInWords) {
			t.Errorf("%s, past the limit: %+v", test.name, got)
		}
		if test.alsoSilent == nil {
			continue
		}
		if got := job(test.alsoSilent); len(got) != 0 {
			t.Errorf("%s, within: %+v", test.name, got)
		}
	}
}

// The limits themselves are plausible, and what is not stated is not looked at. A record's own fields are
// named by its own paths; what is uncertain, and numbers of another kind by the same name, are left alone.
func TestImplausibleOfAnyStruct(t *testing.T) {
	type part struct {
		Bore units.Length `json:"bore"`
		Fill float64      `json:"fill"` // no pressure
	}
	type spec struct {
		part
		Rider       units.Mass        `json:"rider_mass"`
		Rates       []units.Stiffness `json:"rate"`
		Parts       []part            `json:"parts"`
		Known       *part             `json:"known"`
		Uncertainty part              `json:"uncertainty"`
		Any         any               `json:"any"`
		Hidden      units.Length      `json:"-"`
		Sag         float64           `json:"sag"`
	}
	for _, good := range []spec{{}, {Rider: 25, Sag: 0.05}, {Rider: 180, Sag: 0.5}, {Rates: []units.Stiffness{5e6, 1e3}}, {Uncertainty: part{Bore: 1}}, {part: part{Fill: 1e9}}} {
		if got := setup.Implausible("", good); len(got) != 0 {
			t.Errorf("%+v: %+v", good, got)
		}
	}
	bad := spec{
		part: part{Bore: 1e-3}, Rider: units.Mass(justAbove(180)), Rates: []units.Stiffness{1e3, 5e5}, Known: &part{Bore: 1}, Any: part{Bore: 1},
		Parts: []part{{Bore: 0.04}, {Bore: 1}, {Bore: 1}}, Sag: justBelow(0.05),
	}
	if diff := cmp.Diff([]string{"e.bore", "e.rider_mass", "e.rate[1]", "e.parts[1].bore", "e.known.bore", "e.any.bore", "e.sag"}, implausible(t, setup.Implausible("e", bad))); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	if setup.Implausible("", nil) != nil {
		t.Error("of nothing")
	}
}

// What is implausible stands first, since other warnings may follow from it, and there is a list without any.
func TestImplausibleStandsFirst(t *testing.T) {
	j := readJob(t, jobText)
	j.Masses.RiderMass = 820
	list := sheet(t, j).Warnings
	if len(list) < 3 || list[0].Code != "implausible" || list[len(list)-1].Code == "implausible" {
		t.Errorf("%+v", list)
	}
	j = plainJob(t)
	j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = 0, 5e-3
	if s := sheet(t, j); s.Warnings == nil {
		t.Error("warnings are null in JSON")
	}
}
