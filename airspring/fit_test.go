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

// question is a spec, 0 where something is sought, and readings of the spring.
type question struct {
	Spec airspring.Spec
	spring.Readings
}

func fit(q question) (airspring.FitResult, error) { return airspring.Fit(q.Spec, q.Readings) }

// readings measures a spring at n travels up to a share of its own, with a scatter of
// the force.
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

// Without scatter the fit finds the spring that the readings are of, whatever is sought.
// The forces are those of the textbook, not of New.
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
			if got.Spec.Spacers != s.Spacers || got.Spec.OilVolume != s.OilVolume || got.Spec.SpacerVolume != s.SpacerVolume {
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
// residuals in N. The last two are readings over 40 % of the travel, which bend too
// little for a start on the coarse grid to be near; mpmath had 40 digits there.
func TestFitComputed(t *testing.T) {
	fork := one(36, 160, 0, 0, 0)
	pulled := one(34, 150, 0, 0, 0)
	pulled.Shaft, pulled.NegativeVolume, pulled.PortTravel = 10*mm, 25*cm3, 5*mm
	given, filled := pulled, fork
	given.Exponent, filled.Fill = 1.15, 5e5
	travel := []float64{0, 10, 20, 40, 60, 80, 100, 120, 140, 150}
	part := []float64{0, 6, 12, 18, 24, 30, 36, 42, 48, 54, 60, 66}
	soft := []float64{508.9, 530.7, 553.9, 578.7, 605.1, 633.5, 663.8, 696.5, 731.7, 769.8, 811.1, 855.9}
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
		{filled, part, soft,
			[3]float64{601325, 0.000229619348793622, 1.29749795687902}, [3]float64{0, 2.48657404039e-7, 0.00162407471156}, 0.0328308305831},
		{fork, part, soft,
			[3]float64{601300.998115535, 0.000229894688910355, 1.29945246464952}, [3]float64{21.0596410572, 3.44812234877e-7, 0.00235048460773}, 0.032350893155},
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
		unitstest.Near(t, "volume", float64(got.Spec.PositiveVolume), c.want[1], unitstest.Rel(2e-9))
		unitstest.Near(t, "exponent", got.Spec.Exponent, c.want[2], unitstest.Rel(2e-9))
		unitstest.Near(t, "error of the fill", float64(got.FillError), c.errors[0], unitstest.Rel(1e-7))
		unitstest.Near(t, "error of the volume", float64(got.VolumeError), c.errors[1], unitstest.Rel(1e-7))
		unitstest.Near(t, "error of the exponent", got.ExponentError, c.errors[2], unitstest.Rel(1e-7))
		unitstest.Near(t, "residuals", float64(got.ResidualDeviation), c.deviation, unitstest.Rel(1e-9))
	}
}

// With scatter, the deviations of many fits from the true spring have a mean of 0 and the
// standard errors that the fits state.
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

// Readings over a twentieth of the travel, with a scatter of 1 µN, determine all unknowns
// of a spring with a negative chamber. The valley of their sum of squares is far narrower
// than a step of the grid.
func TestFitNarrowValley(t *testing.T) {
	rng := rand.New(rand.NewPCG(17, 18))
	for range 60 {
		s := withNegative(rng, one(34, 120, 120+150*rng.Float64(), 2+20*rng.Float64(), 1+rng.Float64()), 0.1)
		r := readings(t, s, 8+rng.IntN(20), 0.05, 1e-6, rng)
		r.Spec.Fill, r.Spec.PositiveVolume, r.Spec.Exponent = 0, 0, 0
		got, err := fit(r)
		if err != nil {
			t.Errorf("%v of %+v", err, s)
			continue
		}
		unitstest.Near(t, "fill", got.Spec.Fill, s.Fill, unitstest.Abs(6*got.FillError))
		unitstest.Near(t, "volume", got.Spec.PositiveVolume, s.PositiveVolume, unitstest.Abs(6*got.VolumeError))
		if got.Spec.Exponent != 1 && got.Spec.Exponent != 2 {
			unitstest.Near(t, "exponent", got.Spec.Exponent, s.Exponent, unitstest.Abs(6*got.ExponentError))
		}
		if !(got.ResidualDeviation < 3e-6) {
			t.Errorf("residuals of %v", got.ResidualDeviation)
		}
	}
}

