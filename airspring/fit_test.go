package airspring_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// readings measures a spring at n travels up to a share of its own, with a
// scatter of the force.
// question is a spec, 0 where something is sought, and readings of the spring.
type question struct {
	Spec airspring.Spec
	spring.Readings
}

func fit(q question) (airspring.FitResult, error) { return airspring.Fit(q.Spec, q.Readings) }

func readings(t testing.TB, s airspring.Spec, n int, upTo, scatter float64, rng *rand.Rand) question {
	t.Helper()
	r := question{Spec: s}
	for i := range n {
		x := float64(s.Travel) * upTo * float64(i) / float64(n-1)
		f, _ := textbook(s, x)
		if scatter > 0 {
			f += scatter * rng.NormFloat64()
		}
		r.Travel, r.Force = append(r.Travel, units.Length(x)), append(r.Force, units.Force(f))
	}
	return r
}

// Without scatter, all of what is sought comes back, whichever is sought; the
// forces are those of the textbook, not of New.
func TestFitExact(t *testing.T) {
	spaced := one(36, 160, 240, 5, 1.25)
	spaced.OilVolume, spaced.SpacerVolume, spaced.Spacers = 5*cm3, 8*cm3, 2
	shaft := twoRows[4].spec()
	for _, s := range []airspring.Spec{one(36, 160, 230, 5, 1), one(40, 60, 95, 18, 1.4), spaced, twoRows[0].spec(), shaft} {
		for seek := 1; seek < 8; seek++ {
			r := readings(t, s, 15, 0.95, 0, nil)
			if seek&1 != 0 {
				r.Spec.Fill = 0
			}
			if seek&2 != 0 {
				r.Spec.PositiveVolume = 0
			}
			if seek&4 != 0 {
				r.Spec.Exponent = 0
			}
			got, err := fit(r)
			if err != nil {
				t.Errorf("seek %d: %v", seek, err)
				continue
			}
			unitstest.Near(t, "fill", got.Spec.Fill, s.Fill, unitstest.Rel(1e-8))
			unitstest.Near(t, "volume", got.Spec.PositiveVolume, s.PositiveVolume, unitstest.Rel(1e-8))
			unitstest.Near(t, "exponent", got.Spec.Exponent, s.Exponent, unitstest.Rel(1e-8))
			if seek&1 == 0 && got.Spec.Fill != s.Fill || seek&2 == 0 && got.Spec.PositiveVolume != s.PositiveVolume || seek&4 == 0 && got.Spec.Exponent != s.Exponent {
				t.Errorf("seek %d: what was given is changed: %+v", seek, got.Spec)
			}
			if got.Spec.Spacers != s.Spacers || got.Spec.OilVolume != s.OilVolume || got.Spec.SpacerVolume != s.SpacerVolume || got.Points != 15 {
				t.Errorf("spec %+v", got.Spec)
			}
			if (seek&1 == 0) != (got.FillError == 0) && got.ResidualDeviation > 0 {
				t.Errorf("error of the fill %v", got.FillError)
			}
		}
	}
}

// Least squares of rounded readings of two invented springs, as mpmath 1.2.1 has
// them in 50 digits from the sum of squares itself: fill in Pa above vacuum,
// volume in m³, exponent, each with its standard error, and the deviation of the
// residuals in N.
func TestFitComputed(t *testing.T) {
	fork := one(36, 160, 0, 0, 0)
	pulled := one(34, 150, 0, 0, 0)
	pulled.Shaft, pulled.NegativeVolume, pulled.PortTravel = 10*mm, 25*cm3, 5*mm
	given := pulled
	given.Exponent = 1.15
	travel := []float64{0, 10, 20, 40, 60, 80, 100, 120, 140, 150}
	force := []float64{-64, 172, 334, 565, 759, 979, 1264, 1657, 2306, 2804}
	for _, c := range []struct {
		spec          airspring.Spec
		travel, force []float64
		want, errors  [3]float64
		deviation     float64
	}{
		{fork, []float64{0, 20, 40, 60, 80, 100, 120, 140, 150, 160}, []float64{511, 581, 679, 801, 952, 1167, 1477, 1942, 2289, 2749},
			[3]float64{601996.598473947, 0.000229807933204782, 1.24691774017984}, [3]float64{1490.83010669, 8.83234699043e-7, 0.0106562729805}, 2.78311075665},
		{pulled, travel, force,
			[3]float64{701655.755955128, 0.000189959109182593, 1.19913581288882}, [3]float64{10814.9131809, 1.32354594082e-6, 0.0272407315326}, 2.88159078109},
		{given, travel, force,
			[3]float64{721915.153733388, 0.000187596387976241, 1.15}, [3]float64{1564.52423914, 1.62428831222e-7, 0}, 3.29535548511},
	} {
		r := question{Spec: c.spec}
		for i := range c.travel {
			r.Travel, r.Force = append(r.Travel, units.Length(c.travel[i])*mm), append(r.Force, units.Force(c.force[i]))
		}
		got, err := fit(r)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "fill", float64(got.Spec.Fill.Absolute(airspring.SeaLevel)), c.want[0], unitstest.Rel(1e-9))
		unitstest.Near(t, "volume", float64(got.Spec.PositiveVolume), c.want[1], unitstest.Rel(1e-9))
		unitstest.Near(t, "exponent", got.Spec.Exponent, c.want[2], unitstest.Rel(1e-9))
		unitstest.Near(t, "error of the fill", float64(got.FillError), c.errors[0], unitstest.Rel(1e-8))
		unitstest.Near(t, "error of the volume", float64(got.VolumeError), c.errors[1], unitstest.Rel(1e-8))
		unitstest.Near(t, "error of the exponent", got.ExponentError, c.errors[2], unitstest.Rel(1e-8))
		unitstest.Near(t, "residuals", float64(got.ResidualDeviation), c.deviation, unitstest.Rel(1e-9))
	}
}

