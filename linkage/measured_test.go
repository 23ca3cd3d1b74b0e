package linkage_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// The fit of the tables with 7 points or more against the normal equations
// solved in exact rational arithmetic, in testdata/tables.json.
func TestFitAgreesWithExactArithmetic(t *testing.T) {
	fitted := 0
	for _, ref := range refTables(t) {
		if len(ref.Stroke) < 7 {
			continue
		}
		fitted++
		t.Run(ref.Name, func(t *testing.T) {
			table := ref.table(linkage.Measured)
			f, err := linkage.FitReadings(linkage.Table{Stroke: table.Stroke, Travel: table.Travel})
			require.NoError(t, err)
			want := ref.Exact[linkage.Measured]
			soundCurve(t, f.Curve)
			for i, s := range ref.At {
				s := mm(s)
				unitstest.Near(t, "travel", f.Curve.TravelAt(s), mm(want.Travel[i]), unitstest.Abs(1e-12*units.Millimetre))
				unitstest.Near(t, "ratio", f.Curve.LeverRatio(s), want.Ratio[i], unitstest.Rel(1e-12))
				unitstest.Near(t, "slope", f.Curve.LeverRatioSlope(s), units.RatioSlope(want.Slope[i]*1e3), unitstest.Abs(1e-9*units.PerMetre))
				unitstest.Near(t, "ratio error", f.LeverRatioError(s), want.RatioError[i], unitstest.Rel(1e-10))
			}
			for _, at := range []struct{ s, as units.Length }{
				{-1, 0}, {units.Length(math.NaN()), 0}, {units.Length(math.Inf(-1)), 0}, {1, f.Curve.Stroke()},
			} {
				unitstest.Near(t, "ratio error outside", f.LeverRatioError(at.s), f.LeverRatioError(at.as), unitstest.Exact)
			}
			unitstest.Near(t, "rms", f.ResidualRMS, mm(want.RMS), unitstest.Rel(1e-10))
			unitstest.Near(t, "reading error", f.ReadingError, mm(want.ReadingError), unitstest.Rel(1e-10))

			// NewTable makes the same curve, and its rms is that of the readings less the curve.
			c := curve(t, table)
			sum := 0.0
			for i, s := range table.Stroke {
				if c.TravelAt(s) != f.Curve.TravelAt(s) {
					t.Errorf("travel %v at %v by NewTable, %v by FitReadings", c.TravelAt(s), s, f.Curve.TravelAt(s))
				}
				sum += math.Pow(float64(table.Travel[i]-c.TravelAt(s)), 2)
			}
			// The zero point does not count.
			unitstest.Near(t, "rms of the residuals", float64(f.ResidualRMS), math.Sqrt(sum/float64(len(table.Stroke)-1)), unitstest.Rel(1e-9))
		})
	}
	require.Equal(t, 3, fitted)
}

// Points of a polynomial of degree 4 or 5 come back exactly; one of degree 5
// is beyond degree 4.
func TestFitReproducesPolynomials(t *testing.T) {
	for _, degree := range []int{4, 5} {
		b := []float64{0, 3, -9, 60, 300, -2000} // w in m, s in m, over 60 mm
		w := func(s float64) (travel, ratio, slope float64) {
			for k := degree; k >= 1; k-- {
				travel = travel*s + b[k]
				ratio = ratio*s + float64(k)*b[k]
			}
			for k := degree; k >= 2; k-- {
				slope = slope*s + float64(k*(k-1))*b[k]
			}
			return travel * s, ratio, slope
		}
		var r linkage.Table
		r.Degree = degree
		for i := range 10 {
			s := 0.06 * float64(i) / 9
			travel, _, _ := w(s)
			r.Stroke, r.Travel = append(r.Stroke, units.Length(s)), append(r.Travel, units.Length(travel))
		}
		f, err := linkage.FitReadings(r)
		require.NoError(t, err)
		for got := range f.Curve.Samples(31) {
			travel, ratio, slope := w(float64(got.Stroke))
			unitstest.Near(t, "travel", float64(got.Travel), travel, unitstest.Rel(1e-12))
			unitstest.Near(t, "ratio", got.LeverRatio, ratio, unitstest.Rel(1e-11))
			unitstest.Near(t, "slope", float64(got.LeverRatioSlope), slope, unitstest.Rel(1e-8))
			if e := f.LeverRatioError(got.Stroke); e > 1e-11 {
				t.Errorf("ratio error %v of exact readings", e)
			}
		}
		if f.ReadingError > 1e-15 || f.ResidualRMS > 1e-15 {
			t.Errorf("reading error %v, rms %v of exact readings", float64(f.ReadingError), float64(f.ResidualRMS))
		}
		r.Degree = 4
		f, err = linkage.FitReadings(r)
		require.NoError(t, err)
		if degree == 5 && f.ReadingError < mm(1e-4) {
			t.Errorf("degree 4 goes through points of degree 5 to %v", f.ReadingError)
		}
	}
}

