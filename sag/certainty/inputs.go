package certainty

import (
	"fmt"
	"math"
	"strings"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// input is one number that may be off. Several share a name where a field of
// [Uncertainty] speaks of several.
type input struct {
	name   string
	end    int     // 0 front, 1 rear, both for both
	u      float64 // standard uncertainty, as are the rest in SI units or as a fraction
	scale  float64 // its natural size, for the step of a difference
	lo, hi float64 // what deviations leave the quantity possible
	at     *float64
}

const both = -1

// limits are what a standard uncertainty and a deviation are held to.
type limits struct{ most, lo, hi float64 }

// above are the limits of a quantity that stays above 0.
func above[Q ~float64](v Q) limits { return limits{float64(v), -float64(v), math.Inf(1)} }

// upward are those of one that may be 0, with its natural size.
func upward[Q, S ~float64](v Q, size S) limits {
	return limits{float64(size), -float64(v), math.Inf(1)}
}

// between are those of one that stays inside an interval.
func between[Q ~float64](v, lo, hi Q, most float64) limits {
	return limits{most, float64(lo - v), float64(hi - v)}
}

// around are those of one that may be off either way.
func around[S ~float64](size S) limits { return limits{float64(size), math.Inf(-1), math.Inf(1)} }

var relative = limits{1, -1, math.Inf(1)}

// mostReadings keeps the work of a hostile job small: each travel is an input
// that the whole job is worked out for.
const mostReadings = 100

// declare checks one field of an uncertainty and notes its input, or that it
// is exact. A field that the job has no use for says so in none.
func declare[Q ~float64](m *model, c *units.Checker, field string, u Q, none string, l limits, at ...*float64) {
	switch {
	case u == 0 && none == "":
		m.exact = append(m.exact, field)
		return
	case u == 0:
		return
	case !(u > 0) || math.IsInf(float64(u), 0):
		c.Fail(field, u, "a standard uncertainty: finite, 0 or more", units.ErrRange)
		return
	case none != "":
		c.Fail(field, u, "nothing: "+none, units.ErrConflict)
		return
	case l.most > 0 && !(float64(u) <= l.most): // a job at fault may have no sizes
		c.Fail(field, u, "a standard uncertainty of at most "+fmt.Sprint(Q(l.most)), units.ErrRange)
		return
	}
	end := both
	switch {
	case strings.HasPrefix(field, "front."):
		end = 0
	case strings.HasPrefix(field, "rear."):
		end = 1
	}
	for _, at := range at {
		m.inputs = append(m.inputs, input{field, end, float64(u), l.most, l.lo, l.hi, at})
	}
}

// declare notes every input of the job that may be off, in the order of the
// fields of [Uncertainty].
func (m *model) declare(c *units.Checker, u Uncertainty) {
	d, j := &m.off, &m.masses
	noMass, noShare, noCentre, noScale := "", "", "the job gives no mass centre", "the job gives no scales"
	switch {
	case j.Scaled():
		noMass, noShare, noScale = "the job gives scales, which say the loads", "the job gives scales instead", ""
	case j.MassCentreBehindFrontAxle != 0:
		noShare, noCentre = "the job gives a mass centre instead", ""
	}
	q, a, l := j.RearShare, float64(j.MassCentreBehindFrontAxle), float64(j.Wheelbase)
	declare(m, c, "rider_mass", u.RiderMass, noMass, above(j.RiderMass), &d.rider)
	declare(m, c, "bike_mass", u.BikeMass, noMass, above(j.BikeMass), &d.bike)
	declare(m, c, "unsprung_front", u.UnsprungFront, "", upward(j.UnsprungFront, j.BikeMass), &d.unsprung[0])
	declare(m, c, "unsprung_rear", u.UnsprungRear, "", upward(j.UnsprungRear, j.BikeMass), &d.unsprung[1])
	declare(m, c, "rear_share", u.RearShare, noShare, between(q, 0, 1, min(q, 1-q)), &d.share)
	declare(m, c, "wheelbase", u.Wheelbase, noCentre, limits{min(a, l-a), a - l, math.Inf(1)}, &d.wheelbase)
	declare(m, c, "mass_centre_behind_front_axle", u.MassCentreBehindFrontAxle, noCentre, between(a, 0, l, min(a, l-a)), &d.centre)
	declare(m, c, "front_scale", u.FrontScale, noScale, above(j.FrontScale), &d.scale[0])
	declare(m, c, "rear_scale", u.RearScale, noScale, above(j.RearScale), &d.scale[1])
	ambient, noAir := units.AbsolutePressure(0), "no end has an air spring"
	for i := range m.ends {
		if air := m.ends[i].Spec.Air; air != nil {
			ambient, noAir = air.Ambient, ""
		}
	}
	declare(m, c, "ambient", u.Ambient, noAir, above(ambient), &d.ambient)
	m.declareEnd(c, 0, "front.", u.Front)
	m.declareEnd(c, 1, "rear.", u.Rear)
}

func (m *model) declareEnd(c *units.Checker, end int, path string, u EndUncertainty) {
	p, d := &m.ends[end], &m.off.end[end]
	spec := &p.Spec
	noFork, noRatio, noTable := "the curve is not that of a fork", "", "the curve is not a table"
	var angle units.Angle
	var step units.Length
	if f := spec.Curve.Fork; f != nil {
		noFork, noRatio, angle = "", "the curve is that of a fork, whose head_angle says it", f.HeadAngle
	}
	if t := spec.Curve.Table; t != nil {
		noTable = ""
		if last := len(t.Travel) - 1; last > 0 {
			step = t.Travel[last] / units.Length(last)
		}
		d.table = make([]float64, len(t.Travel))
	}
	var points []*float64
	for i := 1; i < len(d.table); i++ {
		points = append(points, &d.table[i])
	}
	stroke := units.Length(0)
	if p.Options != nil {
		stroke = p.Options.Curve().Stroke()
	}
	declare(m, c, path+"head_angle", u.HeadAngle, noFork, between(angle, 30*units.Degree, 90*units.Degree, float64(30*units.Degree)), &d.angle)
	declare(m, c, path+"lever_ratio", u.LeverRatio, noRatio, relative, &d.ratio)
	if len(points) > mostReadings {
		noTable = fmt.Sprintf("a table of more than %d points is no table of readings; take its travels as exact", mostReadings)
	}
	declare(m, c, path+"table_travel", u.TableTravel, noTable, around(step), points...)
	weight := units.Force(0) // unlimited while the rider is still to come
	if m.masses.Scaled() || m.masses.RiderMass != 0 {
		weight = m.masses.Total().Weight()
	}
	declare(m, c, path+"friction", u.Friction, "", around(weight), &d.friction)
	declare(m, c, path+"reading", u.Reading, "", around(stroke), &d.reading)

	noCoil, noAir := "", ""
	var air fit.Chamber
	if spec.Coil == nil {
		noCoil = "this end has no coil spring"
	} else if n := len(spec.Coil.Springs); n <= sag.MostSprings {
		d.rates = make([]float64, n)
	}
	var rates []*float64
	for i := range d.rates {
		rates = append(rates, &d.rates[i])
	}
	if spec.Air == nil {
		noAir = "this end has no air spring"
	} else {
		air = *spec.Air
	}
	without := func(has bool, what string) string {
		if noAir == "" && !has {
			return "this air spring has no " + what
		}
		return noAir
	}
	set := &m.set[end]
	negative, second := air.NegativeVolume > 0, air.SecondVolume > 0
	declare(m, c, path+"spring_rate", u.SpringRate, noCoil, relative, rates...)
	declare(m, c, path+"preload", u.Preload, noCoil, upward(set.preload, stroke), &d.preload)
	declare(m, c, path+"fill", u.Fill, noAir, upward(set.fill, air.MaxFill), &d.fill)
	declare(m, c, path+"gas_temperature", u.GasTemperature, noAir, relative, &d.warmth)
	declare(m, c, path+"bore", u.Bore, noAir, above(air.Bore), &d.bore)
	declare(m, c, path+"shaft", u.Shaft, without(air.Shaft > 0, "shaft"), above(air.Shaft), &d.shaft)
	declare(m, c, path+"positive_volume", u.PositiveVolume, noAir, above(air.PositiveVolume), &d.positive)
	declare(m, c, path+"negative_volume", u.NegativeVolume, without(negative, "negative chamber"), above(air.NegativeVolume), &d.negative)
	declare(m, c, path+"port_travel", u.PortTravel, without(negative, "negative chamber"), upward(air.PortTravel, air.Travel), &d.port)
	declare(m, c, path+"oil_volume", u.OilVolume, noAir, upward(air.OilVolume, air.PositiveVolume), &d.oil)
	declare(m, c, path+"spacer_volume", u.SpacerVolume, without(air.SpacerVolume > 0, "spacers"), above(air.SpacerVolume), &d.spacer)
	declare(m, c, path+"second_volume", u.SecondVolume, without(second, "second chamber"), above(air.SecondVolume), &d.second)
	declare(m, c, path+"second_fill", u.SecondFill, without(second, "second chamber"), above(air.SecondFill), &d.secondFill)
	declare(m, c, path+"exponent", u.Exponent, noAir, between(air.Exponent, 1, 2, 1), &d.exponent)
}

// deviations are how far the inputs are off.
type deviations struct {
	rider, bike, share, wheelbase, centre, ambient float64
	unsprung, scale                                [2]float64
	end                                            [2]endDeviations
}

type endDeviations struct {
	angle, ratio, friction, reading, preload, fill, warmth                           float64
	bore, shaft, positive, negative, port, oil, spacer, second, secondFill, exponent float64

	table []float64 // of each travel in the table; nil where there is none
	rates []float64 // of each spring of the shelf, relative
}

// air is the spec of an air spring with its deviations.
func (d *endDeviations) air(s airspring.Spec, ambient float64) airspring.Spec {
	s.Ambient += units.AbsolutePressure(ambient)
	s.Bore += units.Length(d.bore)
	s.Shaft += units.Length(d.shaft)
	s.PositiveVolume += units.Volume(d.positive)
	s.NegativeVolume += units.Volume(d.negative)
	s.PortTravel += units.Length(d.port)
	s.OilVolume += units.Volume(d.oil)
	s.SpacerVolume += units.Volume(d.spacer)
	s.SecondVolume += units.Volume(d.second)
	s.SecondFill += units.GaugePressure(d.secondFill)
	s.Exponent += d.exponent
	return s
}

// curve is an end's curve with the deviations of its table, at the nominal
// scale; nil where these make it none.
func (d *endDeviations) curve(p *EndSetup) *linkage.Curve {
	off := false
	for _, v := range d.table {
		off = off || v != 0
	}
	if !off {
		return p.Options.Curve()
	}
	table := *p.Spec.Curve.Table
	table.Travel = append([]units.Length(nil), table.Travel...)
	for i, v := range d.table {
		table.Travel[i] += units.Length(v)
	}
	spec := p.Spec.Curve
	spec.Table = &table
	curve, err := linkage.New(spec)
	if err != nil {
		return nil
	}
	return curve
}

// stretch is the lever ratio over the nominal one: the deviation of the whole
// curve, or sin φ of a fork over the sine of its nominal head angle.
func (d *endDeviations) stretch(p *EndSetup) float64 {
	if f := p.Spec.Curve.Fork; f != nil {
		return math.Sin(float64(f.HeadAngle)+d.angle) / math.Sin(float64(f.HeadAngle))
	}
	return 1 + d.ratio
}