// With scatter, the errors told are those made: over many repetitions the fit is
// off by as much as it says, no more and no less, and not to one side.
func TestFitErrors(t *testing.T) {
	rng := rand.New(rand.NewPCG(11, 12))
	s := one(36, 160, 230, 5, 1.2)
	const runs, scatter = 300, 4.0
	var square, mean [3]float64
	var residual float64
	for range runs {
		r := readings(t, s, 25, 1, scatter, rng)
		r.Spec.Fill, r.Spec.PositiveVolume, r.Spec.Exponent = 0, 0, 0
		got, err := fit(r)
		if err != nil {
			t.Fatal(err)
		}
		for i, z := range []float64{
			float64(got.Spec.Fill-s.Fill) / float64(got.FillError),
			float64(got.Spec.PositiveVolume-s.PositiveVolume) / float64(got.VolumeError),
			(got.Spec.Exponent - s.Exponent) / got.ExponentError,
		} {
			mean[i] += z / runs
			square[i] += z * z / runs
		}
		residual += float64(got.ResidualDeviation*got.ResidualDeviation) / runs
	}
	for i := range mean {
		// 300 runs know a mean of 0 to ±0.06 and a square of 1 to ±0.08.
		if !(math.Abs(mean[i]) < 0.3) || !(square[i] > 0.75 && square[i] < 1.35) {
			t.Errorf("unknown %d: mean %.3f, square %.3f", i, mean[i], square[i])
		}
	}
	if math.Abs(math.Sqrt(residual)-scatter) > 0.1 {
		t.Errorf("residuals of %.2f N, want %v", math.Sqrt(residual), scatter)
	}
}

// A short stroke does not tell volume and exponent apart, nor does a poor scale;
// with the exponent given the volume is known.
func TestFitUndetermined(t *testing.T) {
	rng := rand.New(rand.NewPCG(13, 14))
	s := one(36, 160, 230, 5, 1)
	for _, r := range []question{readings(t, s, 12, 0.02, 0.5, rng), readings(t, s, 12, 0.3, 8, rng)} {
		r.Spec.Fill, r.Spec.PositiveVolume, r.Spec.Exponent = 0, 0, 0
		_, err := fit(r)
		if !errors.Is(err, airspring.ErrUndetermined) {
			t.Errorf("error %v", err)
		}
		for _, f := range units.Fields(err) {
			if f.Field != "positive_volume" && f.Field != "exponent" && f.Field != "fill" {
				t.Errorf("field %s", f.Field)
			}
		}
	}
	r := readings(t, s, 12, 0.3, 2, rng)
	r.Spec.Fill, r.Spec.PositiveVolume = 0, 0
	got, err := fit(r)
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "volume", got.Spec.PositiveVolume, s.PositiveVolume, unitstest.Abs(4*got.VolumeError))
	unitstest.Near(t, "fill", got.Spec.Fill, s.Fill, unitstest.Abs(4*got.FillError))
}

// Slow readings with scatter often fit an exponent a little below 1 best: then 1
// is taken. Forces that no gas has are refused.
func TestFitExponentLimit(t *testing.T) {
	rng := rand.New(rand.NewPCG(15, 16))
	s := one(36, 160, 230, 5, 1)
	at := 0
	for range 20 {
		r := readings(t, s, 25, 1, 2, rng)
		r.Spec.Fill, r.Spec.PositiveVolume, r.Spec.Exponent = 0, 0, 0
		got, err := fit(r)
		if err != nil {
			t.Fatal(err)
		}
		if !(got.Spec.Exponent >= 1) {
			t.Errorf("exponent %v", got.Spec.Exponent)
		}
		if got.Spec.Exponent == 1 {
			at++
		}
		unitstest.Near(t, "volume", got.Spec.PositiveVolume, s.PositiveVolume, unitstest.Rel(0.05))
	}
	if at < 4 || at > 16 {
		t.Errorf("the limit was taken in %d of 20", at)
	}
	r := readings(t, s, 25, 1, 0, nil)
	r.Spec.Exponent = 0
	r.Spec.PositiveVolume = 200 * cm3 // so that n would have to be far below 1
	_, err := fit(r)
	if !errors.Is(err, airspring.ErrUndetermined) {
		t.Errorf("error %v", err)
	}
	wantFields(t, "exponent", err, "exponent")
}

