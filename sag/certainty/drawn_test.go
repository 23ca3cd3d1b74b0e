package certainty_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/internal/sagtest"
	lawspec "example.com/wheelrate/sag/law"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// bikeDrawn is a job whose inputs are moved, with what is held.
type bikeDrawn struct {
	setup.Job
	preload, fill [2]float64 // of front and rear, as fitted
	index         [2]int
	spacers       [2]int
}

// drawnInput is an input that is moved: its standard uncertainty, and how a job with another value is.
type drawnInput struct {
	u     float64
	state func(u *certainty.Uncertainty, by float64)
	move  func(b *bikeDrawn, by float64)
}

// drawnInputs are inputs by name, those of the ends for each of them.
func drawnInputs() map[string]drawnInput {
	type unsure = certainty.Uncertainty
	type end = certainty.EndUncertainty
	all := map[string]drawnInput{
		"rider_mass":     {0.2, func(u *unsure, d float64) { u.RiderMass = units.Mass(d) }, func(b *bikeDrawn, d float64) { b.Masses.RiderMass += units.Mass(d) }},
		"bike_mass":      {0.1, func(u *unsure, d float64) { u.BikeMass = units.Mass(d) }, func(b *bikeDrawn, d float64) { b.Masses.BikeMass += units.Mass(d) }},
		"rear_share":     {0.001, func(u *unsure, d float64) { u.RearShare = d }, func(b *bikeDrawn, d float64) { b.Masses.RearShare += d }},
		"rear_scale":     {0.2, func(u *unsure, d float64) { u.RearScale = units.Mass(d) }, func(b *bikeDrawn, d float64) { b.Masses.RearScale += units.Mass(d) }},
		"unsprung_rear":  {0.05, func(u *unsure, d float64) { u.UnsprungRear = units.Mass(d) }, func(b *bikeDrawn, d float64) { *b.Masses.UnsprungRear += units.Mass(d) }},
		"unsprung_front": {0.05, func(u *unsure, d float64) { u.UnsprungFront = units.Mass(d) }, func(b *bikeDrawn, d float64) { *b.Masses.UnsprungFront += units.Mass(d) }},
		"wheelbase":      {0.001, func(u *unsure, d float64) { u.Wheelbase = units.Length(d) }, func(b *bikeDrawn, d float64) { b.Masses.Wheelbase += units.Length(d) }},
		"mass_centre_behind_front_axle": {0.001, func(u *unsure, d float64) { u.MassCentreBehindFrontAxle = units.Length(d) },
			func(b *bikeDrawn, d float64) { b.Masses.MassCentreBehindFrontAxle += units.Length(d) }},
		"ambient": {100, func(u *unsure, d float64) { u.Ambient = units.AbsolutePressure(d) }, func(b *bikeDrawn, d float64) { b.Ambient += units.AbsolutePressure(d) }},
	}
	for i, axle := range []sag.Axle{sag.Front, sag.Rear} {
		of := func(u *unsure) *end { return []*end{&u.Front, &u.Rear}[i] }
		at := func(b *bikeDrawn) *setup.EndJob { return []*setup.EndJob{b.Front, b.Rear}[i] }
		for name, one := range map[string]drawnInput{
			"spring_rate": {0.002, func(u *unsure, d float64) { of(u).SpringRate = d }, func(b *bikeDrawn, d float64) {
				at(b).Coil.Springs[b.index[i]] = at(b).Coil.Springs[b.index[i]].Compiled().Scaled(1 + d)
			}},
			"preload":     {1e-4, func(u *unsure, d float64) { of(u).Preload = units.Length(d) }, func(b *bikeDrawn, d float64) { b.preload[i] += d }},
			"head_angle":  {0.002, func(u *unsure, d float64) { of(u).HeadAngle = units.Angle(d) }, func(b *bikeDrawn, d float64) { at(b).Curve.Fork.HeadAngle += units.Angle(d) }},
			"lever_ratio": {0.001, func(u *unsure, d float64) { of(u).LeverRatio = d }, func(b *bikeDrawn, d float64) { stretch(&at(b).Curve, 1+d) }},
			"fill":        {500, func(u *unsure, d float64) { of(u).Fill = units.GaugePressure(d) }, func(b *bikeDrawn, d float64) { b.fill[i] += d }},
			"bore":        {1e-5, func(u *unsure, d float64) { of(u).Bore = units.Length(d) }, func(b *bikeDrawn, d float64) { at(b).Air.Bore += units.Length(d) }},
			"positive_volume": {3e-7, func(u *unsure, d float64) { of(u).PositiveVolume = units.Volume(d) },
				func(b *bikeDrawn, d float64) { at(b).Air.PositiveVolume += units.Volume(d) }},
			"negative_volume": {2e-7, func(u *unsure, d float64) { of(u).NegativeVolume = units.Volume(d) },
				func(b *bikeDrawn, d float64) { at(b).Air.NegativeVolume += units.Volume(d) }},
			"port_travel": {2e-5, func(u *unsure, d float64) { of(u).PortTravel = units.Length(d) }, func(b *bikeDrawn, d float64) { at(b).Air.PortTravel += units.Length(d) }},
			"exponent":    {0.002, func(u *unsure, d float64) { of(u).Exponent = d }, func(b *bikeDrawn, d float64) { at(b).Air.Exponent += d }},
		} {
			all[string(axle)+"."+name] = one
		}
	}
	return all
}

