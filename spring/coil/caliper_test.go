package coil_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat"

	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// measuredSprings: computed with mpmath 1.3.0 at 50 digits, printed to 15;
// first-order propagation, each confirmed by 4 million Monte Carlo draws to
// better than 0.1 %. Lengths in mm, moduli in MPa, rates in N/mm,
// sensitivities in 1/mm. naive is what 4·u_d/d and 3·u/D in quadrature would
// give, which is wrong because D is not what was measured.
var measuredSprings = []struct {
	name                                    string
	given                                   coil.Caliper
	mean, rate, uncertainty, relative       float64
	sensitivityWire, sensitivityDiam, naive float64
	dominant                                string
}{
	{
		name: "steel, outer diameter",
		given: coil.Caliper{
			WireDiameter: mm(10), OuterDiameter: mm(56), ActiveCoils: 5, ShearModulus: 79500 * units.Megapascal,
			WireUncertainty: mm(0.02), DiameterUncertainty: mm(0.02),
		},
		mean: 46, rate: 204.189611243528, uncertainty: 1.9184286271094, relative: 0.00939532925022997,
		sensitivityWire: 0.465217391304348, sensitivityDiam: -0.0652173913043478, naive: 0.00810563527747318,
		dominant: "wire_diameter",
	},
	{
		name: "steel, all inputs uncertain",
		given: coil.Caliper{
			WireDiameter: mm(8.5), OuterDiameter: mm(53.5), ActiveCoils: 5.25, ShearModulus: 79500 * units.Megapascal,
			WireUncertainty: mm(0.02), DiameterUncertainty: mm(0.05), CoilUncertainty: 0.1, ModulusUncertainty: 800 * units.Megapascal,
		},
		mean: 45, rate: 108.43163335293, uncertainty: 2.6352274652138, relative: 0.0243031243164668,
		sensitivityWire: 0.537254901960784, sensitivityDiam: -0.0666666666666667, naive: 0.0237437578017503,
		dominant: "active_coils",
	},
	{
		name: "fork spring",
		given: coil.Caliper{
			WireDiameter: mm(5), OuterDiameter: mm(30.4), ActiveCoils: 24, ShearModulus: 79500 * units.Megapascal,
			WireUncertainty: mm(0.01), DiameterUncertainty: mm(0.02), CoilUncertainty: 0.1, ModulusUncertainty: 800 * units.Megapascal,
		},
		mean: 25.4, rate: 15.7922775245157, uncertainty: 0.228030633489525, relative: 0.0144393760263859,
		sensitivityWire: 0.918110236220472, sensitivityDiam: -0.118110236220472, naive: 0.0137187076448945,
		dominant: "shear_modulus",
	},
	{
		name: "titanium",
		given: coil.Caliper{
			WireDiameter: mm(11.2), OuterDiameter: mm(59.4), ActiveCoils: 5, ShearModulus: 42060 * units.Megapascal,
			WireUncertainty: mm(0.03), DiameterUncertainty: mm(0.05), CoilUncertainty: 0.05, ModulusUncertainty: 1700 * units.Megapascal,
		},
		mean: 48.2, rate: 147.754342272464, uncertainty: 6.44322469736779, relative: 0.0436076842025141,
		sensitivityWire: 0.419383521043272, sensitivityDiam: -0.0622406639004149, naive: 0.043106052427973,
		dominant: "shear_modulus",
	},
	{
		name: "the same caliper for both",
		given: coil.Caliper{
			WireDiameter: mm(10), OuterDiameter: mm(56), ActiveCoils: 5, ShearModulus: 79500 * units.Megapascal,
			WireUncertainty: mm(0.02), DiameterUncertainty: mm(0.02), Correlation: 0.8,
		},
		mean: 46, rate: 204.189611243528, uncertainty: 1.6943363371124, relative: 0.00829785769605899,
		sensitivityWire: 0.465217391304348, sensitivityDiam: -0.0652173913043478, naive: 0.00810563527747318,
		dominant: "wire_diameter",
	},
	{
		name: "inner diameter",
		given: coil.Caliper{
			WireDiameter: mm(10), InnerDiameter: mm(36), ActiveCoils: 5, ShearModulus: 79500 * units.Megapascal,
			WireUncertainty: mm(0.02), DiameterUncertainty: mm(0.02),
		},
		mean: 46, rate: 204.189611243528, uncertainty: 1.39288271131436, relative: 0.00682151605476702,
		sensitivityWire: 0.334782608695652, sensitivityDiam: -0.0652173913043478, naive: 0.00810563527747318,
		dominant: "wire_diameter",
	},
}

