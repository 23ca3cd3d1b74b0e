package linkage_test

import (
	"encoding/binary"
	"math"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

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
	f.Add([]byte{10, 30, 10, 29, 10, 28, 10, 27, 10, 27, 10, 26, 10, 26, 10, 25}, 4, 5e-3)
	f.Add([]byte{10, 30, 10, 29, 10, 28, 10, 27, 10, 27, 10, 26, 10, 26, 10, 25}, 5, 1e-300)
	f.Add([]byte{1, 255, 255, 1, 1, 255, 255, 1, 9, 9, 9, 9, 0, 7}, 0, 1.0)
	f.Fuzz(func(t *testing.T, steps []byte, degree int, unit float64) {
		r := linkage.Table{Stroke: []units.Length{0}, Travel: []units.Length{0}, Degree: degree}
		for ; len(steps) >= 2; steps = steps[2:] {
			last := len(r.Stroke) - 1
			r.Stroke = append(r.Stroke, r.Stroke[last]+units.Length(float64(steps[0])*unit))
			r.Travel = append(r.Travel, r.Travel[last]+units.Length(float64(steps[1])*unit))
		}
		fit, err := linkage.FitReadings(r)
		if (fit == nil) == (err == nil) {
			t.Fatalf("fit %v, error %v", fit, err)
		}
		if err != nil {
			named(t, "readings", err)
			return
		}
		soundFit(t, fit.Curve)
		allFinite(t, "fit", float64(fit.ReadingError), float64(fit.ResidualRMS))
		for _, s := range strokesOf(fit.Curve.Stroke()) {
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

// fuzzed turns bytes into two columns: numbers as they come, or steps that
// make a rising table, so that the fuzzer gets past the checks too.
func fuzzed(data []byte, rising bool) (stroke, travel []units.Length) {
	var sum [2]float64
	if rising {
		stroke, travel = append(stroke, 0), append(travel, 0)
	}
	for ; len(data) >= 4 && rising; data = data[4:] {
		sum[0] += float64(binary.LittleEndian.Uint16(data)) * 1e-6
		sum[1] += float64(binary.LittleEndian.Uint16(data[2:])) * 3e-6
		stroke, travel = append(stroke, units.Length(sum[0])), append(travel, units.Length(sum[1]))
	}
	for ; len(data) >= 16; data = data[16:] {
		stroke = append(stroke, units.Length(math.Float64frombits(binary.LittleEndian.Uint64(data))))
		travel = append(travel, units.Length(math.Float64frombits(binary.LittleEndian.Uint64(data[8:]))))
	}
	return stroke, travel
}

// A table makes a sound curve or an error that names a field, never a panic.
func FuzzNewTable(f *testing.F) {
	words := func(list ...uint16) (b []byte) {
		for _, v := range list {
			b = binary.LittleEndian.AppendUint16(b, v)
		}
		return b
	}
	numbers := func(list ...float64) (b []byte) {
		for _, v := range list {
			b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
		}
		return b
	}
	f.Add("monotone", true, words(5000, 5000, 5000, 4800, 5000, 4600))
	f.Add("smooth", true, words(5000, 5000, 5000, 4800, 5000, 4600, 5000, 4400))
	f.Add("measured", true, words(5000, 5000, 5000, 4800, 5000, 4600, 5000, 4400, 5000, 4300, 5000, 4250, 5000, 4200))
	f.Add("smooth", true, words(1, 65535, 65535, 1, 1, 65535, 65535, 1))
	f.Add("monotone", false, numbers(0, 0, 0.01, 0.03, 0.02, 0.05))
	f.Add("smooth", false, numbers(0, 0, 1e-300, 1, 1, 2, math.Inf(1), math.NaN()))
	f.Add("", false, numbers(0, 0, 0, 0))
	f.Add("akima", false, []byte{})
	f.Fuzz(func(t *testing.T, method string, rising bool, data []byte) {
		stroke, travel := fuzzed(data, rising)
		c, err := linkage.NewTable(linkage.Table{Stroke: stroke, Travel: travel, Method: linkage.Method(method)})
		if err != nil {
			if len(badFields(err)) == 0 || c != nil {
				t.Fatalf("error %v, curve %v", err, c)
			}
			return
		}
		soundCurve(t, c)
		if method == "measured" {
			return
		}
		for i, s := range stroke {
			unitstest.Near(t, "point", c.TravelAt(s), travel[i], unitstest.Rel(1e-12))
		}
	})
}

// JSON makes a sound curve or an error that names fields, never a panic.
func FuzzNew(f *testing.F) {
	for _, text := range []string{
		`{"constant": 2.6, "travel": "150 mm"}`,
		`{"fork": {"head_angle": "64 deg", "travel": "170 mm"}}`,
		`{"table": {"stroke": ["0 mm", "20 mm", "40 mm", "60 mm"], "travel": ["0 mm", "60 mm", "110 mm", "150 mm"], "method": "smooth"}}`,
		`{"table": {"stroke": ["0 m", "1e-300 m"], "travel": ["0 in", "1e300 in"]}}`,
		`{"constant": 1e400, "travel": "-0 mm"}`,
		`{"constant": 2, "travel": "1 m", "fork": null}`,
		`{}`,
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		c, err := fromJSON(text)
		if err != nil {
			if len(units.Fields(err)) == 0 || c != nil {
				t.Fatalf("error %v, curve %v", err, c)
			}
			return
		}
		soundCurve(t, c)
	})
}
