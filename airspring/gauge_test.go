package airspring_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Exact readings over the travel give the chambers back.
func TestChambersAreThoseOfTheSpring(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 10))
	for n := range 40 {
		u := inventSpring(r, n%2 == 1)
		if n == 1 {
			u.PortTravel = 0
		}
		g := u.gauge()
		g.RingError = mm / 1e4
		for _, part := range []float64{0.1, 0.3, 0.5, 0.7, 0.9} {
			g.Readings = append(g.Readings, u.read(t, 700, part))
		}
		c, err := airspring.Calibrate(g)
		if err != nil {
			t.Fatal(err)
		}
		got, err := c.Chambers()
		if err != nil {
			t.Errorf("%+v: %v", u.Spec, err)
			continue
		}
		unitstest.Near(t, "bore", got.Bore, u.Bore, unitstest.Rel(1e-8))
		unitstest.Near(t, "positive volume", got.PositiveVolume, u.PositiveVolume, unitstest.Rel(1e-8))
		unitstest.Near(t, "negative volume", got.NegativeVolume, u.NegativeVolume, unitstest.Rel(1e-8))
		unitstest.Near(t, "port", got.PortTravel, u.PortTravel, unitstest.Abs(1e-6*mm))
	}
}

// The standard errors are the scatter of the answers when the readings scatter, for fill and chambers.
func TestCalibrationErrorsAreTheScatter(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 11))
	for _, negative := range []bool{false, true} {
		u := inventSpring(r, negative)
		exact := u.gauge()
		exact.RingError, exact.GaugeError = 0.02*mm, 300
		for _, part := range []float64{0.1, 0.25, 0.4, 0.55, 0.7, 0.85} {
			exact.Readings = append(exact.Readings, u.read(t, 700, part))
		}
		calibrate := func(g airspring.GaugeReadings) (airspring.FillEstimate, airspring.ChamberEstimate) {
			c, err := airspring.Calibrate(g)
			if err != nil {
				t.Fatal(err)
			}
			fill, err := c.FillFor(700, 0.3*u.Travel)
			chambers, err2 := c.Chambers()
			if err := errors.Join(err, err2); err != nil {
				t.Fatal(err)
			}
			return fill, chambers
		}
		fill, chambers := calibrate(exact)
		const n = 400
		var sum [5]float64
		for range n {
			g := exact
			g.Readings = nil
			for _, reading := range exact.Readings {
				reading.Stroke += g.RingError * units.Length(r.NormFloat64())
				reading.Fill += g.GaugeError * units.GaugePressure(r.NormFloat64())
				g.Readings = append(g.Readings, reading)
			}
			f, c := calibrate(g)
			for i, d := range [5]float64{
				float64((f.Fill - fill.Fill) / fill.StandardError),
				float64((c.Bore - chambers.Bore) / chambers.BoreError),
				float64((c.PositiveVolume - chambers.PositiveVolume) / chambers.PositiveVolumeError),
				float64(c.NegativeVolume-chambers.NegativeVolume) / float64(max(chambers.NegativeVolumeError, 1e-30)),
				float64(c.PortTravel-chambers.PortTravel) / float64(max(chambers.PortTravelError, 1e-30)),
			} {
				sum[i] += d * d / n
			}
		}
		for i, square := range sum {
			if i > 2 && !negative {
				continue
			}
			// Of 400 draws the root of the mean square is within 12 % in 999 of 1000.
			if ratio := math.Sqrt(square); !(math.Abs(ratio-1) < 0.12) {
				t.Errorf("negative chamber %v: answer %d scatters by %v of its standard error", negative, i, ratio)
			}
		}
	}
}

// Readings over little of the travel give the fill between them and no chambers.
func TestChambersOfFewReadingsAreUndetermined(t *testing.T) {
	u := inventSpring(rand.New(rand.NewPCG(19, 12)), true)
	g := u.gauge()
	for _, part := range []float64{0.12, 0.18, 0.24, 0.3} {
		g.Readings = append(g.Readings, u.read(t, 700, part))
	}
	c, err := airspring.Calibrate(g)
	if err != nil {
		t.Fatal(err)
	}
	_, err = c.Chambers()
	if !errors.Is(err, airspring.ErrUndetermined) {
		t.Errorf("chambers from strokes of 12 to 30 %% with errors of 1 mm: %v", err)
	}
	wantFields(t, "chambers", err, "bore", "positive_volume", "negative_volume", "port_travel")
	if f, err := c.FillFor(700, 0.2*u.Travel); err != nil || !(f.StandardError < f.Fill/20) {
		t.Errorf("fill %+v, %v", f, err)
	}
}