func TestCaliperRate(t *testing.T) {
	for _, c := range measuredSprings {
		t.Run(c.name, func(t *testing.T) {
			got, err := c.given.Rate()
			require.NoError(t, err)
			agree(t, "mean diameter", got.MeanDiameter, mm(c.mean), 1e-14)
			agree(t, "rate", got.Rate, perMM(c.rate), 1e-13)
			agree(t, "uncertainty", got.RateUncertainty, perMM(c.uncertainty), 1e-13)
			agree(t, "relative uncertainty", got.RelativeUncertainty, c.relative, 1e-13)
			diameter := c.given.OuterDiameter + c.given.InnerDiameter
			agree(t, "sensitivity to the wire", got.Budget[0].Sensitivity/c.given.WireDiameter.Millimetres(), c.sensitivityWire, 1e-13)
			agree(t, "sensitivity to the diameter", got.Budget[1].Sensitivity/diameter.Millimetres(), c.sensitivityDiam, 1e-13)
			if got.Dominant != c.dominant {
				t.Errorf("dominant %q, want %q", got.Dominant, c.dominant)
			}
			variance, share := 0.0, 0.0
			for _, b := range got.Budget {
				variance += b.Variance
				share += b.Share
			}
			agree(t, "budget", variance, c.relative*c.relative, 1e-12)
			agree(t, "shares", share, 1, 1e-12)
			if math.Abs(c.naive/got.RelativeUncertainty-1) < 0.01 {
				t.Errorf("the naive %v can't be told from %v", c.naive, got.RelativeUncertainty)
			}
		})
	}
}

// Independent of the coefficients: the rate formula itself, fed with drawn
// readings. 200 000 draws leave 0.16 % of chance in the deviation.
func TestCaliperUncertaintyAgainstDraws(t *testing.T) {
	rng := rand.New(rand.NewPCG(7, 8))
	for _, c := range measuredSprings {
		rates := make([]float64, 200_000)
		for i := range rates {
			z, r := rng.NormFloat64(), c.given.Correlation
			d := c.given.WireDiameter.Millimetres() + z*c.given.WireUncertainty.Millimetres()
			shift := (r*z + math.Sqrt(1-r*r)*rng.NormFloat64()) * c.given.DiameterUncertainty.Millimetres()
			mean := c.given.OuterDiameter.Millimetres() + shift - d
			if c.given.InnerDiameter > 0 {
				mean = c.given.InnerDiameter.Millimetres() + shift + d
			}
			n := c.given.ActiveCoils + rng.NormFloat64()*c.given.CoilUncertainty
			g := c.given.ShearModulus.Megapascals() + rng.NormFloat64()*c.given.ModulusUncertainty.Megapascals()
			rates[i] = g * math.Pow(d, 4) / (8 * math.Pow(mean, 3) * n)
		}
		got, err := c.given.Rate()
		require.NoError(t, err)
		agree(t, c.name, got.RateUncertainty.NewtonsPerMillimetre(), stat.StdDev(rates, nil), 0.008)
	}
}

// Effects that cancel leave nothing, or a rounding, but never the root of
// less than nothing: with an inner diameter of D − d and r = 1 the variance is
// ((4/d − 3/D)·u_d − 3/D·u_D)².
func TestCaliperEffectsThatCancel(t *testing.T) {
	for i := range 500 {
		d, inner, u := 8e-3+1e-6*float64(i), 35e-3+3e-6*float64(i), 1e-5+1e-8*float64(i)
		mean := inner + d
		got, err := coil.Caliper{WireDiameter: units.Length(d), InnerDiameter: units.Length(inner), ActiveCoils: 5, ShearModulus: 8e10,
			WireUncertainty: units.Length(u), DiameterUncertainty: units.Length(u * (4/d - 3/mean) / (3 / mean)), Correlation: 1}.Rate()
		if err != nil {
			t.Fatalf("wire %v: %v", d, err)
		}
		if !(got.RelativeUncertainty >= 0 && got.RelativeUncertainty < 1e-9) || math.IsNaN(float64(got.RateUncertainty)) {
			t.Errorf("wire %v: %v is left", d, got.RelativeUncertainty)
		}
	}
	m := measuredSprings[5].given
	m.WireUncertainty, m.DiameterUncertainty, m.Correlation = 0, 0, 1
	got, err := m.Rate()
	require.NoError(t, err)
	if got.RelativeUncertainty != 0 || got.Dominant != "" || got.Budget[0].Share != 0 {
		t.Errorf("without uncertainty: %+v", got)
	}
}

func TestBudgetNamesWhatWasMeasured(t *testing.T) {
	for i, want := range map[int][]string{
		0: {"wire_diameter", "outer_diameter", "active_coils", "shear_modulus", "correlation"},
		5: {"wire_diameter", "inner_diameter", "active_coils", "shear_modulus", "correlation"},
	} {
		got, err := measuredSprings[i].given.Rate()
		require.NoError(t, err)
		var names []string
		for _, b := range got.Budget {
			names = append(names, b.Input)
		}
		if d := cmp.Diff(want, names); d != "" {
			t.Error(d)
		}
	}
}

