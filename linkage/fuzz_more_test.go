package linkage_test

import (
	"bytes"
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// allFinite holds that every number is one.
func allFinite(t *testing.T, what string, list ...float64) {
	t.Helper()
	for i, v := range list {
		if !finite(v) {
			t.Fatalf("%s: value %d of %v", what, i, list)
		}
	}
}

// named fails where an error names no field.
func named(t *testing.T, what string, err error) {
	t.Helper()
	if len(units.Fields(err)) == 0 {
		t.Fatalf("%s: an error that names no field: %v", what, err)
	}
}

// strokesOf are strokes within, at the ends of and outside a full stroke.
func strokesOf(full units.Length) []units.Length {
	list := []units.Length{units.Length(math.NaN()), units.Length(math.Inf(-1)), -1, 1e308, units.Length(math.Inf(1))}
	for i := range 9 {
		list = append(list, full*units.Length(i)/8)
	}
	return list
}

// FuzzNewConstantAndFork: both are sound curves whose ratio is the one stated,
// or name every bad field.
func FuzzNewConstantAndFork(f *testing.F) {
	f.Add(2.6, 0.150, 64.0)
	f.Add(1000.0, 1e-6, 90.0)
	f.Add(0.001, 1e3, math.Nextafter(30, 31))
	f.Add(math.NaN(), math.Inf(1), -64.0)
	f.Fuzz(func(t *testing.T, ratio, travel, degrees float64) {
		c, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: ratio, Travel: units.Length(travel)})
		if (c == nil) == (err == nil) {
			t.Fatalf("curve %v, error %v", c, err)
		}
		if err != nil {
			named(t, "constant", err)
		} else {
			soundCurve(t, c)
			for _, s := range strokesOf(c.Stroke()) {
				if got := c.LeverRatio(s); math.Abs(got-ratio) > 1e-12*ratio {
					t.Fatalf("ratio %v at %v, stated %v", got, float64(s), ratio)
				}
			}
		}
		c, err = linkage.NewFork(linkage.Fork{HeadAngle: units.Angle(degrees) * units.Degree, Travel: units.Length(travel)})
		if (c == nil) == (err == nil) {
			t.Fatalf("curve %v, error %v", c, err)
		}
		if err != nil {
			named(t, "fork", err)
			return
		}
		soundCurve(t, c)
		if !(c.Travel() <= c.Stroke()) || !(c.Travel() >= c.Stroke()/2*(1-1e-12)) {
			t.Fatalf("at %v° a stroke of %v moves the wheel by %v", degrees, float64(c.Stroke()), float64(c.Travel()))
		}
	})
}

// FuzzFitReadings: a fit is a sound curve with an error that is a number
// everywhere, or the bad readings are named.
func FuzzFitReadings(f *testing.F) {
	f.Add([]byte{10, 30, 10, 29, 10, 28, 10, 27, 10, 27, 10, 26, 10, 26, 10, 25}, 4, 5e-3, 0.2)
	f.Add([]byte{10, 30, 10, 29, 10, 28, 10, 27, 10, 27, 10, 26, 10, 26, 10, 25}, 5, 1e-300, 1e300)
	f.Add([]byte{1, 255, 255, 1, 1, 255, 255, 1, 9, 9, 9, 9, 0, 7}, 0, 1.0, math.NaN())
	f.Fuzz(func(t *testing.T, steps []byte, degree int, unit, height float64) {
		r := linkage.StrokeReadings{Stroke: []units.Length{0}, Travel: []units.Length{0}, Degree: degree}
		p := linkage.Positions{ShockLength: []units.Length{units.Length(height) + 1}, AxleHeight: []units.Length{units.Length(height)}}
		for ; len(steps) >= 2; steps = steps[2:] {
			last := len(r.Stroke) - 1
			r.Stroke = append(r.Stroke, r.Stroke[last]+units.Length(float64(steps[0])*unit))
			r.Travel = append(r.Travel, r.Travel[last]+units.Length(float64(steps[1])*unit))
			p.ShockLength = append(p.ShockLength, p.ShockLength[0]-r.Stroke[last+1])
			p.AxleHeight = append(p.AxleHeight, p.AxleHeight[0]+r.Travel[last+1])
		}
		if read, err := p.Readings(); err != nil {
			named(t, "positions", err)
		} else {
			if len(read.Stroke) != len(p.ShockLength) || len(read.Travel) != len(p.AxleHeight) || read.Stroke[0] != 0 || read.Travel[0] != 0 {
				t.Fatalf("%+v read off %+v", read, p)
			}
			for i := range read.Stroke {
				allFinite(t, "positions", float64(read.Stroke[i]), float64(read.Travel[i]))
			}
		}
		fit, err := linkage.FitReadings(r)
		if (fit == nil) == (err == nil) {
			t.Fatalf("fit %v, error %v", fit, err)
		}
		if err != nil {
			named(t, "readings", err)
			return
		}
		soundFit(t, fit.Curve())
		allFinite(t, "fit", float64(fit.ReadingError()), float64(fit.ResidualRMS()))
		if len(fit.Residuals()) != len(r.Stroke) {
			t.Fatalf("%d residuals of %d readings", len(fit.Residuals()), len(r.Stroke))
		}
		for i, left := range fit.Residuals() {
			allFinite(t, "residual", float64(left))
			if i == 0 && left != 0 {
				t.Fatalf("the zero point is off by %v", float64(left))
			}
		}
		for _, s := range strokesOf(fit.Curve().Stroke()) {
			if e := fit.LeverRatioError(s); !(e >= 0) || math.IsInf(e, 0) {
				t.Fatalf("the ratio at %v is known to %v", float64(s), e)
			}
		}
	})
}