// If the best chamber is less than the travel sweeps, the least that New takes is found,
// with the best fill for it: F + A·p_a = p·G is linear in the fill p, so that is
// Σ G·(F + A·p_a)/Σ G², here with G = A·(V₀/V)ⁿ by hand.
func TestFitOfTheLeastChamber(t *testing.T) {
	s := one(36, 160, 200, 5, 1.3)
	r := readings(t, s, 15, 0.6, 0, nil)
	r.Spec.Travel, r.Spec.Fill, r.Spec.PositiveVolume = 220*mm, 0, 0
	got, err := fit(r)
	if err != nil {
		t.Fatal(err)
	}
	a := math.Pi / 4 * 0.036 * 0.036
	least := a * 0.220
	unitstest.Near(t, "volume", float64(got.Spec.PositiveVolume), least, unitstest.Rel(1e-8))
	top, bottom := 0.0, 0.0
	for i, x := range r.Travel {
		g := a * math.Pow(least/(least-a*float64(x)), 1.3)
		top += g * (float64(r.Force[i]) + a*101325)
		bottom += g * g
	}
	unitstest.Near(t, "fill", float64(got.Spec.Fill), top/bottom-101325, unitstest.Rel(1e-7))
}

// Readings over a short stroke, or with much scatter, don't determine volume and exponent.
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
	// At strokes of less than an atom the volume has no effect that float64 holds.
	r := readings(t, s, 5, 1e-20, 0.01, rng)
	r.Spec.Fill, r.Spec.PositiveVolume = 0, 0
	_, err := fit(r)
	wantFields(t, "no stroke", err, "fill", "positive_volume")
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

// zigzag are eleven readings over the whole travel, those of the textbook plus
// and minus a misreading in turn. The first is less.
func zigzag(s airspring.Spec, misread float64) question {
	r := question{Spec: s}
	for i := range 11 {
		x := float64(s.Travel) * float64(i) / 10
		f, _ := textbook(s, x)
		if i%2 == 0 {
			f -= misread
		} else {
			f += misread
		}
		r.Travel, r.Force = append(r.Travel, units.Length(x)), append(r.Force, units.Force(f))
	}
	return r
}

// An exponent outside 1 to 2 by less than three times its error becomes the limit,
// one outside by more is refused. Best exponent, its error e and the deviation of
// the residuals at the limit from N readings are those of mpmath 1.2.1 in 50
// digits: outside by 2.8 e, 3.2 e and 4 e.
func TestFitExponentOutside(t *testing.T) {
	for _, c := range []struct {
		made, misread, limit, best float64
		taken                      bool
		deviation                  float64
	}{
		{0.995, 7.065, 1, 0.994105603921323, true, 9.36588862443063},
		{0.995, 6.048, 1, 0.994234377371022, false, 0},
		{0.995, 4.695, 1, 0.994405681892985, false, 0},
		{2.002, 6.163, 2, 2.00168118637383, true, 8.11481567609209},
		{2.002, 5.503, 2, 2.00171533219468, false, 0},
		{2.002, 4.531, 2, 2.00176561799654, false, 0},
		{2.5, 1, 2, 2.5, false, 0},
		{0.85, 1, 1, 0.85, false, 0},
	} {
		s := one(36, 160, 230, 5, c.made)
		r := zigzag(s, c.misread)
		r.Spec.Exponent = 0
		got, err := fit(r)
		if !c.taken {
			wantFields(t, fmt.Sprint("exponent ", c.best), err, "exponent")
			if f := units.Fields(err); len(f) == 1 {
				if !errors.Is(err, airspring.ErrUndetermined) {
					t.Errorf("class %v", f[0].Class)
				}
				if v, ok := f[0].Value.(float64); !ok || math.Abs(v-c.best) > 1e-3 {
					t.Errorf("it names %v, the best is %v", f[0].Value, c.best)
				}
			}
			continue
		}
		if err != nil {
			t.Error(err)
			continue
		}
		if got.Spec.Exponent != c.limit || got.ExponentError != 0 {
			t.Errorf("exponent %v ± %v", got.Spec.Exponent, got.ExponentError)
		}
		unitstest.Near(t, "deviation", float64(got.ResidualDeviation), c.deviation, unitstest.Rel(1e-9))
	}
}

