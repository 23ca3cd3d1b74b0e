package sag

import (
	"errors"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// What couples both ends, and what is missing for it, said by name.
func TestWhatCouples(t *testing.T) {
	for _, test := range []struct {
		m    Masses
		says string // of what is missing; empty for nothing
	}{
		{Masses{}, "give wheelbase and mass_centre_height"},
		{Masses{MassCentreHeight: 1}, "give wheelbase and mass_centre_height"},
		{Masses{Wheelbase: 1.2}, "give mass_centre_height"},
		{Masses{Wheelbase: 1.2, MassCentreHeight: 1, FrontScale: 40}, "scales"},
		{Masses{Wheelbase: 0.9, MassCentreHeight: 0.5}, ""},
	} {
		ok, why := test.m.couples()
		if ok != (test.says == "") || why.Code != "coupled" || !strings.Contains(why.Text, test.says) || (why.Text == "") != ok {
			t.Errorf("%+v: %v, %+v", test.m, ok, why)
		}
	}
}

// Scales that differ from the masses by a hundredth agree with them; by more
// they don't; and where no rider is stated there is nothing to agree with.
func TestScalesAgreeToAHundredth(t *testing.T) {
	for _, test := range []struct {
		m     Masses
		warns bool
	}{
		{Masses{RiderMass: 80, BikeMass: 20, FrontScale: 41, RearScale: 60}, false},
		{Masses{RiderMass: 80, BikeMass: 20, FrontScale: 41.001, RearScale: 60}, true},
		{Masses{RiderMass: 80, BikeMass: 20, FrontScale: 39, RearScale: 60}, false},
		{Masses{RiderMass: 80, BikeMass: 20, FrontScale: 38.999, RearScale: 60}, true},
		{Masses{BikeMass: 20, FrontScale: 40, RearScale: 60}, false},
		{Masses{RiderMass: 0.2, BikeMass: 0.2, FrontScale: 0.4, RearScale: 0.4}, true},
		{Masses{RiderMass: 80, BikeMass: 20}, false},
	} {
		s := &Sheet{}
		list := s.standingWarnings(test.m)
		if len(list) != 0 != test.warns {
			t.Errorf("%+v: %+v", test.m, list)
		}
		if test.warns && (list[0].Code != "scales_disagree" || list[0].Field != "masses" || list[0].Value == "" || list[0].Limit == "") {
			t.Errorf("%+v", list[0])
		}
	}
	// Both are told in both units: 200 lb are 90.7 kg.
	if got := bothMasses(200 * 0.45359237); got != "90.7 kg (200.0 lb)" {
		t.Error(got)
	}
}

// Each end of each stance that goes to full travel is told, by name.
func TestEveryCollapseIsTold(t *testing.T) {
	s := &Sheet{Stances: []StanceSheet{
		{Name: "up"},
		{Name: "down", Front: Standing{Finding: Collapses}},
		{Name: "back", Front: Standing{Finding: HeldAtTop}, Rear: Standing{Finding: Collapses}},
	}}
	list := s.standingWarnings(Masses{})
	require.Len(t, list, 2)
	for i, want := range [][2]string{{"front", "down"}, {"rear", "back"}} {
		if w := list[i]; w.Code != "stance_collapses" || w.Field != want[0] || w.Value != want[1] || !strings.Contains(w.Text, want[1]) {
			t.Errorf("%+v, want %v", w, want)
		}
	}
}

// Of more stances than are worked out none is looked at.
func TestTooManyStancesAreNotLookedAt(t *testing.T) {
	var c units.Checker
	checkStances(&c, make([]NamedStance, 101))
	named(t, "101", c.Err(), "stances")
	list := make([]NamedStance, 100)
	for i := range list {
		list[i] = NamedStance{strconv.Itoa(i), 0.5}
	}
	c = units.Checker{}
	checkStances(&c, list)
	named(t, "100", c.Err())
}

// softJob has two ends of 0.5 N/mm over 100 mm, which any rider takes to full
// travel: level at an even split of 97 kg, so that it stands. With 95 % on the
// rear the front of 47.6 N begins to rise, by 1.9 mm for each newton less, and
// the mass centre of 1 m goes back by more than it unloads: by hand
// 97·g₀/500/1.2² = 1.32 for each part of the weight. It has no stance.
func softJob(t *testing.T) Job {
	return readJob(t, `{
	  "schema": "wheelrate/job/1",
	  "masses": {"rider_mass": "80 kg", "bike_mass": "17 kg", "rear_share": 0.5, "wheelbase": "1.2 m", "mass_centre_height": "1 m"},
	  "front": {"curve": {"constant": 1, "travel": "100 mm"}, "sag": 0.25, "coil": {"shelf": [{"rate": "0.5 N/mm", "solid_travel": "170 mm"}]}},
	  "rear": {"curve": {"constant": 1, "travel": "100 mm"}, "sag": 0.25, "coil": {"shelf": [{"rate": "0.5 N/mm", "solid_travel": "170 mm"}]}}
	}`)
}

func TestStanceThatDoesNotStand(t *testing.T) {
	j := softJob(t)
	j.Stances = []NamedStance{{"level", 0.5}, {"back", 0.9}}
	s := sheet(t, j)
	require.NotNil(t, s.Coupled)
	require.Len(t, s.Stances, 2)
	if s.Coupled.Pitch != 0 || s.Stances[1].Coupled == nil || s.Coupled.FrontSag != 1 || s.Coupled.RearShareChange > 1e-12 {
		t.Errorf("%+v", s.Coupled)
	}
	j.Stances = []NamedStance{{"wheelie", 0.95}, {"level", 0.5}}
	_, err := NewSheet(j)
	named(t, "a stance", err, "masses.mass_centre_height")
	if !strings.Contains(err.Error(), "wheelie") {
		t.Errorf("%v", err)
	}
	// The bike itself, when nothing is asked of stances.
	j.Stances, j.Masses.RearShare = nil, 0.95
	_, err = NewSheet(j)
	named(t, "the bike", err, "masses.mass_centre_height")
	if strings.Contains(err.Error(), "wheelie") {
		t.Errorf("%v", err)
	}
}

// Free sag of a bike whose own share is stated, and without which nothing would
// stand on the front; a fault of another kind is told all the same.
func TestFreeSagOfEitherShare(t *testing.T) {
	j := plainJob(t)
	j.Masses.RearShare, j.Masses.UnsprungFront, j.Masses.BikeRearShare = 0.8, 5, 0.5
	s := sheet(t, j)
	if s.Free == nil || s.Free.ShareAssumed || s.Free.Loads.RearShare != 0.5 {
		t.Errorf("%+v", s.Free)
	}
	near(t, "front load", float64(s.Free.Front.Load), 5*g0, 1e-12)
}

// endOf solves the plain rear end under a load, for warnings of its numbers.
func endOf(t *testing.T, load units.Force) EndSheet {
	t.Helper()
	p := prepared{curve: constant(t, 2.5, 0.15), EndJob: EndJob{Sag: 0.28, Coil: &CoilChoice{Shelf: []ShelfSpring{{Rate: 80e3, SolidTravel: 0.2}}, PreloadMax: 0.01}}}
	e, err := p.solve(load+50, load)
	require.NoError(t, err)
	return e
}

// Each warning of a number begins where its doc comment says.
func TestWarningsBeginWhereTheySay(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(*EndSheet)
		want   string // empty for none
	}{
		{"nothing", func(*EndSheet) {}, ""},
		{"a rate of nothing at the sag", func(e *EndSheet) { e.Rest.WheelRate = 0 }, "rate_not_positive"},
		{"a rate below 1 N/m at the sag", func(e *EndSheet) { e.Rest.WheelRate = 0.5 }, ""},
		{"a least rate of nothing", func(e *EndSheet) { e.MinWheelRate = 0 }, "wheel_rate_negative"},
		{"a least rate below 1 N/m, before the sag", func(e *EndSheet) { e.MinWheelRate, e.MinRateTravel = 0.5, 0 }, ""},
		{"the least at the sag itself", func(e *EndSheet) { e.MinWheelRate, e.MinRateTravel = 0.5, e.Rest.Travel }, ""},
		{"a fall of a twentieth", func(e *EndSheet) { e.Rest.WheelRate, e.MinWheelRate, e.MinRateTravel = 100, 95, 0.1 }, ""},
		{"a little more", func(e *EndSheet) {
			e.Rest.WheelRate, e.MinWheelRate, e.MinRateTravel = 100, units.Stiffness(justBelow(95)), 0.1
		}, "wheel_rate_falls"},
		{"as much as the spring's own fall", func(e *EndSheet) {
			e.Rest.WheelRate, e.MinWheelRate, e.MinRateTravel, e.Rest.SpringRate = 100, 48, 0.1, 160e3 // to 80e3, half
		}, ""},
		{"more than the spring's own fall", func(e *EndSheet) {
			e.Rest.WheelRate, e.MinWheelRate, e.MinRateTravel, e.Rest.SpringRate = 100, 47, 0.1, 160e3
		}, "wheel_rate_falls"},
		{"a spring that hardens by itself", func(e *EndSheet) {
			e.Rest.WheelRate, e.MinWheelRate, e.MinRateTravel, e.Rest.SpringRate = 100, 96, 0.1, 40e3
		}, ""},
		{"no drop at all", func(e *EndSheet) { e.Reserve.DropHeight = 0 }, "bottoms_easily"},
		{"a drop of 1 mm", func(e *EndSheet) { e.Reserve.DropHeight = 0.001 }, ""},
		{"a landing that stops", func(e *EndSheet) { e.Landing = &Landing{EnergyLeft: 3} }, ""},
		{"a landing that bottoms", func(e *EndSheet) { e.Landing = &Landing{Bottoms: true, EnergyLeft: 3} }, "drop_bottoms"},
	} {
		e := endOf(t, 600)
		test.change(&e)
		got := ""
		for _, w := range e.warnings("rear") {
			got += w.Code
			if w.Field != "rear" || w.Text == "" || w.Value == "" || w.Limit == "" {
				t.Errorf("%s: %+v", test.name, w)
			}
		}
		if got != test.want {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
}

// Warnings of an air spring: the fill that it would take, where there is one.
func TestWarningsOfAir(t *testing.T) {
	_, pulls := pullsIn(t)
	holds, err := airspring.New(airspring.Spec{Bore: 0.035, Travel: 0.16, PositiveVolume: 240e-6, Fill: 500e3, Ambient: airspring.SeaLevel, Exponent: 1})
	require.NoError(t, err)
	for _, test := range []struct {
		name string
		one  AirOption
		want string
	}{
		{"met", AirOption{Findings: []Finding{OnTarget}, FillWanted: 5e5, Fill: 5e5}, ""},
		{"past the marking", AirOption{Findings: []Finding{FillAtMax}, FillWanted: 8e5, Fill: 5e5}, "fill_at_max " + units.GaugePressure(8e5).String()},
		{"next to nothing past it", AirOption{Findings: []Finding{FillAtMax}, FillWanted: 0.5, Fill: 0.25}, "fill_at_max " + units.GaugePressure(0.5).String()},
		{"past every fill", AirOption{Findings: []Finding{FillAtMax}, Fill: 5e5}, "fill_at_max "},
		{"no fill", AirOption{Findings: []Finding{FillImpossible}}, "fill_impossible "},
	} {
		e := endOf(t, 600)
		e.Coil = nil
		test.one.slow = holds
		e.Air = &AirAnswer{Options: []AirOption{test.one}}
		got := ""
		for _, w := range e.warnings("front") {
			got += w.Code + " " + w.Value
		}
		if got != test.want {
			t.Errorf("%s: %q, want %q", test.name, got, test.want)
		}
	}
	e := endOf(t, 600)
	e.Coil, e.Air = nil, &AirAnswer{Options: []AirOption{{Findings: []Finding{OnTarget}, slow: pulls}}}
	list := e.warnings("front")
	require.Len(t, list, 1)
	if list[0].Code != "pulls_in" || list[0].Value != pulls.RestTravel().String() {
		t.Errorf("%+v", list[0])
	}
	// Lengths, rates and forces are told in both units.
	for got, want := range map[string]string{
		bothLengths(0.0254): "25.4 mm (1.00 in)", percent(0.1234): "12.3 %", bothRates(1 * units.PoundForcePerInch): "0.18 N/mm (1 lbf/in)",
		bothForces(10 * 4.4482216152605): "44 N (10 lbf)",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}

// The marking that falls far short lets the end go to full travel, and a load that
// the ambient air alone holds up leaves it at full extension: both are findings
// beside that of the fill.
func TestAirFindingsOfEitherEnd(t *testing.T) {
	c := constant(t, ratio, ratio*stroke)
	j := handChoice()
	a, err := j.choose(c, Target{Load: 1e5, Sag: target}, 0)
	require.NoError(t, err)
	o := a.Options[0]
	if !o.has(FillAtMax) || !o.has(Collapses) || !o.has(TooSoft) || o.Rest.Sag != 1 {
		t.Errorf("%+v", o)
	}
	near(t, "miss", o.Miss, 1-target, 1e-12)
}

// A wheelbase that is missing is told once, whatever else wants it.
func TestStanceTellsOfTheWheelbaseOnce(t *testing.T) {
	b := wholeBike(t)
	b.Wheelbase = 0
	_, err := NewStance(b)
	named(t, "height", err, "wheelbase")
	b.MassCentreHeight = 0
	_, err = NewStance(b)
	named(t, "neither", err, "wheelbase", "mass_centre_height")
	b.RearShare, b.MassCentreBehindFrontAxle = 0, 0.7
	_, err = NewStance(b)
	named(t, "a mass centre", err, "wheelbase", "mass_centre_height")
	b = wholeBike(t)
	b.MassCentreHeight = -1
	_, err = NewStance(b)
	named(t, "below the ground", err, "mass_centre_height")
	b = wholeBike(t)
	b.FrontScale, b.RearScale, b.RearShare = -1, 50, 0
	_, err = NewStance(b)
	named(t, "a bad scale", err, "front_scale")
}

// As in TestNewStanceNeedsAStableBalance, but with ends that go to full travel
// before the bike tips over: level it rests still, as a pencil does on its point,
// from a height of 6.055 m, by hand k·L²/(2·m·g).
func TestStanceOnAPoint(t *testing.T) {
	c := constant(t, 1, 0.11)
	end := Fitted{c, linear(t, 8e3, 0.11, 0)}
	b := Bike{Masses: Masses{RiderMass: 80, BikeMass: 17, RearShare: 0.5, Wheelbase: 1.2}, Front: end, Rear: end}
	critical := 8e3 * 1.2 * 1.2 / (2 * 97 * g0)
	for _, test := range []struct {
		part float64
		want []string
	}{{0.99, nil}, {0.999, nil}, {1.001, []string{"mass_centre_height"}}, {1.01, []string{"mass_centre_height"}}} {
		b.MassCentreHeight = units.Length(critical * test.part)
		s, err := NewStance(b)
		refusedIf(t, "stance", s, err, test.want...)
		if err == nil {
			near(t, "level", s.RearShare, 0.5, 1e-9)
		}
	}
}

// What goes wrong with a spring when it is put under another load is told by its end;
// in a sheet it can't, since a spring that jumps past a load is none.
func TestStandingTellsWhatGoesWrong(t *testing.T) {
	c := rearOf150(t)
	good := fit{c, linear(t, 80e3, 0.06, 0), linear(t, 80e3, 0.06, 0)}
	bad := fit{c, jumps{}, jumps{}}
	masses := Masses{RiderMass: 45, BikeMass: 65.26, RearShare: 0.5} // 32.63 kg of the bike's are 320 N
	for _, test := range []struct{ front, rear fit }{{good, bad}, {bad, good}} {
		s := &Sheet{}
		s.Front.fit, s.Rear.fit = test.front, test.rear
		var checks units.Checker
		s.addFree(&checks, masses)
		if !errors.Is(checks.Err(), spring.ErrJump) {
			t.Errorf("free sag: %v", checks.Err())
		}
		checks = units.Checker{}
		s.addStances(&checks, Masses{RiderMass: 0.26, BikeMass: 65}, []NamedStance{{"up", 0.5}})
		if !errors.Is(checks.Err(), spring.ErrJump) {
			t.Errorf("a stance: %v", checks.Err())
		}
	}
}

// A load of less than 1 N settles anywhere; one that is none is refused.
func TestSettleAnywhereOfALittleLoad(t *testing.T) {
	c := constant(t, 2.5, 0.15)
	r, finding, err := settleAnywhere(c, linear(t, 80e3, 0.06, 0), 0.5, 0)
	require.NoError(t, err)
	near(t, "stroke", float64(r.Stroke), 1.25/80e3, 1e-9)
	if finding != "" {
		t.Error(finding)
	}
	for _, load := range []units.Force{0, -0.5, units.Force(math.NaN())} {
		r, finding, err := settleAnywhere(c, linear(t, 80e3, 0.06, 0), load, 0)
		refused(t, "load", r, err, "load")
		if finding != "" {
			t.Error(finding)
		}
	}
	_, _, err = settleAnywhere(c, nil, 0.5, 0)
	named(t, "law", err, "law")
}
