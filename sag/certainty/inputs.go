package certainty

import (
	"cmp"
	"fmt"
	"math"

	"example.com/wheelrate/units"
)

// input is one number that may be off its value. Inputs that one field of [Uncertainty] stands for
// have the same name.
type input struct {
	name string
	moves
	u float64 // standard uncertainty, in the unit of a deviation
	move
}

// moves is which answers depend on an input.
type moves struct {
	ends    [2]bool // those of front and rear
	both    bool    // those of both ends settled together
	landing bool    // of the ends, those about the landing too
}

// move is how an input deviates from its value. Deviations are in SI units or, of a relative
// uncertainty, fractions.
type move struct {
	scale  float64         // the size of the input: its largest uncertainty
	lo, hi float64         // the least and the greatest possible deviation
	by     func(d float64) // sets the input to its value plus a deviation
}

// between returns the move of a quantity that is possible from lo to hi.
func between[Q ~float64](v *Q, lo, hi, size Q) move {
	stated := *v
	return move{float64(size), float64(lo - stated), float64(hi - stated), func(d float64) { *v = stated + Q(d) }}
}

// around returns the move of a quantity that may have any value, upward that of a quantity of 0 or
// more, and above that of a quantity of 0 or more whose size is its value.
func around[Q ~float64](v *Q, size Q) move { return between(v, Q(math.Inf(-1)), Q(math.Inf(1)), size) }
func upward[Q ~float64](v *Q, size Q) move { return between(v, 0, Q(math.Inf(1)), size) }
func above[Q ~float64](v *Q) move          { return upward(v, *v) }

// mostReadings is the most travels of a table that are inputs. Each costs two evaluations of the
// setup.
const mostReadings = 100

// Check records every field of an uncertainty that is wrong for a setup, such as rear.preload. One of
// an input that the setup does not have is not wrong, but is not used; see [Budget.NotUsed]. The
// ends of the setup need no choice. If an end has no curve, or no value for an input, the
// uncertainties that this would limit are not limited.
func (u Uncertainty) Check(c *units.Checker, s Setup) { newModel(s, u).declare(c) }

// part is a part of a model's inputs.
type part struct {
	*model
	c     *units.Checker
	at    string // before the names of its fields
	moves moves
	lacks string // why a setup has none of its inputs
}

// unless returns why a setup does not have an input, and "" if it has.
func unless(has bool, why string) string {
	if has {
		return ""
	}
	return why
}

// declare checks one field of an uncertainty and adds its inputs to the model, or its name to the
// exact ones, or to those that are not used if the setup has no such input. Useless is a result of
// unless.
func declare[Q ~float64](p part, field string, u Q, useless string, all ...move) {
	field, useless = p.at+field, cmp.Or(p.lacks, useless)
	most := 0.0 // no limit: the value of the input is missing
	if len(all) > 0 {
		most = all[0].scale
	}
	switch {
	case u == 0 && useless == "":
		p.exact = append(p.exact, field)
	case u == 0:
	case !(u > 0) || math.IsInf(float64(u), 0):
		p.c.Fail(field, u, "a standard uncertainty: finite, 0 or more", units.ErrRange)
	case useless != "":
		p.notUsed = append(p.notUsed, Leftover{field, useless})
	case most > 0 && !(float64(u) <= most):
		p.c.Fail(field, u, units.AtMost(Q(most)).With("as a standard uncertainty"), units.ErrRange)
	default:
		for _, one := range all {
			p.inputs = append(p.inputs, input{field, p.moves, float64(u), one})
		}
	}
}