// What FitReadings refuses beyond the columns that no table may have.
func TestFitRefuses(t *testing.T) {
	for _, test := range []struct {
		name   string
		change func(*linkage.Table)
		fields []string
	}{
		{"seven for degree 5", func(r *linkage.Table) { r.Stroke, r.Travel, r.Degree = r.Stroke[:7], r.Travel[:7], 5 }, []string{"stroke", "travel"}},
		{"degree 2", func(r *linkage.Table) { r.Degree = 2 }, []string{"degree"}},
		{"six for degree 4", func(r *linkage.Table) { r.Stroke, r.Travel, r.Degree = r.Stroke[:6], r.Travel[:6], 4 }, []string{"stroke", "travel"}},
		{"a stroke below 0", func(r *linkage.Table) { r.Stroke[2] = -mm(1) }, []string{"stroke[2]"}},
		{"travels of more than 1 km", func(r *linkage.Table) { r.Travel[2], r.Travel[3] = 1000.1, -1000.1 }, []string{"travel[2]", "travel[3]"}},
		{"NaN strokes", func(r *linkage.Table) { r.Stroke[2], r.Stroke[4] = units.Length(math.NaN()), 1000.1 }, []string{"stroke[2]", "stroke[4]"}},
		{"nanometres", func(r *linkage.Table) {
			for i := range r.Stroke {
				r.Stroke[i] *= 1e-9
			}
		}, []string{"stroke[7]"}},
		{"far from full extension", func(r *linkage.Table) { r.Stroke[0], r.Travel[0] = mm(7.001), mm(21) }, []string{"stroke[0]"}},
		// Three strokes besides 0 are one too few for the errors of three coefficients.
		{"three strokes", func(r *linkage.Table) {
			r.Stroke, r.Travel = lengths(0, 0, 20, 40, 60), lengths(0, 0, 58, 110, 157)
		}, []string{"stroke"}},
		{"two strokes, each twice", func(r *linkage.Table) {
			r.Stroke, r.Travel = lengths(0, 30, 30, 60, 60), lengths(0, 85, 85.2, 157, 157.1)
		}, []string{"stroke"}},
		{"degree 6 of seven", func(r *linkage.Table) { r.Stroke, r.Travel, r.Degree = r.Stroke[:7], r.Travel[:7], 6 }, []string{"degree"}},
		{"degree -1 and NaN", func(r *linkage.Table) { r.Degree = -1; r.Travel[2] = units.Length(math.NaN()) }, []string{"degree", "travel[2]"}},
		// All but one reading within a hair of each other say nothing of a quartic.
		{"crowded", func(r *linkage.Table) {
			for i := 1; i < 8; i++ {
				r.Stroke[i] = mm(60 + 1e-6*float64(i))
				r.Travel[i] = mm(150 + 1e-6*float64(i))
			}
		}, []string{"stroke"}},
		// A jump: the polynomial through it turns back.
		{"a step", func(r *linkage.Table) { r.Travel = lengths(0, 1, 2, 3, 150, 151, 152, 153) }, []string{"travel"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			table := eightPoints()
			r := linkage.Table{Stroke: table.Stroke, Travel: table.Travel}
			_, err := linkage.FitReadings(r)
			require.NoError(t, err) // good before they are spoilt
			test.change(&r)
			f, err := linkage.FitReadings(r)
			refuses(t, err, test.fields...)
			if f != nil {
				t.Error("a fit beside an error")
			}
		})
	}
}

