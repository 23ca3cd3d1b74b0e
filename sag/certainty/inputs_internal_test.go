package certainty

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// plain is a bike of 100 kg with one chamber in front and a coil behind.
func plain() (sag.Masses, fit.Spec, fit.Spec) {
	return sag.Masses{RiderMass: 80, BikeMass: 20, UnsprungFront: new(units.Mass(2)), UnsprungRear: new(units.Mass(3)), RearShare: 0.6},
		fit.Spec{Curve: linkage.Spec{Fork: &linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 0.16}}, Sag: 0.2,
			Air: &fit.Chamber{NegativeChamber: fit.None, Spec: airspring.Spec{Bore: 0.035, PositiveVolume: 260e-6, OilVolume: 10e-6, Exponent: 1.3, Ambient: 98e3}, MaxFill: units.BarGauge(10)}},
		fit.Spec{Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 0.15}}, Sag: 0.28,
			Coil: &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 85e3}}, Collar: fit.Collar{PreloadMin: 0.004, PreloadMax: 0.004}}}
}

func chosen(t *testing.T, spec fit.Spec, load units.Force) EndSetup {
	t.Helper()
	o, err := fit.New(spec, 0)
	require.NoError(t, err)
	choice, err := o.Choose(load)
	require.NoError(t, err)
	return EndSetup{Spec: o.Spec(), Curve: o.Curve(), Choice: choice}
}