func TestHalfANewtonPerMetre(t *testing.T) {
	// Wire of 1 mm, 9 coils of 11 mm outside: G·1e-12/(8·1e-6·n) is 0.5 N/m for
	// G = 36 MPa.
	got, err := coil.Caliper{WireDiameter: 1e-3, OuterDiameter: 11e-3, ActiveCoils: 9, ShearModulus: 36e6}.Rate()
	if err != nil {
		t.Fatal(err)
	}
	close12(t, "measured", float64(got.Rate), 0.5)
}

func TestCaliperRefused(t *testing.T) {
	for _, v := range bad {
		_, err := coil.Caliper{
			WireDiameter: units.Length(v), OuterDiameter: units.Length(v), ActiveCoils: v, ShearModulus: units.Stress(v),
			WireUncertainty: -1, DiameterUncertainty: units.Length(math.NaN()), CoilUncertainty: -1,
			ModulusUncertainty: units.Stress(math.Inf(1)), Correlation: 1.01,
		}.Rate()
		refuses(t, err, "wire_diameter", "outer_diameter", "active_coils", "shear_modulus",
			"wire_uncertainty", "diameter_uncertainty", "coil_uncertainty", "modulus_uncertainty", "correlation")
	}
	good := measuredSprings[0].given
	bounds(t, "correlation", -1, 1, func(r float64) error { m := good; m.Correlation = r; return second(m.Rate()) })
	for _, c := range []struct {
		change func(m *coil.Caliper)
		fields []string
	}{
		{func(m *coil.Caliper) { m.InnerDiameter = mm(36) }, []string{"inner_diameter"}},
		{func(m *coil.Caliper) { m.OuterDiameter, m.InnerDiameter = 0, mm(-36) }, []string{"inner_diameter"}},
		{func(m *coil.Caliper) { m.OuterDiameter = 0 }, []string{"outer_diameter"}},
		{func(m *coil.Caliper) { m.OuterDiameter = mm(20) }, []string{"wire_diameter"}}, // index of 1
		{func(m *coil.Caliper) { m.OuterDiameter = mm(9) }, []string{"wire_diameter"}},  // thinner than its wire
		{func(m *coil.Caliper) { m.Correlation = math.NaN() }, []string{"correlation"}},
		{func(m *coil.Caliper) { m.WireUncertainty = 1e300 }, []string{"wire_diameter"}},
		// A rate that float64 can't tell from 0.
		{func(m *coil.Caliper) { m.OuterDiameter, m.ShearModulus = 1e3, 5e-324 }, []string{"wire_diameter"}},
	} {
		m := good
		c.change(&m)
		_, err := m.Rate()
		refuses(t, err, c.fields...)
	}
}

func FuzzCaliper(f *testing.F) {
	f.Add(0.01, 0.056, 0.0, 5.0, 79.5e9, 2e-5, 2e-5, 0.1, 8e8, 0.5)
	f.Add(1e-300, 0.0, 1e-300, 5e-324, 1e300, 1.0, 1.0, 0.0, 0.0, -1.0)
	f.Fuzz(func(t *testing.T, d, od, id, n, g, ud, uo, un, ug, r float64) {
		got, err := coil.Caliper{
			WireDiameter: units.Length(d), OuterDiameter: units.Length(od), InnerDiameter: units.Length(id), ActiveCoils: n,
			ShearModulus: units.Stress(g), WireUncertainty: units.Length(ud), DiameterUncertainty: units.Length(uo),
			CoilUncertainty: un, ModulusUncertainty: units.Stress(ug), Correlation: r,
		}.Rate()
		if err != nil {
			named(t, "refused", err)
			return
		}
		if !(got.Rate > 0) || !finite(float64(got.Rate)) || !(got.RateUncertainty >= 0) || !finite(float64(got.RateUncertainty)) {
			t.Fatalf("%+v", got)
		}
		for _, b := range got.Budget {
			if !finite(b.Variance) || !finite(b.Share) || !finite(b.Sensitivity) || !finite(b.Relative) {
				t.Fatalf("%+v", got)
			}
		}
	})
}

// A shock spring measured with a caliper good to 0.02 mm on the wire and
// 0.05 mm on the outside. The coil count, not the caliper, decides.
func ExampleCaliper_Rate() {
	got, err := coil.Caliper{
		WireDiameter:        8.5 * units.Millimetre,
		OuterDiameter:       53.5 * units.Millimetre,
		ActiveCoils:         5.25,
		ShearModulus:        79500 * units.Megapascal,
		WireUncertainty:     0.02 * units.Millimetre,
		DiameterUncertainty: 0.05 * units.Millimetre,
		CoilUncertainty:     0.1,
		ModulusUncertainty:  800 * units.Megapascal,
	}.Rate()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f, give or take %.1f; most of it from %s\n", got.Rate, got.RateUncertainty, got.Dominant)
	for _, b := range got.Budget {
		fmt.Printf("%-14s %3.0f %%\n", b.Input, 100*b.Share)
	}
	// Output:
	// 108.4 N/mm, give or take 2.6 N/mm; most of it from active_coils
	// wire_diameter   20 %
	// outer_diameter   2 %
	// active_coils    61 %
	// shear_modulus   17 %
	// correlation      0 %
}