// noiseResult is what a method did in the simulation of testdata/noise.json.
type noiseResult struct {
	RMS     float64
	Max95   float64
	BiasMax float64 `json:"bias_max"`
	BiasRMS float64 `json:"bias_rms"`
}

type noiseFile struct {
	Linkages map[string]posed
	Noise    []struct {
		Linkage string
		Sigma   float64
		At      []float64
		Trials  int
		Results map[string]noiseResult
	}
	Holdout map[string]map[string]noiseResult
}

// exact is a linkage whose travel and lever ratio are known, in mm.
type exact interface {
	at(stroke float64) (travel, ratio float64)
}

// posed is a linkage known exactly at some poses: stroke, travel, lever ratio
// and its slope. In between it is the polynomial of degree 5 that meets all
// of these on both sides.
type posed struct {
	Stroke float64
	Poses  [][4]float64
}

func (p posed) at(s float64) (travel, ratio float64) {
	i := 1
	for i < len(p.Poses)-1 && s > p.Poses[i][0] {
		i++
	}
	a, b := p.Poses[i-1], p.Poses[i]
	h := b[0] - a[0]
	t := (s - a[0]) / h
	// w(t) = Σ c[k]·tᵏ: the first three by the left pose, the rest solves the
	// right pose's three conditions.
	c := [6]float64{a[1], a[2] * h, a[3] * h * h / 2}
	dw := b[1] - c[0] - c[1] - c[2]
	dr := b[2]*h - c[1] - 2*c[2]
	ds := b[3]*h*h - 2*c[2]
	c[3], c[4], c[5] = 10*dw-4*dr+ds/2, -15*dw+7*dr-ds, 6*dw-3*dr+ds/2
	for k := 5; k >= 0; k-- {
		travel = travel*t + c[k]
	}
	for k := 5; k >= 1; k-- {
		ratio = ratio*t + float64(k)*c[k]/h
	}
	return travel, ratio
}

// strokes are where the simulation took its readings: steps of 5 mm from 0,
// and full stroke.
func (p posed) strokes() []float64 {
	var at []float64
	for s := 0.0; s < p.Stroke-2.5-1e-9; s += 5 {
		at = append(at, s)
	}
	return append(at, p.Stroke)
}

// The closed form of a single pivot and its exact poses, from an independent
// computation, must agree, at the poses and in between.
func TestExactLinkagesAgreeWithTheFile(t *testing.T) {
	var file noiseFile
	read(t, "noise.json", &file)
	for name, g := range map[string]pivot{"a1": lowPivot, "a2": highPivot} {
		poses := file.Linkages[name]
		require.Len(t, poses.Poses, 11)
		for _, p := range poses.Poses {
			w, r := g.at(p[0])
			if math.Abs(w-p[1]) > 1e-11 || math.Abs(r-p[2]) > 1e-12 {
				t.Errorf("%s at %v: %v, %v, want %v, %v", name, p[0], w, r, p[1], p[2])
			}
		}
		for s := 0.0; s < g.stroke; s += 0.3 {
			w, r := g.at(s)
			if pw, pr := poses.at(s); math.Abs(w-pw) > 1e-7 || math.Abs(r-pr) > 1e-7 {
				t.Errorf("%s at %v: %v, %v between poses, want %v, %v", name, s, pw, pr, w, r)
			}
		}
	}
}

