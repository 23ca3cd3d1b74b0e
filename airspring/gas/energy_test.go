package gas_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// cylinder is an amount of gas in a chamber whose walls stay at one temperature. All it knows is how much gas
// there is, the energy in it, and how fast heat flows into a wall that is a kelvin colder.
type cylinder struct {
	moles, heatCapacity float64 // mol, and J/K at constant volume
	conductance         float64 // W/K
	energy, work        float64 // J, the work since the start
}

const (
	gasConstant = 8.314462618 // J/(mol K)
	wall        = 293.15      // K
)

func newCylinder(pressure, volume, gamma, tau float64) cylinder {
	c := cylinder{moles: pressure * volume / (gasConstant * wall)}
	c.heatCapacity = c.moles * gasConstant / (gamma - 1)
	c.conductance, c.energy = c.heatCapacity/tau, c.heatCapacity*wall
	return c
}

func (c cylinder) temperature() float64 { return c.energy / c.heatCapacity }
func (c cylinder) pressure(volume float64) float64 {
	return c.moles * gasConstant * c.temperature() / volume
}

// stroke integrates energy and work over a time, in steps of the classical Runge-Kutta method: what is done
// on the gas stays in it or flows into the wall.
func (c *cylinder) stroke(from, to float64, steps int, volume, speed func(t float64) float64) {
	h := (to - from) / float64(steps)
	rates := func(t, energy float64) (work, gain float64) {
		c := *c
		c.energy = energy
		work = -c.pressure(volume(t)) * speed(t)
		return work, work - c.conductance*(c.temperature()-wall)
	}
	for i := range steps {
		t := from + float64(i)*h
		w1, e1 := rates(t, c.energy)
		w2, e2 := rates(t+h/2, c.energy+h/2*e1)
		w3, e3 := rates(t+h/2, c.energy+h/2*e2)
		w4, e4 := rates(t+h, c.energy+h*e3)
		c.work += h / 6 * (w1 + 2*w2 + 2*w3 + w4)
		c.energy += h / 6 * (e1 + 2*e2 + 2*e3 + e4)
	}
}

// Logged strokes of invented springs: pressure, temperature and work are those of the energy in the gas.
func TestFollowAgainstEnergyAndMass(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 1))
	for range 12 {
		tau, gamma := math.Pow(10, -1.3+2.3*rng.Float64()), 1.25+0.4*rng.Float64()
		h := history(tau)
		h.HeatRatio, h.Fill = gamma, units.BarGauge(2+18*rng.Float64())
		at := 0.0
		for range 9 { // strokes of 20 ms to 1 s between a fifth and all of the chamber
			h.Time, h.Volume = append(h.Time, units.Time(at)), append(h.Volume, units.Volume(40+160*rng.Float64())*cm3)
			at += 0.02 * math.Pow(50, rng.Float64())
		}
		out := follow(t, h)
		first := float64(h.Volume[0])
		c := newCylinder(float64(h.Fill.Absolute(h.Ambient)), first, gamma, tau)
		for i := range h.Time[1:] {
			from, to, a, b := float64(h.Time[i]), float64(h.Time[i+1]), float64(h.Volume[i]), float64(h.Volume[i+1])
			slope := (b - a) / (to - from)
			c.stroke(from, to, 1000, func(t float64) float64 { return a + slope*(t-from) }, func(float64) float64 { return slope })
			unitstest.Near(t, "pressure", out.Pressure[i+1], units.AbsolutePressure(c.pressure(b)), unitstest.Rel(1e-8))
			unitstest.Near(t, "temperature", out.Warming[i+1]*wall, c.temperature(), unitstest.Rel(1e-8))
			unitstest.Near(t, "work", float64(out.Work[i+1]), c.work, unitstest.Abs(1e-8*c.heatCapacity*wall))
		}
		if t.Failed() {
			t.Fatalf("%+v", h)
		}
	}
}