func TestFitRefuses(t *testing.T) {
	base := func() question {
		r := readings(t, one(36, 160, 230, 5, 1), 6, 1, 0, nil)
		r.Spec.Fill, r.Spec.PositiveVolume = 0, 0
		return r
	}
	for _, c := range []struct {
		name   string
		change func(*question)
		want   []string
	}{
		{"nothing", func(r *question) { *r = question{} }, []string{"spec.bore", "spec.travel", "spec.ambient", "travel"}},
		{"nothing sought", func(r *question) { r.Spec = one(36, 160, 230, 5, 1) }, []string{"spec"}},
		{"too few", func(r *question) { r.Travel, r.Force = r.Travel[:2], r.Force[:2] }, []string{"travel"}},
		{"all at one travel", func(r *question) {
			for i := range r.Travel {
				r.Travel[i] = 0.01
			}
		}, []string{"travel"}},
		{"of different length", func(r *question) { r.Force = r.Force[:5] }, []string{"force"}},
		{"not numbers", func(r *question) {
			r.Travel[1], r.Force[2], r.Force[3] = units.Length(nan), units.Force(nan), units.Force(inf)
		},
			[]string{"travel[1]", "force[2]", "force[3]"}},
		{"beyond travel", func(r *question) { r.Travel[5] = 0.161 }, []string{"travel[5]"}},
		{"second chamber", func(r *question) { r.Spec.SecondVolume, r.Spec.SecondFill = cm3, 1e5 }, []string{"spec.second_volume"}},
		{"bad exponent given", func(r *question) { r.Spec.Exponent = 3 }, []string{"spec.exponent"}},
		{"bad volume given", func(r *question) { r.Spec.PositiveVolume = 100 * cm3 }, []string{"spec.positive_volume"}},
	} {
		r := base()
		c.change(&r)
		_, err := fit(r)
		wantFields(t, c.name, err, c.want...)
	}
}

// Whatever is given, Fit answers with numbers or refuses.
func FuzzFit(f *testing.F) {
	f.Add(bytesOf(500, 550, 620, 800, 1000, 1400, 230e-6, 1, 5e5), 3)
	f.Add(bytesOf(-500, 550, 0, 8e8, 1e-300, 1400, 0, 0, 0), 7)
	f.Fuzz(func(t *testing.T, data []byte, seek int) {
		v := numbers(data, 9)
		r := question{Spec: one(36, 160, 230, 5, 1)}
		r.Spec.PositiveVolume, r.Spec.Exponent, r.Spec.Fill = units.Volume(v[6]), v[7], units.GaugePressure(v[8])
		if seek&1 != 0 {
			r.Spec.Fill = 0
		}
		if seek&2 != 0 {
			r.Spec.PositiveVolume = 0
		}
		if seek&4 != 0 {
			r.Spec.Exponent = 0
		}
		for i := range 6 {
			r.Travel, r.Force = append(r.Travel, units.Length(i)*0.03), append(r.Force, units.Force(v[i]))
		}
		got, err := fit(r)
		if err != nil {
			if len(units.Fields(err)) == 0 {
				t.Errorf("an error without a field: %v", err)
			}
			return
		}
		if !finite(float64(got.FillError), float64(got.VolumeError), got.ExponentError, float64(got.ResidualDeviation)) {
			t.Errorf("%+v", got)
		}
		if _, err := airspring.New(got.Spec); err != nil {
			t.Errorf("what was fitted is refused: %v", err)
		}
	})
}

func ExampleFit() {
	// Slow readings of an invented fork, in mm and N. The figures were confirmed
	// with mpmath, 30 digits.
	r := question{Spec: airspring.Spec{Bore: 36 * units.Millimetre, Travel: 160 * units.Millimetre, Ambient: airspring.SeaLevel, Exponent: 1}}
	for _, p := range [][2]float64{{0, 510}, {32, 608}, {64, 752}, {96, 963}, {128, 1308}, {160, 1994}} {
		r.Travel, r.Force = append(r.Travel, units.Length(p[0])*units.Millimetre), append(r.Force, units.Force(p[1]))
	}
	got, err := fit(r)
	fmt.Printf("fill %.3f ± %.3f bar, volume %.1f ± %.1f cm³, residuals %.2f N %v\n", got.Spec.Fill.Bar(), got.FillError.Bar(),
		got.Spec.PositiveVolume.CubicCentimetres(), got.VolumeError.CubicCentimetres(), got.ResidualDeviation.Newtons(), err)
	// Output: fill 5.003 ± 0.006 bar, volume 230.0 ± 0.1 cm³, residuals 1.58 N <nil>
}