// deviations are the errors of a curve's lever ratio at 121 even strokes.
func deviations(c *linkage.Curve, g exact, stroke float64) []float64 {
	list := make([]float64, 0, 121)
	for i := range 121 {
		s := stroke * float64(i) / 120
		_, ratio := g.at(s)
		list = append(list, c.LeverRatio(mm(s))-ratio)
	}
	return list
}

func meanSquare(list []float64) float64 {
	sum := 0.0
	for _, v := range list {
		sum += v * v
	}
	return sum / float64(len(list))
}

func worst(list []float64) float64 {
	most := 0.0
	for _, v := range list {
		most = max(most, math.Abs(v))
	}
	return most
}

// noisy returns exact travels at strokes with a normal error on each, except
// on the zero point.
func noisy(g exact, at []float64, sigma float64, rng *rand.Rand) []units.Length {
	travel := make([]units.Length, len(at))
	for i, s := range at {
		w, _ := g.at(s)
		if i > 0 && sigma > 0 {
			w += sigma * rng.NormFloat64()
		}
		travel[i] = mm(w)
	}
	return travel
}

// curveBy makes a curve by the method as testdata/noise.json names it.
func curveBy(t *testing.T, method string, stroke, travel []units.Length) *linkage.Curve {
	t.Helper()
	var c *linkage.Curve
	var err error
	switch method {
	case "degree 4":
		c, err = linkage.NewTable(linkage.Table{Stroke: stroke, Travel: travel, Method: linkage.Measured})
	case "degree 5":
		var f *linkage.Fit
		f, err = linkage.FitReadings(linkage.Table{Stroke: stroke, Travel: travel, Degree: 5})
		require.NoError(t, err)
		c = f.Curve
	default:
		c, err = linkage.NewTable(linkage.Table{Stroke: stroke, Travel: travel, Method: linkage.Method(method)})
	}
	require.NoError(t, err)
	return c
}

// Without noise nothing is random: the bias of each method must be the one
// that numpy and scipy found. Between its poses a linkage of noise.json is known
// to about 1e-6 here.
func TestBiasOfEachMethodAgreesWithSciPy(t *testing.T) {
	var file noiseFile
	read(t, "noise.json", &file)
	check := func(t *testing.T, name, method string, at []float64, want noiseResult) {
		t.Helper()
		g := file.Linkages[name]
		d := deviations(curveBy(t, method, lengths(at...), noisy(g, at, 0, nil)), g, g.Stroke)
		if most := worst(d); math.Abs(most-want.BiasMax) > 1e-6+1e-3*want.BiasMax {
			t.Errorf("%s, %s: worst bias %.6g, want %.6g", name, method, most, want.BiasMax)
		}
		if rms := math.Sqrt(meanSquare(d)); want.BiasRMS > 0 && math.Abs(rms-want.BiasRMS) > 1e-7+1e-3*want.BiasRMS {
			t.Errorf("%s, %s: rms bias %.6g, want %.6g", name, method, rms, want.BiasRMS)
		}
	}
	require.Len(t, file.Noise, 6)
	for _, n := range file.Noise {
		require.Len(t, n.Results, 4)
		for method, want := range n.Results {
			check(t, n.Linkage, method, n.At, want)
		}
	}
	require.Len(t, file.Holdout, 8)
	for name, results := range file.Holdout {
		require.Len(t, results, 3)
		for method, want := range results {
			check(t, name, method, file.Linkages[name].strokes(), want)
		}
	}
}

