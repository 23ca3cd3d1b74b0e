package visit_test

import (
	"fmt"
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// A bound that is given as "or more" or "no more than" is taken itself, and
// what is the least beyond it is refused by its field.
func TestSettingsAreTakenUpToTheirBounds(t *testing.T) {
	over := func(v float64) float64 { return math.Nextafter(v, math.Inf(1)) }
	coil := func(spoil func(*visit.CoilSetting)) visit.Setting {
		s := coilEnd()
		spoil(s.Coil)
		return s
	}
	air := func(fill, most float64, exponent float64) visit.Setting {
		s := airEnd()
		s.Air.Fill, s.Air.MaxFill, s.Air.Exponent = units.GaugePressure(fill), units.GaugePressure(most), exponent
		return s
	}
	friction := func(s visit.Setting, f units.Force) visit.Setting {
		s.Friction = f
		return s
	}
	for _, test := range []struct {
		name string
		s    visit.Setting
		want []string
	}{
		{"the most friction", friction(coilEnd(), 1e12), nil},
		{"more friction", friction(coilEnd(), units.Force(over(1e12))), []string{"friction"}},
		{"a collar that can't be turned", coil(func(c *visit.CoilSetting) { c.PreloadMin, c.PreloadMax = 2*milli, 2*milli }), nil},
		{"a collar that starts above the preload and the bind", coil(func(c *visit.CoilSetting) {
			c.Preload, c.SolidTravel, c.PreloadMin, c.PreloadMax = 0, 6*milli, 6*milli, 5*milli
		}), []string{"coil.solid_travel", "coil.preload_max", "coil.preload"}},
		{"preload below the least", coil(func(c *visit.CoilSetting) { c.PreloadMin = units.Length(over(2 * milli)) }), []string{"coil.preload"}},
		{"preload above the most", coil(func(c *visit.CoilSetting) { c.Preload, c.PreloadMax = units.Length(over(2*milli)), 2*milli }), []string{"coil.preload"}},
		{"a range upside down", coil(func(c *visit.CoilSetting) {
			c.PreloadMin, c.Preload, c.PreloadMax = units.Length(over(2*milli)), units.Length(over(2*milli)), 2*milli
		}), []string{"coil.preload_max", "coil.preload"}},
		{"a least preload that is endless", coil(func(c *visit.CoilSetting) { c.PreloadMin, c.PreloadMax = units.Length(math.Inf(1)), 5*milli }), []string{"coil.preload_min"}},
		{"solid where it starts", coil(func(c *visit.CoilSetting) { c.SolidTravel = 2 * milli }), []string{"coil.solid_travel"}},
		{"solid where the collar starts", coil(func(c *visit.CoilSetting) { c.SolidTravel, c.PreloadMin, c.Preload = 2*milli, 2*milli, 2*milli }),
			[]string{"coil.solid_travel"}},
		{"filled to the marking", air(500e3, 500e3, 0), nil},
		{"filled beyond it", air(over(500e3), 500e3, 0), []string{"air.fill"}},
		{"an isothermal gas", air(500e3, 500e3, 1), nil},
		{"an exponent of two", air(500e3, 500e3, 2), nil},
		{"an exponent above", air(500e3, 500e3, over(2)), []string{"air.exponent"}},
		{"an exponent below", air(500e3, 500e3, math.Nextafter(1, 0)), []string{"air.exponent"}},
	} {
		named(t, test.name, second(corrected(test.s, 600)), test.want...)
	}
}

// The law of a coil ends where the stroke does, or before it where it binds.
func TestTravelOfASettingsSpring(t *testing.T) {
	for solid, want := range map[units.Length]float64{
		0: 0.06, 0.07: 0.06, 0.062: 0.06, 0.05: 0.048, // less 2 mm of preload
	} {
		s := coilEnd()
		s.Coil.SolidTravel = solid
		near(t, fmt.Sprint("travel of a spring that binds at ", solid), float64(stands(t, s).Law.Travel()), want, 1e-14)
	}
	// That of an air spring is the stroke, unless it is given.
	for given, want := range map[units.Length]float64{0: 0.06, 0.06: 0.06, 0.065: 0.065} {
		s := visit.Setting{Curve: coilEnd().Curve, Sag: 0.3, Air: &visit.AirSetting{NegativeChamber: fit.None, MaxFill: 3e6, Spec: airspring.Spec{Bore: 0.035, PositiveVolume: 240e-6, Travel: given, Fill: 500e3, Ambient: airspring.SeaLevel}}}
		law := stands(t, s).Law
		near(t, fmt.Sprint("travel given as ", given), float64(law.Travel()), want, 1e-14)
		if spec := law.(*airspring.Spring).Spec(); spec.Exponent != 1 || spec.Travel != law.Travel() {
			t.Errorf("the gas at rest is %+v", spec)
		}
	}
}