// A reading that was taken after a leak is the one that is named, whichever it is.
func TestResidualNamesTheReadingBeyondItsError(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 13))
	for n := range 40 {
		u := inventSpring(r, n%2 == 1)
		g := u.gauge()
		for _, part := range []float64{0.1, 0.15, 0.2, 0.25, 0.3, 0.35, 0.4} {
			g.Readings = append(g.Readings, u.read(t, 700, part))
		}
		beyond := func() (list []int) {
			c, err := airspring.Calibrate(g)
			if err != nil {
				t.Fatal(err)
			}
			for i, residual := range c.Residuals() {
				if residual.Beyond {
					list = append(list, i)
				}
			}
			return list
		}
		if list := beyond(); list != nil {
			t.Errorf("exact readings: %v are named", list)
		}
		spoilt := n % 7
		g.Readings[spoilt].Stroke += 12 * mm
		if list := beyond(); len(list) != 1 || list[0] != spoilt {
			t.Errorf("%+v: reading %d is spoilt, %v are named", u.Spec, spoilt, list)
		}
	}
}

// With one reading more than needed the residuals don't tell which it is: all are named. With none more
// there is nothing to tell.
func TestResidualsOfOneReadingMore(t *testing.T) {
	u := inventSpring(rand.New(rand.NewPCG(19, 14)), false)
	g := u.gauge()
	for _, part := range []float64{0.1, 0.2, 0.3} {
		g.Readings = append(g.Readings, u.read(t, 700, part))
	}
	g.Readings[1].Stroke += 8 * mm
	for _, n := range []int{3, 2} {
		g.Readings = g.Readings[:n]
		c, err := airspring.Calibrate(g)
		if err != nil {
			t.Fatal(err)
		}
		for i, residual := range c.Residuals() {
			if residual.Beyond != (n == 3) {
				t.Errorf("reading %d of %d: %+v", i, n, residual)
			}
		}
	}
}

// Both ways of approach are a friction apart, and between them is the spring.
func TestFrictionIsABandAboutTheSpring(t *testing.T) {
	r := rand.New(rand.NewPCG(19, 15))
	for n := range 20 {
		u := inventSpring(r, n%2 == 1)
		g := u.gauge()
		const friction, force = 25, 700
		for _, part := range []float64{0.15, 0.2, 0.25, 0.3} {
			middle := u.read(t, force, part)
			in, out := u.rest(t, middle.Fill, force-friction), u.rest(t, middle.Fill, force+friction)
			g.Readings = append(g.Readings, airspring.GaugeReading{Fill: middle.Fill, Force: force, Stroke: in.Stroke, StrokeBack: out.Stroke})
		}
		c, err := airspring.Calibrate(g)
		if err != nil {
			t.Fatal(err)
		}
		f, known := c.Friction()
		if !known || math.Abs(float64(f-friction)) > 0.03*friction {
			t.Errorf("friction %v, want %d N", f, friction)
		}
		want := u.read(t, force, 0.22)
		got, err := c.FillFor(want.Force, want.Stroke)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(got.Fill-want.Fill)) > 0.02*float64(want.Fill) {
			t.Errorf("fill %v, want about %v", got.Fill, want.Fill)
		}
		// At the same stroke the fills of both ends of the band are FillFor's.
		high := u.read(t, force+friction, 0.22)
		if math.Abs(float64(got.Friction-(high.Fill-want.Fill))) > 0.05*float64(got.Friction) {
			t.Errorf("friction makes ±%v of the fill, want %v", got.Friction, high.Fill-want.Fill)
		}
		for i := range g.Readings {
			g.Readings[i].StrokeBack = 0
		}
		if c, err = airspring.Calibrate(g); err != nil {
			t.Fatal(err)
		}
		if f, known := c.Friction(); known || f != 0 {
			t.Errorf("one approach alone gives a friction of %v", f)
		}
	}
}

// A calibration keeps its own readings, whatever becomes of those it was made of.
func TestCalibrationKeepsItsReadings(t *testing.T) {
	u := inventSpring(rand.New(rand.NewPCG(19, 16)), false)
	g := u.gauge()
	g.Readings = []airspring.GaugeReading{u.read(t, 700, 0.1), u.read(t, 700, 0.3)}
	c, err := airspring.Calibrate(g)
	if err != nil {
		t.Fatal(err)
	}
	before, err := c.Next(700, 50*mm, 5e6)
	if err != nil {
		t.Fatal(err)
	}
	g.Readings[0].Stroke, *g.NegativeChamber = 1, true
	if after, err := c.Next(700, 50*mm, 5e6); err != nil || !cmp.Equal(after, before) {
		t.Errorf("next %+v, was %+v, %v", after, before, err)
	}
}
