package linkage_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
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
		c, err := linkage.NewConstant(linkage.Constant{Ratio: ratio, Travel: units.Length(travel)})
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
		r := linkage.Readings{Stroke: []units.Length{0}, Travel: []units.Length{0}, Degree: degree}
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

// FuzzMechanismJSON: any text that is read as a mechanism moves soundly, or
// is refused with a field or as locking.
func FuzzMechanismJSON(f *testing.F) {
	for _, name := range append(movable(), "x1") {
		text, err := json.Marshal(spec(name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(text)
	}
	f.Add([]byte(`{"points": {"A": ["0 mm", "NaN mm"]}, "bodies": {"A": ["A", "A"]}, "axle": "A", "shock": ["A", "A"], "stroke": "1 mm"}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		var m linkage.Mechanism
		if err := strictjson.Unmarshal("linkage", text, &m); err != nil {
			named(t, "text", err)
			return
		}
		k, err := linkage.NewMechanism(m)
		if (k == nil) == (err == nil) {
			t.Fatalf("motion %v, error %v", k, err)
		}
		if err != nil {
			named(t, "mechanism", err)
			if lock, ok := errors.AsType[*linkage.LockError](err); ok && !errors.Is(err, linkage.ErrLocks) {
				t.Fatalf("%v is not ErrLocks", lock)
			}
			return
		}
		soundCurve(t, k.Curve())
		path, travel := units.Length(-1), units.Length(-1)
		for i := range 17 {
			s := k.Stroke() * units.Length(i) / 16
			p := k.Pose(s)
			allFinite(t, "pose", float64(p.Travel), p.LeverRatio, float64(p.LeverRatioSlope), float64(p.Axle[0]), float64(p.Axle[1]), p.AxleForward, float64(p.AxleGrowth),
				float64(p.WheelbaseGrowth), float64(p.CarrierTurn), p.CarrierTurning, float64(p.InstantCentre[0]), float64(p.InstantCentre[1]))
			length := k.PathLength(s)
			if !(p.Travel > travel) || !(p.LeverRatio > 0) || !(length >= path) || !(float64(length) >= float64(p.Travel)*(1-1e-6)-1e-9) {
				t.Fatalf("at %v: travel %v after %v, path %v after %v, ratio %v", s, p.Travel, travel, length, path, p.LeverRatio)
			}
			path, travel = length, p.Travel
		}
		for _, s := range strokesOf(k.Stroke()) {
			if k.Pose(s) != k.Pose(spring.Clamp(s, k.Stroke())) {
				t.Fatalf("stroke %v is not clamped", float64(s))
			}
			for name, p := range k.Positions(s) {
				allFinite(t, name, float64(p[0]), float64(p[1]))
			}
		}
		back, err := json.Marshal(k.Mechanism())
		if err != nil {
			t.Fatal(err)
		}
		var again linkage.Mechanism
		if err := strictjson.Unmarshal("linkage", back, &again); err != nil {
			t.Fatalf("can't read what it wrote: %v\n%s", err, back)
		}
	})
}

// FuzzNewDrive: anti-squat, anti-rise, chain growth and kickback are numbers at
// any stroke, chain growth and kickback 0 at full extension, or a field is named.
func FuzzNewDrive(f *testing.F) {
	f.Add(uint8(0), 32, 50, 0, 0.370, 0.780, 0.060, 1.120, false, "", -0.018, 0.196, "frame")
	f.Add(uint8(1), 32, 24, 16, 0.370, 0.780, 0.060, 1.120, true, "SW", -0.048, 0.200, "SW")
	f.Add(uint8(9), 120, 120, 3, 1e-6, -1e3, math.NaN(), math.Inf(1), true, "frame", 0.0, 0.0, "nothing")
	names := movable()
	moving := map[string]*linkage.Kinematics{}
	for _, name := range names {
		moving[name] = solved(name)
	}
	f.Fuzz(func(t *testing.T, which uint8, chainring, sprocket, idler int, radius, front, massX, massY float64, level bool, brake string, x, y float64, on string) {
		k := moving[names[int(which)%len(names)]]
		s := linkage.DriveSpec{
			Drivetrain:  linkage.Drivetrain{Chainring: chainring, Sprocket: sprocket},
			WheelRadius: units.Length(radius), FrontAxleX: units.Length(front), MassCentre: linkage.Point{units.Length(massX), units.Length(massY)},
			Ground: linkage.GroundFront, BrakeOn: brake,
		}
		if level {
			s.Ground = linkage.GroundLevel
		}
		if idler != 0 {
			s.Drivetrain.Idler = &linkage.Idler{Teeth: idler, At: linkage.Point{units.Length(x), units.Length(y)}, On: on}
		}
		d, err := linkage.NewDrive(k, s)
		if (d == nil) == (err == nil) {
			t.Fatalf("drive %v, error %v", d, err)
		}
		if err != nil {
			named(t, "drive", err)
			return
		}
		for _, stroke := range strokesOf(k.Stroke()) {
			p := d.At(stroke)
			allFinite(t, "drive", p.AntiSquat, p.AntiRise, float64(p.ChainGrowth), float64(p.KickbackWheelFixed), float64(p.KickbackWheelRolling))
			if p.AntiSquat != d.AntiSquat(stroke) || p.AntiRise != d.AntiRise(stroke) || p.ChainGrowth != d.ChainGrowth(stroke) ||
				p.KickbackWheelFixed != d.KickbackWheelFixed(stroke) || p.KickbackWheelRolling != d.KickbackWheelRolling(stroke) {
				t.Fatalf("one by one they differ from %+v at %v", p, float64(stroke))
			}
			if !(stroke > 0) && (math.Abs(float64(p.ChainGrowth)) > 1e-12 || math.Abs(float64(p.KickbackWheelRolling)) > 1e-9) {
				t.Fatalf("at full extension %+v", p)
			}
		}
	})
}

// FuzzFitPivots: what is found moves, lies within its bounds and is no worse
// than what was given, or a field is named.
func FuzzFitPivots(f *testing.F) {
	f.Add(uint8(0), uint8(0), 0.004, 0.004, 0.05, 2.6, 0.0, false)
	f.Add(uint8(3), uint8(2), 0.0, 0.010, 0.03, 3.0, 0.21, false)
	f.Add(uint8(5), uint8(1), 1.0, math.NaN(), -1.0, math.Inf(1), 1e-9, true)
	names := movable()
	f.Fuzz(func(t *testing.T, which, point uint8, roomX, roomY, stroke, ratio, shock float64, anyShock bool) {
		m := spec(names[int(which)%len(names)])
		points := slices.Sorted(maps.Keys(m.Points))
		name := points[int(point)%len(points)]
		ask := linkage.PivotSearch{
			Mechanism: m, Move: []linkage.Movable{{Point: name, X: units.Length(roomX), Y: units.Length(roomY)}},
			Stroke: []units.Length{0, units.Length(stroke)}, LeverRatio: []float64{ratio, ratio * 0.9},
			ShockLength: units.Length(shock), AnyShock: anyShock,
		}
		fit, err := linkage.FitPivots(ask)
		if (fit == nil) == (err == nil) {
			t.Fatalf("fit %v, error %v", fit, err)
		}
		if err != nil {
			named(t, "pivots", err)
			return
		}
		allFinite(t, "fit", fit.RMS, fit.Worst, float64(fit.WorstAt), fit.StartRMS, float64(fit.ShockLength))
		if !(fit.RMS >= 0 && fit.Worst >= fit.RMS*(1-1e-9)) {
			t.Fatalf("misses by %v rms, %v at the worst", fit.RMS, fit.Worst)
		}
		k, err := linkage.NewMechanism(fit.Mechanism)
		if err != nil {
			t.Fatalf("what was found does not move: %v", err)
		}
		soundCurve(t, k.Curve())
		was, is := m.Points[name], fit.Mechanism.Points[name]
		if math.Abs(float64(is[0]-was[0])) > roomX*(1+1e-9)+1e-12 || math.Abs(float64(is[1]-was[1])) > roomY*(1+1e-9)+1e-12 {
			t.Fatalf("%s went from %v to %v, with room for %v and %v", name, was, is, roomX, roomY)
		}
		for other, p := range fit.Mechanism.Points {
			if other != name && p != m.Points[other] {
				t.Fatalf("%s moved too", other)
			}
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
		c, err := linkage.NewConstant(linkage.Constant{Ratio: ratio, Travel: units.Length(travel)})
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