// soundFit is soundCurve for a polynomial, whose terms may cancel: travel and
// stroke are each other's inverse to fewer digits.
func soundFit(t *testing.T, c *linkage.Curve) {
	t.Helper()
	before := units.Length(-1)
	for i := range 101 {
		s := c.Stroke() * units.Length(i) / 100
		w := c.TravelAt(s)
		if !(w > before) || !(w <= c.Travel()*(1+1e-12)) || !(c.LeverRatio(s) > 0) {
			t.Fatalf("at %v: travel %v after %v, ratio %v", float64(s), float64(w), float64(before), c.LeverRatio(s))
		}
		before = w
		unitstest.Near(t, "travel there and back", c.TravelAt(c.StrokeAt(w)), w, unitstest.Abs(1e-11*c.Travel()))
	}
	for _, s := range strokesOf(c.Stroke()) {
		allFinite(t, "curve", float64(c.TravelAt(s)), c.LeverRatio(s), float64(c.LeverRatioSlope(s)), float64(c.StrokeAt(s)))
	}
}

// FuzzAtWheel: a spring through a curve is finite for any travel, has the
// spring's energy, and its force is the spring's over the lever ratio.
func FuzzAtWheel(f *testing.F) {
	f.Add(true, []byte{10, 30, 10, 29, 10, 28, 10, 27}, 5e-3, 80e3, 0.06, 0.002)
	f.Add(false, []byte{10, 26, 10, 28, 10, 30, 10, 32}, 5e-3, 1e-300, 1e300, 0.0)
	f.Add(false, []byte{1, 255, 255, 1}, 1e-3, 1e150, 1e-3, 1.0)
	f.Fuzz(func(t *testing.T, smooth bool, steps []byte, unit, rate, travel, preload float64) {
		table := linkage.Table{Stroke: []units.Length{0}, Travel: []units.Length{0}, Method: linkage.Monotone}
		if smooth {
			table.Method = linkage.Smooth
		}
		for ; len(steps) >= 2; steps = steps[2:] {
			last := len(table.Stroke) - 1
			table.Stroke = append(table.Stroke, table.Stroke[last]+units.Length(float64(steps[0])*unit))
			table.Travel = append(table.Travel, table.Travel[last]+units.Length(float64(steps[1])*unit))
		}
		c, err := linkage.NewTable(table)
		if err != nil {
			named(t, "table", err)
		}
		var law spring.Law
		if k, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(rate), Travel: units.Length(travel), Preload: units.Length(preload)}); err == nil {
			law = k
		}
		wheel, err := linkage.AtWheel(c, law)
		if (wheel == nil) == (err == nil) {
			t.Fatalf("law %v, error %v", wheel, err)
		}
		if err != nil {
			named(t, "wheel", err)
			return
		}
		full := wheel.Travel()
		if !(full > 0) || !(full <= c.Travel()) || wheel.Energy(0) != 0 {
			t.Fatalf("travel %v of %v, energy %v at 0", float64(full), float64(c.Travel()), wheel.Energy(0))
		}
		before := units.Energy(0)
		for _, w := range strokesOf(full) {
			as := spring.Clamp(w, full)
			force, s := wheel.Force(w), wheel.Stroke(w)
			allFinite(t, "wheel", float64(force), float64(wheel.Rate(w)), float64(wheel.Energy(w)), float64(wheel.SpringForce(w)))
			if force != wheel.Force(as) || wheel.Rate(w) != wheel.Rate(as) || wheel.Energy(w) != wheel.Energy(as) {
				t.Fatalf("travel %v is not taken as %v", float64(w), float64(as))
			}
			if !(s >= 0 && s <= c.Stroke() && s <= law.Travel()) {
				t.Fatalf("travel %v is a stroke of %v", float64(w), float64(s))
			}
			unitstest.Near(t, "force", force*units.Force(c.LeverRatio(s)), wheel.SpringForce(w), unitstest.Rel(1e-9))
			unitstest.Near(t, "energy", wheel.Energy(w), law.Energy(s), unitstest.Rel(1e-9))
			if w == as && w > 0 && w < full && !(wheel.Energy(w) >= before) {
				t.Fatalf("energy falls from %v to %v at %v", before, wheel.Energy(w), w)
			}
			if w == as {
				before = wheel.Energy(w)
			}
		}
		least, at := wheel.MinRate()
		if !finite(float64(least)) || !(at >= 0 && at <= full) {
			t.Fatalf("least rate %v at %v", float64(least), float64(at))
		}
	})
}

// FuzzWriteCSV: any curve is written, for any number of lines that it can be,
// and read back as the same travels.
func FuzzWriteCSV(f *testing.F) {
	f.Add(2.6, 0.150, 11)
	f.Add(0.001, 1e-6, 1001)
	f.Add(1000.0, 1e3, -1)
	f.Fuzz(func(t *testing.T, ratio, travel float64, n int) {
		c, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: ratio, Travel: units.Length(travel)})
		if err != nil || n > 200 && (n < 990 || n > 1010) { // more lines are slow, not different, but near the limit
			return
		}
		var out bytes.Buffer
		if err := linkage.WriteCSV(&out, c, n); err != nil {
			named(t, "csv", err)
			return
		}
		table, err := linkage.ReadCSV(strings.NewReader(out.String()), linkage.Monotone)
		if err != nil {
			if n <= 1000 {
				t.Fatalf("can't read what it wrote: %v\n%s", err, out.String())
			}
			return
		}
		for i := range table.Stroke {
			unitstest.Near(t, "travel", table.Travel[i], c.TravelAt(table.Stroke[i]), unitstest.Rel(1e-12))
		}
	})
}
