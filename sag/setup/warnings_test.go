package setup_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

func TestSheetWarns(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(*setup.Job)
		want   string
	}{
		{"shelf too soft", func(j *setup.Job) { j.Rear.Coil.Springs = j.Rear.Coil.Springs[:1] }, "rear sag_over_target"},
		{"shelf too hard", func(j *setup.Job) { j.Masses.RiderMass = 45 }, "rear sag_under_target"},
		{"no spring reaches", func(j *setup.Job) {
			for i := range j.Rear.Coil.Springs {
				j.Rear.Coil.Springs[i].SolidTravel = 0.06
			}
		}, "rear goes_solid"},
		{"solid travel unknown", func(j *setup.Job) {
			for i := range j.Rear.Coil.Springs {
				j.Rear.Coil.Springs[i].SolidTravel = 0
			}
		}, "rear solid_unknown"},
		{"marking too low", func(j *setup.Job) { j.Front.Air.MaxFill = units.BarGauge(3) }, "front fill_at_max"},
		{"light as a feather", func(j *setup.Job) {
			j.Masses.RiderMass, j.Masses.BikeMass = 4, 10
			j.Rear.Coil.PreloadMin = 0.004
		}, "rear held_at_top"},
		{"no fill is low enough", func(j *setup.Job) { j.Masses.RearShare = 0.94 }, "front fill_impossible"},
		{"a load of bricks", func(j *setup.Job) { j.Masses.RiderMass = 900; j.Rear.Coil.Springs = j.Rear.Coil.Springs[:1] }, "rear collapses"},
		{"soft at the end", func(j *setup.Job) { j.Rear.Sag = 0.6; j.Masses.RiderMass = 150 }, "rear bottoms_easily"},
		{"a negative chamber that pulls in", func(j *setup.Job) { j.Front.Air.NegativeVolume = 20e-6 }, "front pulls_in"},
	} {
		t.Run(test.name, func(t *testing.T) {
			j := readJob(t, jobText)
			test.change(&j)
			s := sheet(t, j)
			if got := codes(s); !slices.Contains(got, test.want) {
				t.Errorf("warnings %q, want %q among them", got, test.want)
			}
			if s.Front.Fill().Fill > j.Front.Air.MaxFill {
				t.Errorf("fill %v above the marking %v", s.Front.Fill().Fill, j.Front.Air.MaxFill)
			}
			for _, w := range s.Warnings {
				if w.Code == "" || w.Field == "" || w.Text == "" {
					t.Errorf("%+v", w)
				}
			}
		})
	}
}

// A warning says what is, what should be, and what to do: of the sag, where a spring
// of 1 N/mm goes to full travel under 600 N, one of 1000 N/mm with 10 mm of preload,
// 4000 N at the wheel, does not move, and one of 60 N/mm with 4 mm sags 21 mm of 60;
// and of a spring that is solid after 62 mm, where 3.2 mm of preload and 60 mm of stroke
// want 63.2 mm, or of which nobody knows.
func TestWarningsOfCoilsSayTheNumbers(t *testing.T) {
	for _, test := range []struct {
		rate                     units.Stiffness
		least, most, solid       units.Length
		code, value, limit, text string
	}{
		{1e3, 0, 0, 0.2, "collapses", "100.0 %", "28.0 %", "The load takes this end to full travel: nothing here is hard enough."},
		{1e6, 0.01, 0.01, 0.2, "held_at_top", "0.0 %", "28.0 %", "This end does not sag at all: preload or fill carries the whole load. Nothing here is soft enough."},
		{60e3, 0.004, 0.004, 0.2, "sag_over_target", "35.0 %", "28.0 %", "The nearest that can be fitted sags 35.0 %, more than the 28.0 % wanted."},
		{100e3, 0, 0, 0.2, "sag_under_target", "25.0 %", "28.0 %", "The nearest that can be fitted sags 25.0 %, less than the 28.0 % wanted."},
		{75e3, 0, 0.004, 0.062, "goes_solid", "-1.2 mm", "0 mm",
			"The spring binds 1.2 mm (0.05 in) before the shock reaches the end of its stroke. Do not fit it: coil-bound, it can break itself or the shock."},
		{75e3, 0, 0.004, 0.06318, "goes_solid", "-0.01999999", "0 mm",
			"The spring binds less than 0.1 mm before the shock reaches the end of its stroke. Do not fit it: coil-bound, it can break itself or the shock."},
		{75e3, 0.05, 0.05, 0.05001, "loose", "49.95", "50 mm",
			"This spring is solid before it has the collar's least preload, 50.0 mm (1.97 in): it may come loose at full extension. Do not fit it."},
		{75e3, 0, 0.004, 0, "solid_unknown", "", "63.2 mm",
			"Nobody said how far this spring compresses before it is solid. It must be at least preload and stroke together, 63.2 mm (2.49 in)."},
	} {
		j := under(t, 600)
		j.Rear.Coil = &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: test.rate, SolidTravel: test.solid}}, Collar: fit.Collar{PreloadMin: test.least, PreloadMax: test.most}}
		w := warning(t, sheet(t, j), "rear", test.code)
		if !strings.HasPrefix(w.Value, test.value) || w.Value == "" != (test.value == "") || w.Limit != test.limit || w.Text != test.text {
			t.Errorf("%+v, want %+v", w, test)
		}
	}
}