// The simulation itself, 300 trials each, against that of numpy and scipy. The
// mean square may be off by four standard errors, its own and the other's; the
// other's 95th percentile must lie between the ranks of ours that a binomial
// count of 300 trials leaves open, four standard deviations again.
func TestErrorUnderNoiseAgreesWithSciPy(t *testing.T) {
	var file noiseFile
	read(t, "noise.json", &file)
	const trials = 300
	spread := 4 * math.Sqrt(0.95*0.05*trials)
	rng := rand.New(rand.NewPCG(11, 12))
	check := func(t *testing.T, name, method string, at []float64, sigma float64, want noiseResult) {
		t.Helper()
		g := file.Linkages[name]
		stroke := lengths(at...)
		squares, most := make([]float64, trials), make([]float64, trials)
		mean := 0.0
		for i := range trials {
			d := deviations(curveBy(t, method, stroke, noisy(g, at, sigma, rng)), g, g.Stroke)
			squares[i], most[i] = meanSquare(d), worst(d)
			mean += squares[i] / trials
		}
		variance := 0.0
		for _, s := range squares {
			variance += (s - mean) * (s - mean) / (trials - 1)
		}
		if allowed := 4 * math.Sqrt(variance/trials+variance/3000); math.Abs(mean-want.RMS*want.RMS) > allowed {
			t.Errorf("%s, %s, σ %v mm: rms %.5f, want %.5f (mean square within %.2g)", name, method, sigma, math.Sqrt(mean), want.RMS, allowed)
		}
		slices.Sort(most)
		low, high := most[int(0.95*trials-spread)], most[min(int(0.95*trials+spread), trials-1)]
		if !(low <= want.Max95 && want.Max95 <= high) {
			t.Errorf("%s, %s, σ %v mm: 95 %% of the worst errors below something from %.4f to %.4f, want %.4f", name, method, sigma, low, high, want.Max95)
		}
	}
	for _, n := range file.Noise {
		check(t, n.Linkage, "degree 4", n.At, n.Sigma, n.Results["degree 4"])
	}
	for _, name := range []string{"a2", "d1", "e2"} {
		for _, method := range []string{"monotone", "degree 4", "degree 5"} {
			check(t, name, method, file.Linkages[name].strokes(), 0.1, file.Holdout[name][method])
		}
	}
}

// What a fit says of its own errors, on a linkage that degree 4 has no bias
// for: the reading error is right on average, and (fit − exact)/error is
// Student's t.
func TestFitKnowsItsErrors(t *testing.T) {
	const trials, sigma = 400, 0.1
	at := []float64{0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 57.5}
	freedom := float64(len(at) - 1 - 4)
	limit := distuv.StudentsT{Mu: 0, Sigma: 1, Nu: freedom}.Quantile(0.975)
	rng := rand.New(rand.NewPCG(13, 14))
	variance := 0.0
	inside := map[float64]int{}
	for range trials {
		f, err := linkage.FitReadings(linkage.Table{Stroke: lengths(at...), Travel: noisy(lowPivot, at, sigma, rng)})
		require.NoError(t, err)
		e := f.ReadingError.Millimetres()
		variance += e * e / trials
		for _, s := range []float64{0, 3, 20, 40, 57.5} {
			_, ratio := lowPivot.at(s)
			if math.Abs(f.Curve.LeverRatio(mm(s))-ratio) <= limit*f.LeverRatioError(mm(s)) {
				inside[s]++
			}
		}
	}
	if off := variance/(sigma*sigma) - 1; math.Abs(off) > 4*math.Sqrt(2/freedom/trials) {
		t.Errorf("mean square of the reading errors %.3g off", off)
	}
	for s, n := range inside {
		if share := float64(n) / trials; math.Abs(share-0.95) > 4*math.Sqrt(0.95*0.05/trials) {
			t.Errorf("at %v mm %.1f %% within the 95 %% limits", s, 100*share)
		}
	}
}

// The bias of a polynomial of degree 4 on this linkage is 0.007 (the study of noise); 0.01 leaves room
// for the points being others.
func TestFitOfExactReadingsIsNearTheLinkage(t *testing.T) {
	want := compiled(t, solved("c1"))
	table := points(want, 13, linkage.Measured)
	for i, got := 0, curve(t, table); i < 13; i++ {
		unitstest.Near(t, "ratio", got.LeverRatio(table.Stroke[i]), want.LeverRatio(table.Stroke[i]), unitstest.Abs(0.01))
	}
}
