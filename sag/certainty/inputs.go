package certainty

import (
	"fmt"
	"math"

	"example.com/wheelrate/units"
)

// input is one number that may be off. Several share a name where a field of
// [Uncertainty] speaks of several.
type input struct {
	name string
	ends [2]bool // whose answers it has a part in
	u    float64 // standard uncertainty, in SI units or as a fraction, as in move
	move
}

// move is how an input may be off its value.
type move struct {
	scale  float64         // its natural size, which bounds its uncertainty
	lo, hi float64         // the deviations that leave the quantity possible
	by     func(d float64) // moves it off its value by a deviation
}

// around is the move of a quantity that may be off either way.
func around[Q ~float64](v *Q, size Q) move {
	stated := *v
	return move{float64(size), math.Inf(-1), math.Inf(1), func(d float64) { *v = stated + Q(d) }}
}

// between is that of one that stays inside an interval.
func between[Q ~float64](v *Q, lo, hi, size Q) move {
	m := around(v, size)
	m.lo, m.hi = float64(lo-*v), float64(hi-*v)
	return m
}

// upward is that of one that is 0 or more, and above that of one which is its own
// size: a mass, a volume, or a factor of 1.
func upward[Q ~float64](v *Q, size Q) move { return between(v, 0, Q(math.Inf(1)), size) }
func above[Q ~float64](v *Q) move          { return upward(v, *v) }

// mostReadings bounds the travels of a table that are inputs: the whole job is
// worked out for each.
const mostReadings = 100

// Check records what is wrong with an uncertainty of a setup's inputs, such as
// rear.preload. The ends need no choice. Of an end that is at fault, without a curve,
// it records nothing more.
func (u Uncertainty) Check(c *units.Checker, s Setup) { newModel(s, u).declare(c) }

// part is a part of a model's inputs.
type part struct {
	*model
	c    *units.Checker
	ends [2]bool // whose answers they have a part in
	at   string  // before the names of its fields
}

// declare checks one field of an uncertainty and notes its inputs, or that it is
// exact. None says why a job has no use for the field; it is empty where it has.
func declare[Q ~float64](p part, field string, u Q, none string, moves ...move) {
	field = p.at + field
	most := 0.0 // unlimited, for a job at fault may have no sizes
	if len(moves) > 0 {
		most = moves[0].scale
	}
	switch {
	case u == 0 && none == "":
		p.exact = append(p.exact, field)
	case u == 0:
	case !(u > 0) || math.IsInf(float64(u), 0):
		p.c.Fail(field, u, "a standard uncertainty: finite, 0 or more", units.ErrRange)
	case none != "":
		p.c.Fail(field, u, "no uncertainty: "+none, units.ErrConflict)
	case most > 0 && !(float64(u) <= most):
		p.c.Fail(field, u, "a standard uncertainty of at most "+fmt.Sprint(Q(most)), units.ErrRange)
	default:
		for _, one := range moves {
			p.inputs = append(p.inputs, input{field, p.ends, float64(u), one})
		}
	}
}

// declare checks the uncertainties and notes every input that may be off, in the
// order of the fields of [Uncertainty].
func (m *model) declare(c *units.Checker) {
	u, j := &m.stated, &m.masses
	noMass, noShare, noCentre, noScale := "", "", "the job gives no mass centre", "the job gives no scales"
	switch {
	case j.Scaled():
		noMass, noShare, noScale = "the job gives scales, which say the loads", "the job gives scales instead", ""
	case j.MassCentreBehindFrontAxle != 0:
		noShare, noCentre = "the job gives a mass centre instead", ""
	}
	both := part{m, c, [2]bool{true, true}, ""}
	front, rear, gas := part{m, c, [2]bool{true, false}, ""}, part{m, c, [2]bool{false, true}, ""}, part{m, c, [2]bool{}, ""}
	noAir, ambient := "no end has an air spring", move{by: func(float64) {}}
	for i := range m.ends {
		if e := &m.ends[i]; e.Spec.Air != nil {
			other, own := ambient.by, above(&e.gas.Ambient)
			gas.ends[i], noAir, ambient = true, "", own
			ambient.by = func(d float64) { other(d); own.by(d) }
		}
	}
	q, a, l := &j.RearShare, &j.MassCentreBehindFrontAxle, &j.Wheelbase
	nearer := min(*a, *l-*a)
	declare(both, "rider_mass", u.RiderMass, noMass, above(&j.RiderMass))
	declare(both, "bike_mass", u.BikeMass, noMass, above(&j.BikeMass))
	declare(front, "unsprung_front", u.UnsprungFront, "", upward(&j.UnsprungFront, j.BikeMass))
	declare(rear, "unsprung_rear", u.UnsprungRear, "", upward(&j.UnsprungRear, j.BikeMass))
	declare(both, "rear_share", u.RearShare, noShare, between(q, 0, 1, min(*q, 1-*q)))
	declare(both, "wheelbase", u.Wheelbase, noCentre, between(l, *a, units.Length(math.Inf(1)), nearer))
	declare(both, "mass_centre_behind_front_axle", u.MassCentreBehindFrontAxle, noCentre, between(a, 0, *l, nearer))
	declare(front, "front_scale", u.FrontScale, noScale, above(&j.FrontScale))
	declare(rear, "rear_scale", u.RearScale, noScale, above(&j.RearScale))
	declare(gas, "ambient", u.Ambient, noAir, ambient)
	front.at, rear.at = "front.", "rear."
	m.ends[0].declare(front, &u.Front)
	m.ends[1].declare(rear, &u.Rear)
}