// Strokes of a sine until each is as the one before: the loop of pressures, the energy lost in the walls, and for
// small strokes stiffness and loss, are those of the energy in the gas.
func TestLoopsAgainstEnergyAndMass(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 2))
	for n := range 20 {
		mean, swing, w, gamma := 50+200*rng.Float64(), 0.1+0.5*rng.Float64(), math.Pow(10, -1+1.7*rng.Float64()), 1.3+0.3*rng.Float64()
		small := n%2 == 1
		if small {
			swing = 1e-4
		}
		o := oscillation(mean, swing*mean, w, 3+17*rng.Float64())
		o.HeatRatio = gamma
		out, err := gas.Oscillate(o)
		if err != nil {
			t.Fatal(err)
		}
		pressure, middle, amplitude := float64(o.Fill.Absolute(o.Ambient)), float64(o.MeanVolume), float64(o.Amplitude)
		volume := func(phase float64) float64 { return middle - amplitude*math.Sin(phase) }
		speed := func(phase float64) float64 { return -amplitude * math.Cos(phase) }
		c := newCylinder(pressure, middle, gamma, w)
		cycles := int(math.Ceil(1 + 20*w/(2*math.Pi))) // what is left of the start is e^-20
		for range cycles {
			c.stroke(0, 2*math.Pi, 4000, volume, speed)
		}
		c.work = 0
		inPhase, ahead := 0.0, 0.0
		for i, p := range out.Pressure {
			at := func(i int) float64 { return 2 * math.Pi * float64(i) / 72 }
			unitstest.Near(t, "pressure", p, units.AbsolutePressure(c.pressure(volume(at(i)))), unitstest.Rel(1e-8))
			inPhase += c.pressure(volume(at(i))) * math.Sin(at(i)) / 36
			ahead += c.pressure(volume(at(i))) * math.Cos(at(i)) / 36
			c.stroke(at(i), at(i+1), 60, volume, speed)
		}
		unitstest.Near(t, "lost", float64(out.Lost), c.work, unitstest.Rel(1e-6))
		if small { // with a piston of 1 m² a stroke is a volume
			r := vibrate(t, gas.Vibration{Area: 1, Volume: o.MeanVolume, Fill: o.Fill, Ambient: o.Ambient, HeatRatio: gamma, OmegaTau: w})
			unitstest.Near(t, "storage", float64(r.StorageRate), inPhase/amplitude, unitstest.Rel(1e-6))
			unitstest.Near(t, "loss", float64(r.LossRate), ahead/amplitude, unitstest.Rel(1e-6))
			unitstest.Near(t, "energy of a cycle", float64(r.EnergyPerCycle(units.Length(amplitude))), c.work, unitstest.Rel(1e-6))
		}
		if t.Failed() {
			t.Fatalf("%+v", o)
		}
	}
}

// A stroke in a hundred-thousandth of the time constant, held: the pressure falls as the gas cools.
func TestHoldAgainstEnergyAndMass(t *testing.T) {
	rng := rand.New(rand.NewPCG(31, 3))
	for range 12 {
		from, to, tau, gamma := 50+200*rng.Float64(), 50+200*rng.Float64(), 0.1+5*rng.Float64(), 1.3+0.3*rng.Float64()
		s := gas.VolumeStep{Volume: units.Volume(from) * cm3, ToVolume: units.Volume(to) * cm3, Fill: units.BarGauge(1 + 20*rng.Float64()),
			Ambient: units.StandardAtmosphere, HeatRatio: gamma, TimeConstant: units.Time(tau)}
		held, err := gas.Hold(s)
		if err != nil {
			t.Fatal(err)
		}
		a, b := float64(s.Volume), float64(s.ToVolume)
		c, brief := newCylinder(float64(s.Fill.Absolute(s.Ambient)), a, gamma, tau), 1e-5*tau
		slope := (b - a) / brief
		c.stroke(0, brief, 200, func(t float64) float64 { return a + slope*t }, func(float64) float64 { return slope })
		still := func(float64) float64 { return b }
		for i := range 10 {
			after := units.Time(0.4 * tau * float64(i))
			unitstest.Near(t, "pressure", held.Pressure(after), units.AbsolutePressure(c.pressure(b)), unitstest.Rel(3e-5))
			c.stroke(0, 0.4*tau, 200, still, func(float64) float64 { return 0 })
		}
		if t.Failed() {
			t.Fatalf("%+v", s)
		}
	}
}
