package advice

import (
	"fmt"
	"strings"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// Item is one thing to do at an end of the bike, in plain words. The code is stable, so that a
// program can say it in its own language.
type Item struct {
	Code string `json:"code"`
	Text string `json:"text"`
}

// advise sets what to do, in order.
func (w *work) advise(a *EndAnswer) {
	say := func(code, format string, args ...any) {
		a.Advice = append(a.Advice, Item{code, fmt.Sprintf(format, args...)})
	}
	if w.first {
		say("set_up", "Set it as the sheet of the job recommends: %s.", w.left.Setting.Text())
	}
	w.adviseFill(a, say)
	w.adviseReadings(a, say)
	w.adviseSetting(a, say)
	w.adviseRide(a, say)
	if a.Plan != nil && len(w.tried) > 0 {
		say(either(a.Plan.Ending == "", "try_next", "plan_"+string(a.Plan.Ending)), "%s", a.Plan.Text)
	}
}

type sayer = func(code, format string, args ...any)

// adviseFill says what a gauge says.
func (w *work) adviseFill(a *EndAnswer, say sayer) {
	const tight = 0.02 // of the fill: no gauge of a pump tells less; a choice of this package
	was := a.Now.Fill - a.FillChange
	switch change := a.FillChange; {
	case change < -tight*was:
		say("air_lost", "The gauge shows %s less than the %s that were left in. If that is more than the pump's hose takes, look for the leak before anything else.", (-change).Both(), was.Both())
	case change > tight*was:
		say("air_gained", "The gauge shows %s more than the %s that were left in: somebody has pumped it up, or another gauge was read.", change.Both(), was.Both())
	}
}

// adviseReadings says what the ring says of the record.
func (w *work) adviseReadings(a *EndAnswer, say sayer) {
	if a.Report == nil {
		return
	}
	expected := a.Now.Rest.Stroke.Both()
	read := a.Report.Readings[0].Stroke.Both()
	switch a.Report.Verdict {
	case visit.Agrees:
		say("as_expected", "The ring stands where it should, at %s with %s expected.", read, expected)
	case visit.WithinFriction:
		say("within_friction", "The ring stands at %s with %s expected: friction alone may hold it there. Bounce the bike and read it again to be sure.", read, expected)
	case visit.Contradictory:
		say("read_again", "The readings contradict each other: no load explains them all. Read the ring again before anything is changed.")
	case visit.Unexplained:
		say("unexplained", "The ring stands at %s, not at %s: something is not as the record has it. Any one of these explains it; look at them before you trust the setting.", read, expected)
		for i, e := range a.Report.Explanations {
			if i == mostCauses {
				break
			}
			say("cause_"+string(e.Cause), "%s", e.Text)
		}
	}
}

// mostCauses is how many explanations are put in plain words; all of them are in the report.
const mostCauses = 3

// adviseSetting says what to set for the target.
func (w *work) adviseSetting(a *EndAnswer, say sayer) {
	target := units.Percent(a.Sag)
	findings := a.Set.AtRest().Findings
	if fit.Has(a.Now.Findings, visit.OverMarking) {
		say("over_marking", "The fill is above the marking on the part, %s. Let air out before the bike is ridden.", w.left.Air.MaxFill.Both())
	}
	switch {
	case a.Report != nil && a.Report.Verdict == visit.Contradictory:
	case !a.Change && w.first && a.Report == nil:
	case !a.Change && a.Report == nil && fit.Has(a.Now.Findings, sag.OnTarget):
		say("leave", "Leave it as it is: it sags %s, with %s wanted.", units.Percent(a.Now.Rest.Sag), target)
	case !a.Change && fit.Has(findings, sag.OnTarget):
		say("leave", "Leave it as it is: it sags as wanted, %s, as far as can be told.", target)
	case !a.Change && a.Report != nil && !fit.Has(findings, sag.PreloadAtMin) && !fit.Has(findings, sag.PreloadAtMax) && !fit.Has(findings, sag.FillAtMax):
		say("leave", "Leave it as it is: as far as the ring can tell it sags as wanted, %s.", target)
	case a.Change && a.Set.Coil != nil:
		say("set_preload", "For a sag of %s set %s, %s%s.", target, a.Set.Text(), a.Set.Coil.PreloadChange.Both().Signed(), turnsText(a.Set.Coil.TurnsChange))
	case a.Change:
		say("set_fill", "For a sag of %s set the fill to %s, %s.", target, a.Set.Air.Fill.Both(), a.Set.Air.FillChange.Both().Signed())
	}
	switch {
	case fit.Has(findings, sag.FillAtMax):
		say("fill_at_max", "The target would need more than the marking permits: stop at the marking.")
	case fit.Has(findings, sag.FillImpossible):
		say("fill_impossible", "No fill above the air around it gives this sag.")
	case fit.Has(findings, sag.PreloadAtMax), fit.Has(findings, sag.PreloadAtMin):
		way := either(fit.Has(findings, sag.PreloadAtMax), "more", "less")
		say("other_rate", "The target would need %s preload than the collar gives. At the preload that is set a spring of %s meets it, in place of %s.", way, a.Set.Coil.NewRate.Both().CustomaryFirst(), (a.Set.Coil.NewRate - a.Set.Coil.RateChange).Both().CustomaryFirst())
	}
}

// adviseRide says what the travel that a ride used says.
func (w *work) adviseRide(a *EndAnswer, say sayer) {
	r := a.Ride
	if r == nil {
		return
	}
	used := units.Percent(r.Used)
	soft := a.Change && harder(a.Set)
	hard := a.Change && !soft
	switch r.Verdict {
	case visit.WellUsed:
		say("well_used", "The ride used %s of the travel: good for the hardest hit of a ride.", used)
		return
	case visit.AllUsed:
		say("all_used", "The ride used all of the travel, a hit as hard as an undamped drop of %s or harder.", rows.Height(r.Drop))
		switch {
		case soft:
			say("sag_first", "It also sags more than wanted: set the sag first, ride the same again and read the ring.")
		case hard:
			say("more_progression", "It sags less than wanted all the same: less fill or preload for the sag needs more force at full travel from somewhere else.")
		}
	case visit.LittleUsed:
		say("little_used", "The ride used %s of the travel, a hit as hard as %s. If that was the hardest ground it is set up for, it is set too hard; if not, leave it.", used, dropText(r.Drop))
		switch {
		case soft:
			say("less_progression", "It sags more than wanted all the same: more fill or preload for the sag needs less force at full travel, fewer spacers where there are any.")
		case hard:
			say("sag_first", "It also sags less than wanted: set the sag first, ride the same again and read the ring.")
		}
	}
	for _, o := range r.Options {
		text := sentence(o.Text())
		text += " Sag " + units.Percent(o.Sag) + "; the same hit would use "
		switch {
		case !(o.Used < 1) && r.Verdict == visit.AllUsed:
			text += "all of the travel"
		case r.Verdict == visit.AllUsed:
			text += "at least " + units.Percent(o.Used)
		default:
			text += units.Percent(o.Used)
		}
		say("option_"+string(o.Adjustment), "%s, and a drop of %s all.", text, rows.Height(o.Reserve))
	}
	if r.Verdict == visit.AllUsed {
		say("damping", "More compression damping takes a part of the hit as well. How much can't be told from a ring: try it a click at a time, with the sag right.")
	} else {
		say("damping", "Less compression damping lets the same hit go further. How much can't be told from a ring: try it a click at a time, with the sag right.")
	}
}

// harder reports whether a correction makes an end harder.
func harder(a visit.Correction) bool {
	if a.Coil != nil {
		return a.Coil.PreloadChange > 0
	}
	return a.Air.FillChange > 0
}

// adiabatic is the exponent of air that exchanges no heat, at low pressure.
const adiabatic = 1.4

// warnings returns what was taken for granted at this end, and what it changes.
func (w *work) warnings(a *EndAnswer) []units.Warning {
	var list []units.Warning
	e := w.End()
	add := func(code, value, format string, args ...any) {
		list = append(list, units.Warning{Code: code, Field: string(w.axle), Value: value, Text: fmt.Sprintf(format, args...)})
	}
	if e.Friction == 0 && a.Report != nil {
		e.Friction = 10 * units.Newton
		if rest, finding, err := e.SettleWithin(a.Load); err == nil && finding == "" {
			off := max(rest.StrokeHigh-rest.Stroke, rest.Stroke-rest.StrokeLow)
			add("friction_unknown", off.String(), "No friction was stated at this end, so the verdict counts the error of the ring alone. Every %s at the spring may hold the ring %s off.", e.Friction.Both(), off.Both())
		}
	}
	air, ok := e.Law.(*airspring.Spring)
	if !ok {
		return list
	}
	gas := air.Spec()
	if !w.weather {
		const warmer = 10 * units.Kelvin
		was := units.Celsius(20)
		if at := w.was.Conditions; at != nil {
			was = at.Temperature
		}
		if warm, err := airspring.SpecAt(gas, was, was+warmer, gas.Ambient); err == nil {
			more := warm.Fill - gas.Fill
			add("weather_unknown", more.String(), "Temperature and altitude of the last visit and of this one are not both known, so the fill is taken as unchanged by the weather. 10 °C warmer adds %s.", more.Both())
		}
	}
	if gas.Exponent = adiabatic; w.left.Air.Exponent == 0 && a.Ride != nil {
		if moving, err := sag.AirEnd(e.Curve, gas); err == nil {
			if reserve, err := moving.Reserve(a.Load); err == nil {
				add("exponent_unknown", reserve.DropHeight.String(), "No exponent was stated, so a hit is reckoned as if the gas had time to cool: a drop of %s uses all of the travel. Without any heat exchange (%.4g) it would take %s.",
					rows.Height(a.Ride.Reserve.DropHeight), adiabatic, rows.Height(reserve.DropHeight))
			}
		}
	}
	return list
}

// turnsText returns a change of preload in turns of the collar behind a comma, if the pitch is known.
func turnsText(turns float64) string {
	return either(turns != 0, fmt.Sprintf(", %+.2f turns", turns), "")
}

// dropText returns the height of a drop that a ride is compared with.
func dropText(height units.Length) string {
	if height < 0 {
		return "letting the load down on it, or less"
	}
	return "an undamped drop of " + rows.Height(height).String()
}

// sentence returns text with a capital and a full stop.
func sentence(text string) string { return strings.ToUpper(text[:1]) + text[1:] + "." }

// either returns one of two texts.
func either(is bool, yes, no string) string {
	if is {
		return yes
	}
	return no
}
