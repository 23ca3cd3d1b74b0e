package airspring_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring/springtest"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// gaugeOf returns readings of 14 numbers and more: ambient, diameter, errors, force, stroke, and then
// fill, stroke, way back and force of each reading.
func gaugeOf(v []float64, negative bool) (g airspring.GaugeReadings, force units.Force, at units.Length) {
	g = airspring.GaugeReadings{
		Ambient: units.AbsolutePressure(v[0]), NegativeChamber: &negative, OutsideDiameter: units.Length(v[1]),
		RingError: units.Length(v[2]), GaugeError: units.GaugePressure(v[3]),
	}
	for r := v[6:]; len(r) >= 4; r = r[4:] {
		if r[1] == 0 && r[0] == 0 {
			break
		}
		g.Readings = append(g.Readings, airspring.GaugeReading{
			Fill: units.GaugePressure(r[0]), Stroke: units.Length(r[1]), StrokeBack: units.Length(r[2]), Force: units.Force(r[3])})
	}
	return g, units.Force(v[4]), units.Length(v[5])
}

// checkGauge checks that what readings give is finite, or an error that names fields.
func checkGauge(t *testing.T, g airspring.GaugeReadings, force units.Force, at units.Length) {
	t.Helper()
	step, err := g.Next(force, at, 5e6)
	b := step.Bounds
	if err != nil {
		named(t, "step", err)
	} else if b.Low != nil && b.High != nil && !(*b.Low <= *b.High) {
		t.Errorf("%+v: from %v to %v", g, *b.Low, *b.High)
	}
	if err == nil && (!(step.Fill > 0 && step.Fill <= 5e6) || step.Reason == "") {
		t.Errorf("%+v: step %+v", g, step)
	}
	numeric(t, g, step)
	c, err := airspring.Calibrate(g)
	if err != nil {
		named(t, "calibration", err)
		return
	}
	f, err := c.FillFor(force, at)
	if err != nil {
		named(t, "fill", err)
	} else if !(f.Fill > 0 && f.StandardError >= 0 && f.StrokeError >= 0) {
		t.Errorf("%+v: %+v", g, f)
	}
	numeric(t, g, f)
	friction, _ := c.Friction()
	numeric(t, g, friction)
	numeric(t, g, c.Length())
	residuals := c.Residuals()
	numeric(t, g, residuals)
	if len(residuals) != len(g.Readings) {
		t.Errorf("%d residuals of %d readings", len(residuals), len(g.Readings))
	}
	chambers, err := c.Chambers()
	if err != nil {
		named(t, "chambers", err)
	} else if !(chambers.Bore > 0 && chambers.PositiveVolume > 0 && chambers.NegativeVolume >= 0 && chambers.PortTravel >= 0) {
		t.Errorf("%+v: %+v", g, chambers)
	}
	numeric(t, g, chambers)
	law, err := c.Law(3e5)
	if err != nil {
		t.Fatal(err)
	}
	// Over two decades of stroke the forces at full extension may be too steep for differences of them.
	if from, to := span(g); to < 100*from {
		if err := springtest.TestLaw(law); err != nil {
			t.Errorf("%+v: %v", g, err)
		}
	}
	before := law.Force(0)
	for i := range 17 {
		x := law.Travel() * units.Length(i) / 16
		force := law.Force(x)
		if !finite(float64(force), float64(law.Rate(x)), float64(law.Energy(x))) || law.Rate(x) < 0 || force < before {
			t.Errorf("%+v: at %v force %v, rate %v, energy %v", g, x, force, law.Rate(x), law.Energy(x))
		}
		before = force
	}
}

// numeric checks that every number in a value is finite.
func numeric(t *testing.T, g airspring.GaugeReadings, value any) {
	t.Helper()
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Float64:
			if x := v.Float(); x-x != 0 {
				t.Errorf("%+v: %+v", g, value)
			}
		case reflect.Struct:
			for i := range v.NumField() {
				walk(v.Field(i))
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		case reflect.Pointer:
			if !v.IsNil() {
				walk(v.Elem())
			}
		}
	}
	walk(reflect.ValueOf(value))
}