// declare checks all fields of the uncertainty and adds their inputs to the model, in the order of
// the fields.
func (m *model) declare(c *units.Checker) {
	u, j := &m.stated, &m.masses
	both, gas := part{m, c, "", moves{[2]bool{true, true}, true, true}, ""}, part{m, c, "", moves{both: true, landing: true}, ""}
	front := part{m, c, "", moves{[2]bool{true, false}, true, true}, unless(m.ends[0].name != "", "the job has no front")}
	rear := part{m, c, "", moves{[2]bool{false, true}, true, true}, unless(m.ends[1].name != "", "the job has no rear")}
	settled := part{m, c, "", moves{both: true}, unless(m.couples, "both ends do not settle together: the job gives scales, or lacks an end, wheelbase, mass_centre_height or a wheel's radius")}
	ambient := move{by: func(float64) {}}
	for i := range m.ends {
		if e := &m.ends[i]; e.Spec.Air != nil || e.Spec.Gauge != nil {
			other, own := ambient.by, above(&e.gas.Ambient)
			gas.moves.ends[i], ambient = true, own
			ambient.by = func(d float64) { other(d); own.by(d) }
		}
	}
	scaled, centred := j.Scaled(), j.MassCentreBehindFrontAxle != 0
	noMass := unless(!scaled, "the job gives scales, which say the loads")
	noScale := unless(scaled, "the job gives no scales")
	noCentre := unless(centred && !scaled, "the job gives no mass centre")
	q, a, l := &j.RearShare, &j.MassCentreBehindFrontAxle, &j.Wheelbase
	nearer := min(*a, *l-*a)
	declare(both, "rider_mass", u.RiderMass, noMass, above(&j.RiderMass))
	declare(both, "bike_mass", u.BikeMass, noMass, above(&j.BikeMass))
	declare(front, "unsprung_front", u.UnsprungFront, "", upward(j.UnsprungFront, j.BikeMass))
	declare(rear, "unsprung_rear", u.UnsprungRear, "", upward(j.UnsprungRear, j.BikeMass))
	declare(both, "rear_share", u.RearShare, unless(!scaled && !centred, "the job gives scales or a mass centre instead"), between(q, 0, 1, min(*q, 1-*q)))
	if !centred || scaled {
		declare(settled, "wheelbase", u.Wheelbase, "", above(l))
	} else {
		declare(both, "wheelbase", u.Wheelbase, "", between(l, *a, units.Length(math.Inf(1)), nearer))
	}
	declare(both, "mass_centre_behind_front_axle", u.MassCentreBehindFrontAxle, noCentre, between(a, 0, *l, nearer))
	declare(front, "front_scale", u.FrontScale, noScale, above(&j.FrontScale))
	declare(rear, "rear_scale", u.RearScale, noScale, above(&j.RearScale))
	own := j.FrontWheelRadius != 0 && j.RearWheelRadius != 0
	declare(settled, "mass_centre_height", u.MassCentreHeight, "", above(&j.MassCentreHeight))
	declare(settled, "wheel_radius", u.WheelRadius, unless(!own, "each wheel has a radius of its own"), above(&j.WheelRadius))
	declare(settled, "front_wheel_radius", u.FrontWheelRadius, unless(j.FrontWheelRadius != 0, "wheel_radius says it"), above(&j.FrontWheelRadius))
	declare(settled, "rear_wheel_radius", u.RearWheelRadius, unless(j.RearWheelRadius != 0, "wheel_radius says it"), above(&j.RearWheelRadius))
	offset, noStay := move{}, unless(j.BottomBracketHeight != 0 && j.ChainstayLength != 0, "the job gives no place of the bottom bracket")
	if j.ForkOffset != nil {
		offset = around(j.ForkOffset, 1*units.Metre)
	}
	declare(settled, "fork_offset", u.ForkOffset, unless(j.ForkOffset != nil, "the job gives no fork offset"), offset)
	declare(settled, "bottom_bracket_height", u.BottomBracketHeight, noStay, above(&j.BottomBracketHeight))
	declare(settled, "chainstay_length", u.ChainstayLength, noStay, above(&j.ChainstayLength))
	declare(gas, "ambient", u.Ambient, unless(gas.moves.ends != [2]bool{}, "no end has an air spring"), ambient)
	front.at, rear.at = "front.", "rear."
	m.ends[0].declare(front, &u.Front)
	m.ends[1].declare(rear, &u.Rear)
}

