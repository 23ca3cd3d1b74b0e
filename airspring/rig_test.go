package airspring_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// rig is a piston between two amounts of ideal gas, with a valve in its wall at one
// travel. All it knows is how much gas is where. It finds by bisection where the piston
// stands, how much gas flows, and how much is let out.
type rig struct {
	bore, shaft, port      float64 // m
	above, below           float64 // volumes at full extension, m³
	molesAbove, molesBelow float64
	outside                float64 // Pa
}

const molarEnergy = 8.314462618 * 293.15 // J/mol, of a gas at 20 °C

func (r *rig) pressures(x float64) (above, below float64) {
	round, hole := math.Pi*r.bore*r.bore/4, math.Pi*r.shaft*r.shaft/4
	return r.molesAbove * molarEnergy / (r.above - round*x), r.molesBelow * molarEnergy / (r.below + (round-hole)*x)
}

// push is the force that drives the piston out.
func (r *rig) push(x float64) float64 {
	round, hole := math.Pi*r.bore*r.bore/4, math.Pi*r.shaft*r.shaft/4
	above, below := r.pressures(x)
	return above*round - below*(round-hole) - r.outside*hole
}

// bisect returns where a rising function changes sign.
func bisect(lo, hi float64, f func(float64) float64) float64 {
	for range 70 {
		if mid := lo + (hi-lo)/2; f(mid) < 0 {
			lo = mid
		} else {
			hi = mid
		}
	}
	return hi
}

// stands is where the piston comes to rest, be it past the port, and what the gauge shows.
func (r *rig) stands() (x, gauge float64) {
	if r.push(0) < 0 {
		full := r.above / (math.Pi * r.bore * r.bore / 4)
		x = bisect(0, full*(1-1e-9), r.push)
	}
	above, _ := r.pressures(x)
	return x, above - r.outside
}

// cycle moves the piston to the open valve, and then lets it out again.
func (r *rig) cycle() {
	flow := bisect(-r.molesAbove, r.molesBelow, func(up float64) float64 {
		moved := *r
		moved.molesAbove, moved.molesBelow = r.molesAbove+up, r.molesBelow-up
		above, below := moved.pressures(r.port)
		return above - below
	})
	r.molesAbove, r.molesBelow = r.molesAbove+flow, r.molesBelow-flow
}

// newRig fills both chambers until the gauge shows a fill after cycling, held at full extension.
func newRig(a airspring.TopUp) *rig {
	r := &rig{bore: a.Bore.Metres(), shaft: a.Shaft.Metres(), port: a.PortTravel.Metres(), above: float64(a.PositiveVolume), below: float64(a.NegativeVolume), outside: a.Ambient.Pascals()}
	r.molesAbove = bisect(0, 1e3, func(moles float64) float64 {
		filled := *r
		filled.molesAbove, filled.molesBelow = moles, moles
		filled.cycle()
		above, _ := filled.pressures(0)
		return above - r.outside - a.OldFill.Pascals()
	})
	r.molesBelow = r.molesAbove
	r.cycle()
	return r
}

// under is where the piston comes to rest under a load in N.
func (r *rig) under(load float64) float64 {
	full := r.above / (math.Pi * r.bore * r.bore / 4)
	return bisect(0, full*(1-1e-9), func(x float64) float64 { return r.push(x) - load })
}

// pump presses one pump's fill of outside air against the chamber's check valve, which opens as soon as the
// pump has the greater pressure, down to a rest of the pump's volume. It reports what the gauge shows then.
func (r *rig) pump(cylinder, rest float64) (gauge float64) {
	air := r.outside * cylinder / molarEnergy
	flow := bisect(0, air, func(in float64) float64 {
		return (r.molesAbove+in)/r.above - (air-in)/rest
	})
	if r.molesAbove/r.above < air/rest { // else the valve stays shut
		r.molesAbove += flow
	}
	above, _ := r.pressures(0)
	return above - r.outside
}

// pumpTo pumps until the gauge shows a fill; the last stroke ends where it does.
func (r *rig) pumpTo(fill float64) (strokes int) {
	const cylinder, dead = 60e-6, 1.5e-6
	for strokes = 1; ; strokes++ {
		trial := *r
		if trial.pump(cylinder, dead) > fill {
			break
		}
		*r = trial
	}
	r.pump(cylinder, bisect(dead, cylinder, func(rest float64) float64 {
		trial := *r
		return fill - trial.pump(cylinder, rest)
	}))
	return strokes
}

// pass moves the piston over the port, as far as its seal is wide, and back. At each of many places gas seeps
// through in many small portions, each in proportion to the difference of pressure.
func (r *rig) pass() {
	const seal, places, portions = 1e-8, 20, 60
	for i := -places; i <= places; i++ {
		x := r.port + seal*(1-math.Abs(float64(i))/places)
		for range portions {
			above, below := r.pressures(x)
			// What a pascal of either chamber holds, both in a row.
			room := 1 / (above/r.molesAbove + below/r.molesBelow)
			seeps := 0.3 * (above - below) * room
			r.molesAbove, r.molesBelow = r.molesAbove-seeps, r.molesBelow+seeps
		}
	}
}