// stretch puts the travel of a curve at so many times what it is.
func stretch(c *linkage.Spec, by float64) {
	if r := c.ConstantRatio; r != nil {
		c.ConstantRatio = &linkage.ConstantRatio{Ratio: r.Ratio * by, Travel: r.Travel * units.Length(by)}
		return
	}
	t := *c.Table
	t.Travel = nil
	for _, w := range c.Table.Travel {
		t.Travel = append(t.Travel, w*units.Length(by))
	}
	c.Table = &t
}

// under returns what both ends of a bike do, without friction, worked out by package sag from the job.
func (b *bikeDrawn) under(t *testing.T) map[string]float64 {
	t.Helper()
	all := map[string]float64{}
	c := units.Checker{}
	loads := b.Masses.Check(&c)
	require.NoError(t, c.Err())
	for i, e := range []*setup.EndJob{b.Front, b.Rear} {
		if e == nil {
			continue
		}
		curve, err := linkage.New(e.Curve)
		require.NoError(t, err)
		end := sag.End{Curve: curve}
		if e.Coil != nil {
			end.Law, err = e.Coil.Springs[b.index[i]].Compiled().Preloaded(curve.Stroke(), units.Length(b.preload[i]))
		} else {
			spec := e.Air.Spec
			spec.Fill, spec.Spacers, spec.Ambient = units.GaugePressure(b.fill[i]), b.spacers[i], b.Ambient
			if spec.Travel == 0 {
				spec.Travel = curve.Stroke()
			}
			end, err = sag.AirEnd(curve, spec)
		}
		require.NoError(t, err)
		s, err := end.Under(loads.Load([]sag.Axle{sag.Front, sag.Rear}[i]))
		require.NoError(t, err)
		for name, value := range map[string]float64{"Load": float64(s.Load), "Sag": s.Rest.Sag, "ShockSag": s.Rest.ShockSag, "Travel": float64(s.Rest.Travel), "Stroke": float64(s.Rest.Stroke),
			"WheelRate": float64(s.Rest.WheelRate), "Frequency": float64(s.Rest.Frequency), "FastWheelRate": float64(s.FastWheelRate), "FastFrequency": float64(s.FastFrequency),
			"TravelLeft": float64(s.TravelLeft), "EnergyLeft": float64(s.EnergyLeft), "Energy": float64(s.Reserve.Energy), "DropHeight": float64(s.Reserve.DropHeight),
			"FullForce": float64(s.Reserve.FullForce), "FullRatio": s.FullRatio} {
			all[fmt.Sprint(i, name)] = value
		}
	}
	return all
}