// declare does this for one end.
func (e *end) declare(p part, u *EndUncertainty) {
	var stroke units.Length // 0, no limit, without a curve
	if e.Curve != nil {
		stroke = e.Curve.Stroke()
	}
	var weight units.Force // 0, no limit, without a rider
	if p.masses.Scaled() || p.masses.RiderMass != 0 {
		weight = p.masses.Total().Weight()
	}
	var travels []move
	last := len(e.table.Travel) - 1
	if len(e.table.LeverRatio) > 0 {
		last = 0
	}
	for i := 1; i <= last; i++ {
		travels = append(travels, around(&e.table.Travel[i], e.table.Travel[last]/units.Length(last)))
	}
	curve := &e.Spec.Curve
	if u.TableTravel > 0 && last > mostReadings {
		p.c.Fail(p.at+"table_travel", u.TableTravel, fmt.Sprintf("no uncertainty: the table has more than %d readings beside the first; take its travels as exact", mostReadings), units.ErrConflict)
		u.TableTravel, travels = 0, nil
	}
	declare(p, "head_angle", u.HeadAngle, unless(curve.Fork != nil, "the curve is not that of a fork"),
		between(&e.fork.HeadAngle, 30*units.Degree, 90*units.Degree, 30*units.Degree))
	declare(p, "lever_ratio", u.LeverRatio, unless(curve.Fork == nil, "the curve is that of a fork, whose head_angle says it"), above(&e.ratio))
	declare(p, "table_travel", u.TableTravel, unless(curve.Table != nil && len(e.table.LeverRatio) == 0, "the curve is not a table of strokes and travels"), travels...)
	still := p // what falls is not held by friction, nor read
	still.moves.landing = false
	declare(still, "friction", u.Friction, "", around(&e.stuck, weight))
	declare(still, "reading", u.Reading, "", around(&e.misread, stroke))
	noDrop := unless(e.Drop.Height > 0, "the job asks about no drop onto this end")
	declare(p, "drop_height", u.DropHeight, noDrop, above(&e.Drop.Height))
	declare(p, "damping", u.Damping, cmp.Or(noDrop, unless(e.Drop.Damping > 0, "this end has no damper")), above(&e.damping))
	e.declareCoil(p, u, stroke)
	e.declareAir(p, u)
	e.declareGauge(p)
}

func (e *end) declareCoil(p part, u *EndUncertainty, stroke units.Length) {
	useless := unless(e.Spec.Coil != nil, "this end has no coil spring")
	first := len(p.inputs)
	rates := make([]move, len(e.shelf.Springs))
	for i := range rates {
		one := &e.shelf.Springs[i]
		marked := *one
		rates[i] = move{1, -1, math.Inf(1), func(d float64) { *one = marked.Scaled(1 + d) }}
	}
	declare(p, "spring_rate", u.SpringRate, useless, rates...)
	for i := range p.inputs[first:] {
		if i != e.fitted { // no answer depends on the other springs
			p.inputs[first+i].moves = moves{}
		}
	}
	declare(p, "preload", u.Preload, useless, upward(&e.preload, stroke))
}

func (e *end) declareAir(p part, u *EndUncertainty) {
	lacks := "this end has no air spring"
	gas, filled, useless, marking := &e.gas, "", "", units.GaugePressure(0)
	switch {
	case e.Spec.Air != nil:
		marking = e.Spec.Air.MaxFill
	case e.Spec.Gauge != nil:
		marking = e.Spec.Gauge.Highest()
		lacks = "this end has no chambers that are stated"
		useless = lacks
	default:
		filled, useless = lacks, lacks
	}
	noNegative, noSecond := unless(gas.NegativeVolume > 0, lacks+" with a negative chamber"), unless(gas.SecondVolume > 0, lacks+" with a second chamber")
	declare(p, "fill", u.Fill, filled, upward(&gas.Fill, marking))
	declare(p, "gas_temperature", u.GasTemperature, filled, above(&e.warmth))
	declare(p, "bore", u.Bore, useless, above(&gas.Bore))
	declare(p, "shaft", u.Shaft, unless(gas.Shaft > 0, lacks+" with a shaft"), above(&gas.Shaft))
	declare(p, "positive_volume", u.PositiveVolume, useless, above(&gas.PositiveVolume))
	declare(p, "negative_volume", u.NegativeVolume, noNegative, above(&gas.NegativeVolume))
	declare(p, "port_travel", u.PortTravel, noNegative, upward(&gas.PortTravel, gas.Travel))
	declare(p, "oil_volume", u.OilVolume, useless, upward(&gas.OilVolume, gas.PositiveVolume))
	declare(p, "spacer_volume", u.SpacerVolume, unless(gas.SpacerVolume > 0, lacks+" with spacers"), above(&gas.SpacerVolume))
	declare(p, "second_volume", u.SecondVolume, noSecond, above(&gas.SecondVolume))
	declare(p, "second_fill", u.SecondFill, noSecond, above(&gas.SecondFill))
	declare(p, "exponent", u.Exponent, filled, between(&gas.Exponent, 1, 2, 1))
}