// A limit that is taken counts as if it had been given: slow readings with scatter,
// drawn at random, fitted both ways.
func TestFitTakesALimitAsGiven(t *testing.T) {
	rng := rand.New(rand.NewPCG(41, 42))
	taken := 0
	for range 40 {
		s := one(36, 160, 200+100*rng.Float64(), 3+10*rng.Float64(), 1)
		if rng.IntN(2) == 0 {
			s.Shaft, s.NegativeVolume, s.PortTravel = 10*mm, 30*cm3, 5*mm
		}
		r := readings(t, s, 20, 0.8+0.2*rng.Float64(), 3, rng)
		r.Spec.Fill, r.Spec.PositiveVolume, r.Spec.Exponent = 0, 0, 0
		got, err := fit(r)
		if err != nil || got.Spec.Exponent != 1 {
			continue
		}
		taken++
		r.Spec.Exponent = 1
		given, err := fit(r)
		if err != nil {
			t.Error(err)
			continue
		}
		unitstest.Near(t, "fill", got.Spec.Fill, given.Spec.Fill, unitstest.Rel(1e-9))
		unitstest.Near(t, "volume", got.Spec.PositiveVolume, given.Spec.PositiveVolume, unitstest.Rel(1e-9))
		unitstest.Near(t, "error of the fill", got.FillError, given.FillError, unitstest.Rel(1e-7))
		unitstest.Near(t, "error of the volume", got.VolumeError, given.VolumeError, unitstest.Rel(1e-7))
		unitstest.Near(t, "deviation", got.ResidualDeviation, given.ResidualDeviation, unitstest.Rel(1e-9))
		if got.ExponentError != 0 {
			t.Errorf("the limit has an error of %v", got.ExponentError)
		}
	}
	if taken < 10 {
		t.Errorf("the limit was taken %d times", taken)
	}
}

// Without scatter a spring comes back from a part of its travel: from a hundredth or more
// with the fill given, from a few thousandths with all three sought, where the valley is
// long and bent.
func TestFitShortStroke(t *testing.T) {
	for _, c := range []struct {
		filled   bool
		shares   []float64
		exponent []float64
		off      float64
	}{
		{true, []float64{0.01, 0.03, 0.1, 0.4}, []float64{1, 1.05, 1.2, 1.3, 1.5, 1.7, 1.9}, 1e-7},
		{false, []float64{0.002, 0.01}, []float64{1, 1.25, 2}, 1e-4},
	} {
		for _, n := range c.exponent {
			for _, share := range c.shares {
				plain := one(36, 160, 230, 5, n)
				pulled := plain
				pulled.Shaft, pulled.NegativeVolume, pulled.PortTravel = 10*mm, 30*cm3, 5*mm
				for _, s := range []airspring.Spec{plain, pulled} {
					r := readings(t, s, 20, share, 0, nil)
					r.Spec.PositiveVolume, r.Spec.Exponent = 0, 0
					if !c.filled {
						r.Spec.Fill = 0
					}
					got, err := fit(r)
					wantFields(t, fmt.Sprint("over ", share), err)
					unitstest.Near(t, fmt.Sprint("exponent over ", share), got.Spec.Exponent, n, unitstest.Abs(c.off))
				}
			}
		}
	}
}

// Volume and exponent over a stroke so short that the force hardly bends: the
// ratio of the singular values of the two columns, each of the length 1, is by
// mpmath, in 50 digits, 0.8, 0.9 and 1.2·10⁻⁵ for seven travels at these steps.
func TestFitRefusesUnknownsThatAreAlike(t *testing.T) {
	both := []string{"exponent", "positive_volume"}
	for _, c := range []struct {
		step float64
		want []string
	}{
		{1e-9, both}, {5.875e-6, both}, {6.609e-6, both}, {8.812e-6, nil},
	} {
		s := one(36, 160, 230, 5, 1.3)
		r := question{Spec: s}
		for i := range 7 {
			x := c.step * float64(i)
			f, _ := textbook(s, x)
			r.Travel, r.Force = append(r.Travel, units.Length(x)), append(r.Force, units.Force(f))
		}
		r.Spec.PositiveVolume, r.Spec.Exponent = 0, 0
		_, err := fit(r)
		wantFields(t, fmt.Sprint("step ", c.step), err, c.want...)
		if c.want != nil && !errors.Is(err, airspring.ErrUndetermined) {
			t.Errorf("step %v: %v", c.step, err)
		}
	}
	// Travels that are different numbers, but no way apart: nothing depends on the
	// volume there.
	r := question{Spec: one(36, 160, 230, 5, 1.3)}
	r.Spec.PositiveVolume = 0
	for i := range 4 {
		r.Travel, r.Force = append(r.Travel, units.Length(float64(i)*1e-300)), append(r.Force, 509)
	}
	_, err := fit(r)
	wantFields(t, "no way", err, "positive_volume")
	if !errors.Is(err, airspring.ErrUndetermined) {
		t.Error(err)
	}
}