// declare does the same for one end.
func (e *end) declare(p part, u *EndUncertainty) {
	stroke := units.Length(0)
	if e.Curve != nil {
		stroke = e.Curve.Stroke()
	}
	e.declareCurve(p, u)
	declare(p, "reading", u.Reading, "", around(&e.misread, stroke))
	e.declareCoil(p, u, stroke)
	e.declareAir(p, u)
}

func (e *end) declareCurve(p part, u *EndUncertainty) {
	noFork, noRatio, noTable := "the curve is not that of a fork", "", "the curve is not a table"
	if e.Spec.Curve.Fork != nil {
		noFork, noRatio = "", "the curve is that of a fork, whose head_angle says it"
	}
	last := len(e.table.Travel) - 1
	if e.Spec.Curve.Table != nil {
		noTable = ""
	}
	if last > mostReadings {
		noTable = fmt.Sprintf("the table has more than %d readings beside the first; take its travels as exact", mostReadings)
	}
	var travels []move
	for i := 1; i <= last; i++ {
		travels = append(travels, around(&e.table.Travel[i], e.table.Travel[last]/units.Length(last)))
	}
	weight := units.Force(0) // unlimited while the rider is still to come
	if p.masses.Scaled() || p.masses.RiderMass != 0 {
		weight = p.masses.Total().Weight()
	}
	declare(p, "head_angle", u.HeadAngle, noFork, between(&e.fork.HeadAngle, 30*units.Degree, 90*units.Degree, 30*units.Degree))
	declare(p, "lever_ratio", u.LeverRatio, noRatio, above(&e.ratio))
	declare(p, "table_travel", u.TableTravel, noTable, travels...)
	declare(p, "friction", u.Friction, "", around(&e.stuck, weight))
}

func (e *end) declareCoil(p part, u *EndUncertainty, stroke units.Length) {
	none := "this end has no coil spring"
	if e.Spec.Coil != nil {
		none = ""
	}
	first := len(p.inputs)
	rates := make([]move, len(e.shelf.Springs))
	for i := range rates {
		rate := &e.shelf.Springs[i].Rate
		marked := *rate
		rates[i] = move{1, -1, math.Inf(1), func(d float64) { *rate = marked * units.Stiffness(1+d) }}
	}
	declare(p, "spring_rate", u.SpringRate, none, rates...)
	for i := range p.inputs[first:] {
		if i != e.fitted { // a spring that is not fitted has a part in no answer
			p.inputs[first+i].ends = [2]bool{}
		}
	}
	declare(p, "preload", u.Preload, none, upward(&e.preload, stroke))
}

func (e *end) declareAir(p part, u *EndUncertainty) {
	gas, marking, none := &e.gas, units.GaugePressure(0), "this end has no air spring"
	if e.Spec.Air != nil {
		marking, none = e.Spec.Air.MaxFill, ""
	}
	without := func(has bool, what string) string {
		if has {
			return ""
		}
		return "this end has no air spring with " + what
	}
	noNegative, noSecond := without(gas.NegativeVolume > 0, "a negative chamber"), without(gas.SecondVolume > 0, "a second chamber")
	declare(p, "fill", u.Fill, none, upward(&gas.Fill, marking))
	declare(p, "gas_temperature", u.GasTemperature, none, above(&e.warmth))
	declare(p, "bore", u.Bore, none, above(&gas.Bore))
	declare(p, "shaft", u.Shaft, without(gas.Shaft > 0, "a shaft"), above(&gas.Shaft))
	declare(p, "positive_volume", u.PositiveVolume, none, above(&gas.PositiveVolume))
	declare(p, "negative_volume", u.NegativeVolume, noNegative, above(&gas.NegativeVolume))
	declare(p, "port_travel", u.PortTravel, noNegative, upward(&gas.PortTravel, gas.Travel))
	declare(p, "oil_volume", u.OilVolume, none, upward(&gas.OilVolume, gas.PositiveVolume))
	declare(p, "spacer_volume", u.SpacerVolume, without(gas.SpacerVolume > 0, "spacers"), above(&gas.SpacerVolume))
	declare(p, "second_volume", u.SecondVolume, noSecond, above(&gas.SecondVolume))
	declare(p, "second_fill", u.SecondFill, noSecond, above(&gas.SecondFill))
	declare(p, "exponent", u.Exponent, none, between(&gas.Exponent, 1, 2, 1))
}