// drawnJobs are invented bikes of every kind of curve and spring, and their inputs that are uncertain.
func drawnJobs(t *testing.T) map[string]struct {
	setup.Job
	inputs string
} {
	type job = struct {
		setup.Job
		inputs string
	}
	with := func(change func(*setup.Job)) setup.Job { j := handJob(); change(&j); return j }
	dual := func(soft, main units.Stiffness) *lawspec.Spec {
		return &lawspec.Spec{DualRate: &spring.DualRate{SoftRate: soft, MainRate: main, SoftTravel: 0.01, MainTravel: 0.065}}
	}
	const (
		masses = "rider_mass bike_mass rear_share unsprung_front unsprung_rear "
		coil   = "rear.spring_rate rear.preload "
		fork   = "front.head_angle front.fill front.bore front.positive_volume front.exponent ambient "
	)
	return map[string]job{
		"coil and air": {handJob(), masses + coil + fork + "rear.lever_ratio"},
		"table":        {with(func(j *setup.Job) { table(j, 0, 0.032, 0.0625, 0.0915, 0.119, 0.145, 0.1695) }), masses + coil + "rear.lever_ratio"},
		"mechanism": {with(func(j *setup.Job) {
			j.Rear.Curve = linkage.Spec{Mechanism: &mechanism.Spec{
				Points: map[string]mechanism.Point{"P": {0.012, 0.072}, "A": {-0.438, 0.028}, "S1": {-0.092, 0.238}, "S2": {0.112, 0.292}},
				Bodies: map[string][]string{"frame": {"P", "S2"}, "swingarm": {"P", "A", "S1"}}, Axle: "A", Shock: [2]string{"S1", "S2"}, Stroke: 0.0575}}
		}), masses + coil},
		"coil fork": {with(func(j *setup.Job) {
			j.Front.Air, j.Front.Coil = nil, &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 8e3}, {Rate: 9e3}}, Collar: fit.Collar{PreloadMax: 0.01}}
		}), masses + coil + "front.head_angle front.spring_rate front.preload"},
		"two rates": {with(func(j *setup.Job) {
			j.Rear.Coil.Springs = []fit.ShelfSpring{{Spec: dual(200e3, 90e3)}, {Spec: dual(220e3, 110e3)}}
			table(j, 0, 0.047, 0.0915, 0.132, 0.1695)
		}), masses + coil},
		"negative chamber": {with(func(j *setup.Job) {
			a := j.Front.Air
			a.NegativeChamber, a.NegativeVolume, a.PortTravel, a.Shaft = "", 60e-6, 0.008, 0.01
		}), masses + fork + "front.negative_volume front.port_travel"},
		"air behind": {with(func(j *setup.Job) {
			j.Rear.Coil, j.Rear.Air = nil, &fit.Chamber{NegativeChamber: fit.None, MaxFill: units.BarGauge(40), Spec: airspring.Spec{Bore: 0.045, PositiveVolume: 190e-6, Exponent: 1.4}}
		}), masses + "rear.fill rear.bore rear.positive_volume rear.exponent rear.lever_ratio ambient"},
		"scales": {with(func(j *setup.Job) {
			j.Masses.RearShare, j.Masses.RiderMass, j.Masses.FrontScale, j.Masses.RearScale = 0, 0, 40, 60
		}), "rear_scale unsprung_rear " + coil},
		"mass centre": {with(func(j *setup.Job) {
			j.Masses.RearShare, j.Masses.Wheelbase, j.Masses.MassCentreBehindFrontAxle = 0, 1.24, 0.74
		}), "rider_mass wheelbase mass_centre_behind_front_axle " + coil + fork},
		"shelf": {with(func(j *setup.Job) {
			j.Rear.Coil = &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 60e3}, {Rate: 68e3}, {Rate: 76e3}}, Collar: fit.Collar{PreloadMin: 0.001, PreloadMax: 0.008}}
		}), masses + coil},
		"hardtail": {with(func(j *setup.Job) { j.Rear = nil }), "rider_mass rear_share unsprung_front " + fork},
	}
}

// Jobs whose inputs are drawn, and worked out anew one by one, differ from the stated one by what the
// effects of first order add up to. What is left is of second order: 2 % of the uncertainty, and
// more with the square of the difference.
func TestDrawnJobsLieWhereEffectsAddUp(t *testing.T) {
	inputs := drawnInputs()
	jobs := drawnJobs(t)
	require.GreaterOrEqual(t, len(jobs), 10)
	for name, test := range jobs {
		t.Run(name, func(t *testing.T) {
			var u certainty.Uncertainty
			list := strings.Fields(test.inputs)
			for _, input := range list {
				require.NotNil(t, inputs[input].state, input)
				inputs[input].state(&u, inputs[input].u)
			}
			s := sheet(t, test.Job)
			b := propagate(t, test.Job, u)
			require.Empty(t, b.NotUsed)
			draw := func(by map[string]float64) map[string]float64 {
				drawn := bikeDrawn{Job: test.Job}
				m := &drawn.Masses
				m.UnsprungFront, m.UnsprungRear = new(m.Unsprung(sag.Front)), new(m.Unsprung(sag.Rear))
				for i, e := range []*setup.EndSheet{s.Front, s.Rear} {
					if e == nil {
						continue
					}
					own := *[]*setup.EndJob{test.Front, test.Rear}[i]
					*[]**setup.EndJob{&drawn.Front, &drawn.Rear}[i] = &own
					if own.Curve.Fork != nil {
						own.Curve.Fork = new(*own.Curve.Fork)
					}
					if best := e.Spring(); best != nil {
						shelf := *own.Coil
						shelf.Springs = append([]fit.ShelfSpring{}, shelf.Springs...)
						own.Coil, drawn.index[i], drawn.preload[i] = &shelf, best.Index, float64(best.Preload)
					} else {
						own.Air = new(*own.Air)
						drawn.fill[i], drawn.spacers[i] = float64(e.Fill().Fill), e.Fill().Spacers
					}
				}
				for input, d := range by {
					inputs[input].move(&drawn, d)
				}
				return drawn.under(t)
			}
			stated := draw(nil)
			random := rand.New(rand.NewPCG(7, 0))
			compared := 0
			for range 40 {
				by := map[string]float64{}
				for _, input := range list {
					by[input] = inputs[input].u * random.NormFloat64()
				}
				drawn := draw(by)
				for i, e := range []*certainty.EndBudget{b.Front, b.Rear} {
					if e == nil {
						continue
					}
					for field, a := range answers(e) {
						value, has := drawn[fmt.Sprint(i, field)]
						if !has {
							continue
						}
						near(t, field, a.Value, stated[fmt.Sprint(i, field)], 1e-9)
						want := 0.0
						for _, c := range a.Contributions {
							want += c.Effect * by[c.Input] / inputs[c.Input].u
						}
						compared++
						if got := value - a.Value; !(math.Abs(got-want) <= 0.02*a.Uncertainty+0.01*want*want/max(a.Uncertainty, 1e-300)+1e-12*math.Abs(a.Value)) {
							t.Errorf("%d %s: %v off, the effects add up to %v of ± %v", i, field, got, want, a.Uncertainty)
						}
					}
				}
			}
			require.GreaterOrEqual(t, compared, 500)
		})
	}
}