// A fill alone, with eleven readings misread by c and -c in turn: F = p·G − A·p_a is
// linear, so its error is s/√ΣG² with s² = Σr²/10, by hand. It is refused above
// 25 % of what the gauge shows, not of the pressure above vacuum.
func TestFitVagueFill(t *testing.T) {
	for _, c := range []struct {
		share float64 // of the error in the fill
		want  []string
	}{{0.20, nil}, {0.24, nil}, {0.26, []string{"fill"}}, {0.35, []string{"fill"}}, {0.6, []string{"fill"}}} {
		s := one(36, 160, 230, 0.5, 1)
		a := math.Pi / 4 * 0.036 * 0.036
		var g [11]float64
		squares, along := 0.0, 0.0
		for i := range g {
			g[i] = a * 230e-6 / (230e-6 - a*0.016*float64(i))
			squares += g[i] * g[i]
			along += g[i] * (2*float64(i%2) - 1)
		}
		// A misreading of 1 N shifts the fill by shift and leaves rest in Σr².
		shift := along / squares
		rest := 11 - along*along/squares
		per := math.Sqrt(rest / 10 / squares)
		misread := c.share * 0.5e5 / (per - c.share*shift)
		r := zigzag(s, misread)
		r.Spec.Fill = 0
		got, err := fit(r)
		wantFields(t, fmt.Sprint("share ", c.share), err, c.want...)
		if c.want != nil {
			if !errors.Is(err, airspring.ErrUndetermined) {
				t.Error(err)
			}
			continue
		}
		unitstest.Near(t, "fill", float64(got.Spec.Fill), 0.5e5+misread*shift, unitstest.Rel(1e-9))
		unitstest.Near(t, "error", float64(got.FillError), c.share*float64(got.Spec.Fill), unitstest.Rel(1e-9))
	}
}

// Readings that determine a pressure below ambient are refused, and those of a vacuum.
func TestFitWithoutPressure(t *testing.T) {
	s := one(36, 160, 230, -0.4, 1)
	r := zigzag(s, 0)
	r.Spec.Fill = 0
	_, err := fit(r)
	wantFields(t, "below ambient", err, "fill")
	if errors.Is(err, airspring.ErrUndetermined) {
		t.Errorf("it is determined: %v", err)
	}
	for i := range r.Force {
		r.Force[i] = units.Force(-math.Pi / 4 * 0.036 * 0.036 * 101325)
	}
	for _, seek := range []bool{false, true} {
		if r.Spec.PositiveVolume = 230 * cm3; seek {
			r.Spec.PositiveVolume = 0
		}
		if _, err := fit(r); len(units.Fields(err)) == 0 {
			t.Errorf("vacuum: %v", err)
		}
	}
	r = zigzag(one(36, 160, 230, 5, 1), 0)
	r.Spec.PositiveVolume, r.Spec.Fill = 0, -1
	_, err = fit(r)
	wantFields(t, "given below ambient", err, "spec.fill")
}

// A spring of less than a newton is fitted like one of a thousand newtons. Forces are from
// -10⁹ to 10⁹ N.
func TestFitOfEverySize(t *testing.T) {
	for _, scale := range []float64{0.02, 0.1, 1, 10} {
		s := one(36, 160, 230, 5, 1.3)
		s.Bore, s.Travel, s.PositiveVolume = s.Bore*units.Length(scale), s.Travel*units.Length(scale), s.PositiveVolume*units.Volume(scale*scale*scale)
		r := zigzag(s, 0)
		r.Spec.Fill, r.Spec.PositiveVolume, r.Spec.Exponent = 0, 0, 0
		got, err := fit(r)
		if err != nil {
			t.Error(err)
			continue
		}
		unitstest.Near(t, "fill", got.Spec.Fill, s.Fill, unitstest.Rel(1e-8))
		unitstest.Near(t, "volume", got.Spec.PositiveVolume, s.PositiveVolume, unitstest.Rel(1e-8))
		unitstest.Near(t, "exponent", got.Spec.Exponent, s.Exponent, unitstest.Rel(1e-8))
	}
	for _, force := range []units.Force{-1.2e9, 1.2e9} {
		r := zigzag(one(36, 160, 230, 5, 1.3), 0)
		r.Spec.Fill = 0
		r.Force[3] = force
		_, err := fit(r)
		wantFields(t, fmt.Sprint(force), err, "force[3]")
	}
}