// A pump with a check valve and a port that the seal passes, portion by portion of air, show at each step of a
// plan the gauge that it tells.
func TestPlansAgainstPumpAndPort(t *testing.T) {
	for _, row := range []struct{ bore, shaft, positive, negative, port, old, fill float64 }{
		{34, 10, 220, 50, 8, 0, 60}, {34, 10, 220, 50, 8, 60, 90}, {36, 10, 220, 50, 6, 64.5, 72}, {32, 9, 150, 40, 5, 0, 80},
		{32, 9, 150, 40, 5, 100, 101}, {38, 12, 280, 110, 12, 20, 75}, {35, 10, 210, 40, 8, 5, 80}, {40, 12.7, 105, 45, 3, 0, 215},
		{46, 14, 135, 70, 2, 215, 260}, {36, 10, 62, 120, 4, 0, 150}, {36, 10, 62, 30, 0, 90, 150}, {30, 8, 300, 60, 30, 40, 45},
	} {
		ask := airspring.TopUp{
			Bore: units.Length(row.bore) * mm, Shaft: units.Length(row.shaft) * mm, PortTravel: units.Length(row.port) * mm,
			PositiveVolume: units.Volume(row.positive) * cm3, NegativeVolume: units.Volume(row.negative) * cm3,
			OldFill: units.PSIGauge(row.old), Fill: units.PSIGauge(row.fill), Within: units.PSIGauge(0.1), Ambient: airspring.SeaLevel,
		}
		plan, err := airspring.PlanTopUp(ask)
		if err != nil {
			t.Errorf("%v: %v", row, err)
			continue
		}
		r := newRig(ask)
		if row.old == 0 { // just assembled
			r.molesAbove, r.molesBelow = r.outside*r.above/molarEnergy, r.outside*r.below/molarEnergy
		}
		same := func(what string, got, want float64) {
			t.Helper()
			unitstest.Near(t, what, got, want, unitstest.Abs(1e-6*ask.Fill.Pascals()))
		}
		cycles := 0
		for _, step := range plan.Steps {
			above, _ := r.pressures(0)
			same("gauge before", step.Before.Pascals(), above-r.outside)
			if step.Action == airspring.Pump {
				if r.pumpTo(step.After.Pascals()) < 1 {
					t.Errorf("%v: nothing to pump", row)
				}
			} else {
				r.pass()
				_, below := r.pressures(0)
				same("negative chamber", plan.NegativePressure[cycles].Pascals(), below)
				cycles++
			}
			above, _ = r.pressures(0)
			same("gauge after", step.After.Pascals(), above-r.outside)
		}
		above, _ := r.pressures(0)
		if low := ask.Fill.PSI() - (above-r.outside)/units.PSIGauge(1).Pascals(); cycles != plan.Cycles || !(low >= -1e-4 && low <= 0.1+1e-4) {
			t.Errorf("%v: %v psi low after %d of %d cycles", row, low, cycles, plan.Cycles)
		}
		if t.Failed() {
			t.Fatalf("%v", row)
		}
	}
}

// sealed is a rig of a spec with a fill, cycled if it has a negative chamber. One without has a shaft as thick as
// its bore, with nothing on the other side.
func sealed(s airspring.Spec, fill units.GaugePressure) *rig {
	if s.NegativeVolume > 0 {
		return newRig(airspring.TopUpOf(airspring.Spec{
			Bore: s.Bore, Shaft: s.Shaft, PositiveVolume: s.PositiveVolume, NegativeVolume: s.NegativeVolume, PortTravel: s.PortTravel,
			Fill: fill, Ambient: s.Ambient,
		}, 0, 0))
	}
	r := &rig{bore: s.Bore.Metres(), shaft: s.Bore.Metres(), above: float64(s.PositiveVolume), below: 1, outside: s.Ambient.Pascals()}
	r.molesAbove = bisect(0, 1e3, func(moles float64) float64 {
		r.molesAbove = moles
		above, _ := r.pressures(0)
		return above - r.outside - fill.Pascals()
	})
	return r
}

// Readings of rigs whose chambers nobody tells give the fill with which a rig stands where it should, under other
// loads and at other strokes too.
func TestCalibrationAgainstRigs(t *testing.T) {
	rng := rand.New(rand.NewPCG(19, 41))
	for n := range 24 {
		u := inventSpring(rng, n%2 == 1)
		g := u.gauge()
		load := 400 + 400*rng.Float64()
		for _, part := range [][]float64{{0.4, 0.7}, {0.3, 0.45, 0.6, 0.8}}[n%2] { // of the fill that carries it alone
			fill := units.GaugePressure(part * load / (math.Pi / 4 * float64(u.Bore*u.Bore)))
			stroke := sealed(u.Spec, fill).under(load)
			g.Readings = append(g.Readings, airspring.GaugeReading{Fill: fill, Stroke: units.Length(stroke), Force: units.Force(load)})
		}
		c, err := airspring.Calibrate(g)
		if err != nil {
			t.Fatalf("%+v, %+v: %v", u.Spec, g.Readings, err)
		}
		for _, part := range []units.Length{0.1, 0.2, 0.35} {
			for _, other := range []float64{load, 0.7 * load, 1.5 * load} {
				at := part * u.Travel
				f, err := c.FillFor(units.Force(other), at)
				if err != nil {
					t.Fatalf("%+v at %v under %v N: %v", u.Spec, at, other, err)
				}
				if x := sealed(u.Spec, f.Fill).under(other); math.Abs(x-at.Metres()) > 1e-8 {
					t.Errorf("%+v: with %v it stands at %.6f mm under %.0f N, not at %v", u.Spec, f.Fill, 1e3*x, other, at)
				}
			}
		}
	}
}