// By hand, ½·60e3·(64² − 4²) N·mm² = 122.4 J over 0.15 m against 816 N: exactly
// used up.
func TestWarningOfTravelUsedUpBeginsWhereItIs(t *testing.T) {
	for load, warns := range map[units.Force]bool{810: false, 820: true} {
		j := under(t, load)
		j.Rear.Coil = &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 60e3, SolidTravel: 0.07}}, Collar: fit.Collar{PreloadMin: 4e-3, PreloadMax: 4e-3}}
		s := sheet(t, j)
		if got := slices.Contains(codes(s), "rear bottoms_easily"); got != warns {
			t.Errorf("%v: warns %v", load, got)
		} else if got {
			if w := warning(t, s, "rear", "bottoms_easily"); w.Value != "122.4 J" || w.Limit != "123 J" {
				t.Errorf("%+v", w)
			}
		}
	}
}

// Beyond the marking the warning has the fill that the target would need, in both
// units; the negative chamber's has where it pulls the end in to.
func TestWarningsOfAirSayTheNumbers(t *testing.T) {
	j := readJob(t, jobText)
	j.Front.Air.MaxFill = units.BarGauge(3)
	s := sheet(t, j)
	wanted := s.Front.Fill().FillWanted
	if w := warning(t, s, "front", "fill_at_max"); w.Value != wanted.String() || w.Limit != "300 kPa(g)" ||
		!strings.Contains(w.Text, fmt.Sprintf("%.2f bar (%.1f psi)", wanted.Bar(), wanted.PSI())) {
		t.Errorf("%+v", w)
	}
	spec := j.Front.Air.Spec
	spec.Travel, spec.Ambient, spec.Exponent, spec.Fill, spec.Spacers = 0.17, j.Ambient, 1, s.Front.Fill().Fill, s.Front.Fill().Spacers
	law, err := airspring.New(spec)
	require.NoError(t, err)
	if w := warning(t, s, "front", "pulls_in"); w.Value != law.RestTravel().String() || !strings.Contains(w.Text, law.RestTravel().Both().String()) {
		t.Errorf("%+v, want %v", w, law.RestTravel())
	}
	if f := s.Free.Front.Rest.Stroke; !(f > law.RestTravel() && f < s.Front.Rest.Stroke) {
		t.Errorf("free sag %v, %v without a load, %v with the rider", f, law.RestTravel(), s.Front.Rest.Stroke)
	}
	j.Front.Air.PortTravel = 0.049 * units.Millimetre // it rests above the port, too near the top to be shown
	require.NotContains(t, codes(sheet(t, j)), "front pulls_in")
	j.Masses.RiderMass = 60000
	if w := warning(t, sheet(t, j), "front", "fill_at_max"); w.Value != "" || w.Limit != "300 kPa(g)" ||
		w.Text != "No air spring could hold the fill that the target would need; this sheet stops at the marking." {
		t.Errorf("%+v", w)
	}
}

