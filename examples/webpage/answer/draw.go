package answer

import (
	"fmt"
	"math"

	"example.com/wheelrate/examples/internal/smooth"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// draw makes the pictures of an end: force and rate at the wheel, and the lever
// ratio where it changes.
func (c Curves) draw(name string, e *setup.EndSheet, o Options) []Picture {
	u := systemOf(o.Customary)
	x := axis{label: "Wheel travel", unit: u.length, form: u.lengthForm}
	along := into(c.Travel, u.inLength)
	full := e.Travel.Millimetres() / u.inLength
	rest := e.Rest.Travel.Millimetres() / u.inLength
	lo, hi := e.Rest.TravelLow.Millimetres()/u.inLength, e.Rest.TravelHigh.Millimetres()/u.inLength
	band := ""
	if hi > lo {
		band = fmt.Sprintf(" Grey is where the friction stated may hold the wheel, "+u.lengthForm+" to "+u.lengthForm+" %s.", lo, hi, u.length)
	}
	make := func(title, caption string, y axis, at float64, lines ...line) Picture {
		ch := chart{
			title: title + ", " + name, x: x, y: y, along: along, full: full,
			lines: lines, at: rest, height: at, bandFrom: lo, bandTo: hi,
			mark: fmt.Sprintf("sag "+u.lengthForm+" %s", rest, u.length),
		}
		return Picture{Title: title, SVG: ch.svg(o.Width), Caption: caption}
	}
	still, quick := "standing still", "quick stroke"
	forces, rates := []line{{still, into(c.Force, u.inForce)}}, []line{{still, into(c.Rate, u.inRate)}}
	if c.QuickForce != nil {
		forces = append(forces, line{quick, into(c.QuickForce, u.inForce)})
		rates = append(rates, line{quick, into(c.QuickRate, u.inRate)})
	}
	load := e.Load.Newtons() / u.inForce
	here := e.Rest.WheelRate.NewtonsPerMillimetre() / u.inRate
	ends := ""
	if last := c.Travel[steps]; last < e.Travel.Millimetres()-0.05 {
		ends = " The spring is solid before the travel is used up: the curve ends there."
	}
	pictures := []Picture{
		make("Force at the wheel", fmt.Sprintf("The wheel rests where the spring pushes back with its load, "+u.forceForm+" %s.", load, u.force)+band+ends,
			axis{label: "Wheel force", unit: u.force, form: u.forceForm}, load, forces...),
		make("Rate at the wheel", fmt.Sprintf("How much harder it gets to move on: "+u.rateForm+" %s at the sag.", here, u.rate),
			axis{label: "Wheel rate", unit: u.rate, form: u.rateForm}, here, rates...),
	}
	p := e.LeverRatio
	if p.Max-p.Min < 1e-6*p.Max {
		return append(pictures, Picture{Title: "Lever ratio", Caption: fmt.Sprintf("%.3f over the whole travel.", p.Start)})
	}
	return append(pictures, make("Lever ratio", fmt.Sprintf("Wheel travel for a little stroke: from %.3f to %.3f, a progression of %s; least %.3f, greatest %.3f.",
		p.Start, p.End, typeset(units.Percent(p.Value)), p.Min, p.Max),
		axis{label: "Lever ratio", form: "%.3f", loose: true}, e.Rest.LeverRatio, line{"lever ratio", c.LeverRatio}))
}

// waves says, under pictures that have waves, that they are the rounding of the job's table, where
// a smooth curve meets its travels as closely.
func (e *End) waves(job *setup.EndJob) {
	if e == nil || len(e.Drawn) == 0 || bends(e.Curves.Rate) < 4 {
		return
	}
	if _, unit := smooth.Curve(job.Curve.Table); unit > 0 {
		for i := range e.Drawn[1:] { // the force shows none
			e.Drawn[1+i].Caption += fmt.Sprintf(" Its waves are the table's rounding to %s: a smooth curve meets every travel as closely.", unit.String())
		}
	}
}

// bends returns how often a column bends the other way.
func bends(column []float64) (n int) {
	last := 0.0
	for i := 2; i < len(column); i++ {
		bend := column[i] - 2*column[i-1] + column[i-2]
		if bend*last < 0 {
			n++
		}
		last = bend
	}
	return n
}

// step returns 1, 2 or 5 times a power of ten, so that a range has at most so
// many steps.
func step(span float64, most int) float64 {
	rough := span / float64(most)
	power := math.Pow(10, math.Floor(math.Log10(rough)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= rough*(1-1e-9) {
			return m * power
		}
	}
	return 10 * power
}