// Masses, rates, volumes, temperatures and the lever ratio stay above 0;
// preload, fill, port and oil are 0 or more; a share lies between 0 and 1, a
// head angle between 30° and 90°, an exponent between 1 and 2, a mass centre
// inside the wheelbase; friction, the travels of a table and what is read off
// go either way. By hand from the bikes. An end is worked out anew only for the
// inputs that it depends on.
func TestInputsStayWithinWhatIsPossible(t *testing.T) {
	type limit struct{ Size, Low, High float64 }
	const deg, g = math.Pi / 180, 9.80665
	inf := math.Inf(1)
	area := math.Pi / 4 * 0.035 * 0.035
	fill := (370*math.Sin(64*deg)/area+98e3)*(1-area*0.2*0.16/250e-6) - 98e3 // of the chosen load, 370 N
	for _, test := range []struct {
		name  string
		spoil func(m *sag.Masses, front, rear *fit.Spec)
		u     Uncertainty
		want  map[string]limit
	}{
		{"plain", func(*sag.Masses, *fit.Spec, *fit.Spec) {}, Uncertainty{RiderMass: 1, BikeMass: 1, UnsprungFront: 0.1, UnsprungRear: 0.1, RearShare: 0.01, Ambient: 100,
			Front: EndUncertainty{HeadAngle: 0.01, Friction: 1, Reading: 1e-3, Fill: 1e3, GasTemperature: 0.01, Bore: 1e-5, PositiveVolume: 1e-6, OilVolume: 1e-6, Exponent: 0.01},
			Rear:  EndUncertainty{LeverRatio: 0.01, Friction: 1, Reading: 1e-3, SpringRate: 0.01, Preload: 1e-4}}, map[string]limit{
			"rider_mass": {80, -80, inf}, "bike_mass": {20, -20, inf}, "unsprung_front": {20, -2, inf}, "unsprung_rear": {20, -3, inf},
			"rear_share": {0.4, -0.6, 0.4}, "ambient": {98e3, -98e3, inf},
			"front.head_angle": {30 * deg, -34 * deg, 26 * deg}, "front.friction": {100 * g, -inf, inf}, "front.reading": {0.16, -inf, inf},
			"front.fill":            {10e5, -fill, inf}, // the fill as chosen, up to the marking
			"front.gas_temperature": {1, -1, inf}, "front.bore": {0.035, -0.035, inf}, "front.positive_volume": {260e-6, -260e-6, inf},
			"front.oil_volume": {260e-6, -10e-6, inf}, "front.exponent": {1, -0.3, 0.7},
			"rear.lever_ratio": {1, -1, inf}, "rear.friction": {100 * g, -inf, inf}, "rear.reading": {0.06, -inf, inf},
			"rear.spring_rate": {1, -1, inf}, "rear.preload": {0.06, -0.004, inf},
		}},
		{"more weight in front", func(m *sag.Masses, _, _ *fit.Spec) { m.RearShare = 0.35 }, Uncertainty{RearShare: 0.01}, map[string]limit{"rear_share": {0.35, -0.35, 0.65}}},
		{"mass centre", func(m *sag.Masses, _, _ *fit.Spec) {
			m.RearShare, m.Wheelbase, m.MassCentreBehindFrontAxle = 0, 1.25, 0.75
		}, Uncertainty{Wheelbase: 0.01, MassCentreBehindFrontAxle: 0.01}, map[string]limit{
			"wheelbase": {0.5, -0.5, inf}, "mass_centre_behind_front_axle": {0.5, -0.75, 0.5},
		}},
		{"scales", func(m *sag.Masses, _, _ *fit.Spec) {
			m.RearShare, m.RiderMass, m.FrontScale, m.RearScale = 0, 0, 40, 61
		},
			Uncertainty{FrontScale: 0.1, RearScale: 0.1, UnsprungFront: 0.1, Rear: EndUncertainty{Friction: 1}}, map[string]limit{
				"front_scale": {40, -40, inf}, "rear_scale": {61, -61, inf}, "unsprung_front": {20, -2, inf}, "rear.friction": {101 * g, -inf, inf},
			}},
		{"chambers and a table", func(_ *sag.Masses, front, rear *fit.Spec) {
			front.Air.NegativeChamber = ""
			front.Air.Spec = airspring.Spec{
				Bore: 0.035, Shaft: 0.01, Travel: 0.17, PositiveVolume: 250e-6, NegativeVolume: 60e-6, PortTravel: 0.008, OilVolume: 5e-6,
				SpacerVolume: 4e-6, Spacers: 2, SecondVolume: 40e-6, SecondFill: 2e6, Exponent: 1.3, Ambient: 98e3,
			}
			rear.Curve = linkage.Spec{Table: &linkage.Table{Stroke: []units.Length{0, 0.02, 0.04, 0.06}, Travel: []units.Length{0, 0.055, 0.105, 0.15}, Method: linkage.Smooth}}
		}, Uncertainty{
			Front: EndUncertainty{Shaft: 1e-5, NegativeVolume: 1e-6, PortTravel: 1e-4, OilVolume: 1e-7, SpacerVolume: 1e-7, SecondVolume: 1e-6, SecondFill: 1e4},
			Rear:  EndUncertainty{TableTravel: 1e-4},
		}, map[string]limit{
			"front.shaft": {0.01, -0.01, inf}, "front.negative_volume": {60e-6, -60e-6, inf}, "front.port_travel": {0.17, -0.008, inf},
			"front.oil_volume": {250e-6, -5e-6, inf}, "front.spacer_volume": {4e-6, -4e-6, inf}, "front.second_volume": {40e-6, -40e-6, inf},
			"front.second_fill": {2e6, -2e6, inf}, "rear.table_travel": {0.05, -inf, inf},
		}},
	} {
		masses, front, rear := plain()
		test.spoil(&masses, &front, &rear)
		var c units.Checker
		m := check(&c, Setup{masses, new(chosen(t, front, 370)), new(chosen(t, rear, 560))}, test.u)
		require.NoError(t, c.Err(), test.name)
		got := map[string]limit{}
		for _, in := range m.inputs {
			l := limit{in.scale, in.lo, in.hi}
			if was, ok := got[in.name]; ok && was != l {
				t.Errorf("%s has %v and %v", in.name, was, l)
			}
			got[in.name] = l
			front := strings.HasPrefix(in.name, "front") || slices.Contains([]string{"unsprung_front", "ambient"}, in.name)
			rear := strings.HasPrefix(in.name, "rear.") || slices.Contains([]string{"unsprung_rear", "rear_scale"}, in.name)
			if want := [2]bool{front || !rear, rear || !front}; in.ends != want {
				t.Errorf("%s: %s moves the ends %v, want %v", test.name, in.name, in.ends, want)
			}
		}
		if diff := cmp.Diff(test.want, got, unitstest.Approx(1e-12)); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
}

// Under 10⁻³²³ N, a load that is refused, no spring is the best, and none of two is a rival.
func TestNoSpringIsBestUnderNextToNoLoad(t *testing.T) {
	_, _, rear := plain()
	curve := chosen(t, rear, 560).Curve
	rear.Coil.Springs = []fit.ShelfSpring{{Rate: 60e3}, {Rate: 68e3}}
	shelf := shelfAt{rear.Ranking(curve), 5e-324}
	if _, got, err := shelf.Lead(0, shelf.load); got != -1 || err == nil {
		t.Errorf("spring %d", got)
	}
	if _, i := shelf.edge(0, 1, 1, rivalStep); i != -1 {
		t.Errorf("spring %d takes over", i)
	}
}