// FuzzCalibrate: every answer from readings is a number, and the law keeps the contract.
func FuzzCalibrate(f *testing.F) {
	f.Add(bytesOf(101325, 0.034, 1e-3, 0, 550, 0.03, 5e5, 0.03, 0, 550, 4.2e5, 0.05, 0, 550), false)
	f.Add(bytesOf(101325, 0.01, 1e-3, 3e3, 550, 0.03, 5e5, 0.03, 0.034, 550, 4.2e5, 0.05, 0, 550, 6e5, 0.02, 0, 550, 5e5, 0.005, 0, 0), true)
	f.Add(bytesOf(1e3, 1e-6, 1e-9, 1e8, 1e9, 10, 1e8, 1e-9, 10, 1e9, 1e-9, 10, 0, 0, 1e8, 5, 0, 1e9, 1, 1, 0, 1), true)
	f.Fuzz(func(t *testing.T, data []byte, negative bool) {
		v := numbers(data, 46)
		g, force, at := gaugeOf(v, negative)
		checkGauge(t, g, force, at)
	})
}

// Readings at random, from plausible to wild, give answers that are numbers.
func TestGaugeAnswersAreNumbers(t *testing.T) {
	n := 600
	if unitstest.Long() {
		n = 20_000
	}
	r := rand.New(rand.NewPCG(19, 30))
	for i := range n {
		wild := 0.2 * math.Pow(10, r.Float64()*float64(i%4)) // decades
		draw := func(x float64) float64 { return x * math.Exp(wild*r.NormFloat64()) }
		v := []float64{draw(1e5), draw(0.02), draw(1e-3), draw(1e3), draw(600), draw(0.04)}
		for range 1 + r.IntN(7) {
			reading := []float64{draw(5e5), draw(0.04), 0, draw(600)}
			switch r.IntN(5) {
			case 0:
				reading[2] = reading[1] * (1 + r.Float64())
			case 1:
				reading[3] = 0
			}
			v = append(v, reading...)
		}
		g, force, at := gaugeOf(v, r.IntN(2) == 0)
		checkGauge(t, g, force, at)
		if t.Failed() {
			return
		}
	}
}

// Readings that contradict each other so much that the chamber that suits them best ends at the deepest
// of them are refused: a spring of theirs would push without bound there. Drawn at random.
func TestReadingsBeyondTheirChamberAreRefused(t *testing.T) {
	v := []float64{129426.335686592, 28.7910520286199e-3, 1.23894888029726e-3, 1120.65487341682, 600, 0.04,
		539969.023588833, 45.9310177735224e-3, 82.8046995319744e-3, 595.380126852005,
		448087.899888291, 37.3699897192885e-3, 0, 459.708329699009, 542333.937774903, 29.0548484004844e-3, 0, 463.513503564035,
		417892.505930782, 43.0793244651134e-3, 0, 723.248642475611, 517324.469051303, 56.2715867452209e-3, 0, 610.304270364617,
		555560.548462713, 37.9871817944283e-3, 0, 811.242543918343, 409353.004180427, 50.815073957313e-3, 0, 630.67017298604}
	refused := 0
	for _, negative := range []bool{true, false} {
		g, force, at := gaugeOf(v, negative)
		checkGauge(t, g, force, at)
		if _, err := airspring.Calibrate(g); err != nil {
			refused++
			wantFields(t, "beyond the chamber", err, "readings")
		}
	}
	if refused == 0 {
		t.Error("both are taken: the test shows nothing")
	}
}

// span returns the least and the greatest stroke of readings.
func span(g airspring.GaugeReadings) (from, to units.Length) {
	from = units.Length(math.Inf(1))
	for _, r := range g.Readings {
		s := r.Stroke
		if r.StrokeBack > 0 {
			s = (s + r.StrokeBack) / 2
		}
		from, to = min(from, s), max(to, s)
	}
	return from, to
}