// A wish for full travel that no number of spacers gives is a warning with what was asked,
// what it got, and what can be had.
func TestWishForFullTravelOutOfReachIsAWarning(t *testing.T) {
	j := readJob(t, jobText)
	for wish, warned := range map[float64]bool{1.5: true, 12: false, 30: true} {
		j.Front.Air.FullTravelRatio = wish
		s := sheet(t, j)
		if !warned {
			require.NotContains(t, codes(s), "front full_travel_unreached")
			continue
		}
		full := s.Front.Air.FullTravel
		w := warning(t, s, "front", "full_travel_unreached")
		want := fmt.Sprintf("not the %.1f × asked for: with the spacers that fit it can be from %.1f × to %.1f ×", wish, full.Least, full.Most)
		if w.Limit != fmt.Sprintf("%.1f", wish) || w.Value != fmt.Sprintf("%.1f", s.Front.Fill().FullRatio) || !strings.Contains(w.Text, want) {
			t.Errorf("%+v", w)
		}
	}
}

// A ratio that rises, LR = 2 + 20/m·s over 60 mm, undoes the spring's own
// hardening: k_w = k/LR²·(1 − 20/m·(s + p)/LR). By hand, without preload the
// least is at full travel, where LR is 3.2 and 1 − 1.2/3.2 = 0.625 of k/10.24
// are left; with 120 mm of preload it is at full extension, where LR is 2 and
// 1 − 2.4/2 < 0.
func TestWheelRateWarnings(t *testing.T) {
	end := func(curve linkage.Spec, k units.Stiffness, preload units.Length, load units.Force) *setup.Sheet {
		j := under(t, load)
		j.Rear.Curve = curve
		j.Rear.Coil = &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: k, SolidTravel: 0.3}}, Collar: fit.Collar{PreloadMin: preload, PreloadMax: preload}}
		return sheet(t, j)
	}
	of := func(s *setup.Sheet, end string) []string {
		return slices.DeleteFunc(codes(s), func(c string) bool { return !strings.HasPrefix(c, end+" wheel_rate") })
	}
	rising := bend(2, 0.010, 60)
	s := end(rising, 75e3, 0, 600)
	near(t, "least rate", float64(s.Rear.MinWheelRate), 75e3/10.24*0.625, 1e-9)
	near(t, "at", float64(s.Rear.MinRateTravel), 0.156, 1e-12)
	if diff := cmp.Diff([]string{"rear wheel_rate_falls"}, of(s, "rear")); diff != "" {
		t.Errorf("a rate that falls past the sag: %s", diff)
	}
	if w := warning(t, s, "rear", "wheel_rate_falls"); w.Value != s.Rear.MinWheelRate.String() || w.Limit != s.Rear.Rest.WheelRate.String() {
		t.Errorf("%+v", w)
	}
	s = end(rising, 20e3, 0.12, 1150)
	near(t, "least rate", float64(s.Rear.MinWheelRate), 20e3/4*(1-2.4/2), 1e-9)
	if diff := cmp.Diff([]string{"rear wheel_rate_negative"}, of(s, "rear")); diff != "" {
		t.Errorf("a force that falls: %s", diff)
	}
	// An air spring that is softest in the middle by itself is its own affair.
	fork := readJob(t, jobText)
	fork.Front.Air.FullTravelRatio = 10.2 // without a spacer
	s = sheet(t, fork)
	if f := s.Front; len(of(s, "front")) != 0 || !(f.MinRateTravel > f.Rest.Travel && f.MinWheelRate < 0.95*f.Rest.WheelRate) {
		t.Errorf("an air fork: %q", of(s, "front"))
	}
	// A falling ratio gives a rate that rises all the way: nothing to say.
	s = end(bend(2.95, -0.00425, 65), 79e3, 0, 550)
	if len(of(s, "rear")) != 0 || !(s.Rear.MinWheelRate > 0) {
		t.Errorf("a progressive linkage: %q", of(s, "rear"))
	}
	// Nor where it falls by less than a twentieth, here by 0.6 %: LR = 2.5 + 0.1/m·s.
	s = end(bend(2.5, 0.00005, 60), 79e3, 0, 550)
	if len(of(s, "rear")) != 0 || !(s.Rear.MinRateTravel > s.Rear.Rest.Travel) {
		t.Errorf("hardly a fall: %q at %v", of(s, "rear"), s.Rear.MinRateTravel)
	}
}
