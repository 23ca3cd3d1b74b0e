package sag

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
)

// limit is what is noted of one input: its size, and how far down and up the
// quantity can go.
type limit struct{ size, lo, hi float64 }

// limitsOf are those of all inputs of a model, each name once.
func limitsOf(t *testing.T, m *model) map[string]limit {
	t.Helper()
	list := map[string]limit{}
	for _, in := range m.inputs {
		l := limit{in.scale, in.lo, in.hi}
		if was, ok := list[in.name]; ok && was != l {
			t.Errorf("%s has %v and %v", in.name, was, l)
		}
		list[in.name] = l
	}
	return list
}

// Masses, rates, volumes, temperatures and the lever ratio stay above 0;
// preload, fill, port and oil are 0 or more; a share lies between 0 and 1, a
// head angle between 30° and 90°, an exponent between 1 and 2, a mass centre
// inside the wheelbase; friction, the travels of a table and what is read off
// go either way. By hand from the jobs.
func TestInputsHaveLimits(t *testing.T) {
	inf := math.Inf(1)
	const deg = math.Pi / 180
	centre := handJob()
	centre.Masses.RearShare, centre.Masses.Wheelbase, centre.Masses.MassCentreBehindFrontAxle = 0, 1.25, 0.75
	scales := handJob()
	scales.Masses.RearShare, scales.Masses.RiderMass, scales.Masses.FrontScale, scales.Masses.RearScale = 0, 0, 40, 61
	most := handJob()
	most.Masses.RearShare = 0.35
	chambers := handJob()
	chambers.Front.Air.Spec = airspring.Spec{
		Bore: tBore, Shaft: 0.01, Travel: 0.17, PositiveVolume: 250e-6, NegativeVolume: 60e-6, PortTravel: 0.008, OilVolume: 5e-6,
		SpacerVolume: 4e-6, Spacers: 2, SecondVolume: 40e-6, SecondFill: 2e6, Exponent: tExponent,
	}
	chambers.Rear.Curve = linkage.Spec{Table: &linkage.Table{Stroke: []units.Length{0, 0.02, 0.04, 0.06}, Travel: []units.Length{0, 0.055, 0.105, 0.15}, Method: linkage.Smooth}}
	for _, test := range []struct {
		name string
		job  Job
		u    Uncertainty
		want map[string]limit
	}{
		{"plain", handJob(), Uncertainty{RiderMass: 1, BikeMass: 1, UnsprungFront: 0.1, UnsprungRear: 0.1, RearShare: 0.01, Ambient: 100,
			Front: EndUncertainty{HeadAngle: 0.01, Friction: 1, Reading: 1e-3, GasTemperature: 0.01, Bore: 1e-5, PositiveVolume: 1e-6, OilVolume: 1e-6, Exponent: 0.01},
			Rear:  EndUncertainty{LeverRatio: 0.01, Friction: 1, Reading: 1e-3, SpringRate: 0.01, Preload: 1e-4}}, map[string]limit{
			"rider_mass": {80, -80, inf}, "bike_mass": {20, -20, inf}, "unsprung_front": {20, -2, inf}, "unsprung_rear": {20, -3, inf},
			"rear_share": {0.4, -0.6, 0.4}, "ambient": {98e3, -98e3, inf},
			"front.head_angle": {30 * deg, -34 * deg, 26 * deg}, "front.friction": {100 * tG, -inf, inf}, "front.reading": {0.16, -inf, inf},
			"front.gas_temperature": {1, -1, inf}, "front.bore": {0.035, -0.035, inf}, "front.positive_volume": {260e-6, -260e-6, inf},
			"front.oil_volume": {260e-6, -10e-6, inf}, "front.exponent": {1, -0.3, 0.7},
			"rear.lever_ratio": {1, -1, inf}, "rear.friction": {100 * tG, -inf, inf}, "rear.reading": {0.06, -inf, inf},
			"rear.spring_rate": {1, -1, inf}, "rear.preload": {0.06, -0.004, inf},
		}},
		{"more weight in front", most, Uncertainty{RearShare: 0.01}, map[string]limit{"rear_share": {0.35, -0.35, 0.65}}},
		{"mass centre", centre, Uncertainty{Wheelbase: 0.01, MassCentreBehindFrontAxle: 0.01}, map[string]limit{
			"wheelbase": {0.5, -0.5, inf}, "mass_centre_behind_front_axle": {0.5, -0.75, 0.5},
		}},
		{"scales", scales, Uncertainty{FrontScale: 0.1, RearScale: 0.1, UnsprungFront: 0.1, Rear: EndUncertainty{Friction: 1}}, map[string]limit{
			"front_scale": {40, -40, inf}, "rear_scale": {61, -61, inf}, "unsprung_front": {20, -2, inf}, "rear.friction": {101 * tG, -inf, inf},
		}},
		{"chambers and a table", chambers, Uncertainty{
			Front: EndUncertainty{Shaft: 1e-5, NegativeVolume: 1e-6, PortTravel: 1e-4, OilVolume: 1e-7, SpacerVolume: 1e-7, SecondVolume: 1e-6, SecondFill: 1e4},
			Rear:  EndUncertainty{TableTravel: 1e-4},
		}, map[string]limit{
			"front.shaft": {0.01, -0.01, inf}, "front.negative_volume": {60e-6, -60e-6, inf}, "front.port_travel": {0.17, -0.008, inf},
			"front.oil_volume": {250e-6, -5e-6, inf}, "front.spacer_volume": {4e-6, -4e-6, inf}, "front.second_volume": {40e-6, -40e-6, inf},
			"front.second_fill": {2e6, -2e6, inf}, "rear.table_travel": {0.05, -inf, inf},
		}},
	} {
		close := cmp.Comparer(func(a, b float64) bool { return a == b || math.Abs(a-b) <= 1e-14*math.Abs(b) })
		if diff := cmp.Diff(test.want, limitsOf(t, modelFor(t, test.job, test.u)), close, cmp.AllowUnexported(limit{})); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
	// The fill as recommended, up to the marking of 10 bar.
	m := modelFor(t, handJob(), Uncertainty{Front: EndUncertainty{Fill: 1e3}})
	if got := limitsOf(t, m)["front.fill"]; got != (limit{10e5, -float64(m.fit[0].fill), inf}) || !(m.fit[0].fill > 1e5) {
		t.Errorf("fill %+v", got)
	}
}

// An uncertainty is taken up to the size of its input, that very size too, and
// each end's inputs are its own.
func TestUncertaintyUpToTheSize(t *testing.T) {
	j := handJob()
	for want, u := range map[string]Uncertainty{
		"":                          {RiderMass: 80, Rear: EndUncertainty{Reading: tStroke}},
		"uncertainty.rider_mass":    {RiderMass: units.Mass(math.Nextafter(80, 81))},
		"uncertainty.rear.reading":  {Rear: EndUncertainty{Reading: units.Length(math.Nextafter(tStroke, 1))}},
		"uncertainty.front.reading": {Front: EndUncertainty{Reading: units.Length(math.Nextafter(tFork, 1))}},
	} {
		_, err := newModel(j, u)
		got := append(names(err), "")[0]
		if got != want {
			t.Errorf("refused %q, want %q", got, want)
		}
	}
	m := modelFor(t, j, Uncertainty{RiderMass: 1, UnsprungFront: 1, Front: EndUncertainty{Friction: 1, Exponent: 0.1}, Rear: EndUncertainty{Friction: 1, Preload: 1e-3}})
	got := map[string]int{}
	for _, in := range m.inputs {
		got[in.name] = in.end
	}
	if diff := cmp.Diff(map[string]int{"rider_mass": both, "unsprung_front": both, "front.friction": 0, "front.exponent": 0, "rear.friction": 1, "rear.preload": 1}, got); diff != "" {
		t.Errorf("ends (-want +got):\n%s", diff)
	}
}

// A table of readings has up to 100 travels beside the first, each an input of
// its own, a shelf up to 1000 springs.
func TestInputsAreBounded(t *testing.T) {
	table := func(n int) Job {
		j := handJob()
		var table linkage.Table
		for i := range n + 1 {
			table.Stroke = append(table.Stroke, tStroke*units.Length(i)/units.Length(n))
			table.Travel = append(table.Travel, tRatio*tStroke*units.Length(i)/units.Length(n))
		}
		if n > 2 {
			table.Method = linkage.Smooth
		}
		j.Rear.Curve = linkage.Spec{Table: &table}
		return j
	}
	u := Uncertainty{Rear: EndUncertainty{TableTravel: 1e-5}}
	for _, n := range []int{1, 2, 100} {
		m := modelFor(t, table(n), u)
		seen := map[*float64]bool{}
		for _, in := range m.inputs {
			near(t, "size of a travel", in.scale, tRatio*tStroke/float64(n), 1e-12)
			seen[in.at] = true
		}
		d := m.off.end[1].table
		if len(m.inputs) != n || len(seen) != n || len(d) != n+1 || seen[&d[0]] || !seen[&d[n]] {
			t.Errorf("%d travels have %d inputs for %d of %d places", n, len(m.inputs), len(seen), len(d))
		}
	}
	if got := names(second(newModel(table(101), u))); len(got) != 1 || got[0] != "uncertainty.rear.table_travel" {
		t.Errorf("101 travels: %v", got)
	}

	rates := make([]units.Stiffness, 1000)
	for i := range rates {
		rates[i] = 30e3 + 100*units.Stiffness(i)
	}
	m := modelFor(t, rivalJob(rates...), Uncertainty{Rear: EndUncertainty{SpringRate: 0.01}})
	if len(m.inputs) != 1000 || m.inputs[999].at != &m.off.end[1].rates[999] {
		t.Errorf("%d inputs of a thousand springs", len(m.inputs))
	}
}

// What the job's springs are held as: the spring of the shelf that is
// recommended, by its place, its preload and where it binds.
func TestFittedIsWhatTheSheetRecommends(t *testing.T) {
	j := rivalJob(50e3, 68e3, 76e3, 90e3) // 67.2 N/mm are wanted
	j.Rear.Coil.Shelf[1].SolidTravel = 0.081
	f := modelFor(t, j, Uncertainty{}).fit[1]
	if f.rate != 68e3 || f.index != 1 {
		t.Errorf("fitted %+v", f)
	}
	near(t, "preload", float64(f.preload), tPreload, 1e-15)
	near(t, "solid", float64(f.solid), 0.081, 1e-12)
	j.Rear.Coil.Shelf[1].SolidTravel = 0
	if f = modelFor(t, j, Uncertainty{}).fit[1]; f.solid != 0 {
		t.Errorf("binds at %v, which nobody said", f.solid)
	}
}

// An uncertainty is not measured by what the job has wrong or leaves out: that
// is named alone.
func TestUncertaintyOfAJobAtFault(t *testing.T) {
	table := func(travel ...units.Length) func(*Job) {
		return func(j *Job) {
			j.Rear.Curve = linkage.Spec{Table: &linkage.Table{Stroke: []units.Length{0}, Travel: travel}}
		}
	}
	for _, test := range []struct {
		name  string
		spoil func(*Job)
		u     Uncertainty
		want  []string
	}{
		{"no rider", func(j *Job) { j.Masses.RiderMass = 0 }, Uncertainty{RiderMass: 1}, []string{"masses.rider_mass"}},
		{"no bore", func(j *Job) { j.Front.Air.Bore = 0 }, Uncertainty{Front: EndUncertainty{Bore: 1e-4, Fill: 1e3}}, []string{"front.air.bore"}},
		{"a table of one point", table(0), Uncertainty{Rear: EndUncertainty{TableTravel: 1e-4, Reading: 1e-3}}, []string{"rear.curve.table.stroke", "rear.curve.table.travel"}},
		{"a table of a point and nothing", table(), Uncertainty{Rear: EndUncertainty{TableTravel: 1e-4}}, []string{"rear.curve.table.stroke", "rear.curve.table.travel"}},
		{"no curve", func(j *Job) { j.Rear.Curve = linkage.Spec{} }, Uncertainty{Rear: EndUncertainty{Reading: 2, Preload: 2}}, []string{"rear.curve"}},
		{"no springs", func(j *Job) { j.Rear.Coil.Shelf = nil }, Uncertainty{Rear: EndUncertainty{SpringRate: 0.1}}, []string{"rear.coil.shelf"}},
	} {
		j := handJob()
		test.spoil(&j)
		if diff := cmp.Diff(test.want, names(second(Propagate(j, test.u)))); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}