// The fill of an end known by its gauge is that of first order too. The masses of each drawn job move it
// by what the effects add up to. The rings, off by their error, scatter it by the error of the readings: of n
// draws the standard deviation is within four standard errors, 1/√(2n).
func TestDrawnReadingsScatterTheFillAsFirstOrder(t *testing.T) {
	const heavier, ring = `, "rider_mass": "85 kg"`, 1e-4
	n := draws(400)
	more := `, {"fill": "4.1 bar", "stroke": "12.5 mm"}, {"fill": "2.6 bar", "stroke": "62 mm"}`
	for name, text := range map[string]string{
		"one rider":            fmt.Sprintf(gaugeText, 78.0, 16.0, "none", "0 mm", "", ""),
		"two riders":           fmt.Sprintf(gaugeText, 78.0, 16.0, "none", "0 mm", heavier, ""),
		"two chambers":         fmt.Sprintf(gaugeText, 78.0, 16.0, "self_filling", "10 mm", "", more),
		"two chambers, riders": fmt.Sprintf(gaugeText, 78.0, 16.0, "self_filling", "10 mm", heavier, more),
	} {
		t.Run(name, func(t *testing.T) {
			job := func() setup.Job {
				j := sagtest.Job(t, text)
				j.Front.Gauge.RingError = ring
				return j
			}
			u := certainty.Uncertainty{RiderMass: 0.2, BikeMass: 0.1}
			fill := func(j setup.Job) float64 { return float64(sheet(t, j).Front.Gauge.FillWanted) }
			e := propagate(t, job(), u).Front.FillWanted
			effects := map[string]float64{}
			for _, c := range e.Contributions {
				effects[c.Input] = float64(c.Effect)
			}
			stated := fill(job())
			near(t, "fill", float64(e.Value), stated, 1e-9)
			random := rand.New(rand.NewPCG(7, 0))
			for range 10 {
				j, rider, bike := job(), random.NormFloat64(), random.NormFloat64()
				j.Masses.RiderMass += u.RiderMass * units.Mass(rider)
				j.Masses.BikeMass += u.BikeMass * units.Mass(bike)
				want := effects["rider_mass"]*rider + effects["bike_mass"]*bike
				if got := fill(j) - stated; !(math.Abs(got-want) <= 0.02*math.Hypot(effects["rider_mass"], effects["bike_mass"])*(1+rider*rider+bike*bike)+1e-6) {
					t.Errorf("%v Pa off, the effects add up to %v", got, want)
				}
			}
			sum := 0.0
			for range n {
				j := job()
				for k := range j.Front.Gauge.Readings {
					j.Front.Gauge.Readings[k].Stroke += units.Length(ring * random.NormFloat64())
				}
				sum += math.Pow(fill(j)-stated, 2)
			}
			near(t, "scatter", math.Sqrt(sum/float64(n)), math.Abs(effects["front.gauge.readings"]), 4/math.Sqrt(2*float64(n)))
		})
	}
}
