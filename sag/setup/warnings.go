package setup

import (
	"fmt"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// leastShown is the least length that is not printed as 0.0 mm.
const leastShown = 0.05 * units.Millimetre

// warnings returns what a technician must know about one end.
func (e *EndSheet) warnings(end string) []units.Warning {
	var list []units.Warning
	add := func(code, value, limit, format string, args ...any) {
		list = append(list, units.Warning{Code: code, Field: end, Value: value, Limit: limit, Text: fmt.Sprintf(format, args...)})
	}
	found := func(code sag.Finding) bool { return fit.Has(e.Findings(), code) }
	rest := e.Settled()
	switch {
	case rest == nil:
	case found(sag.Collapses):
		add("collapses", units.Percent(rest.Sag), units.Percent(e.TargetSag), "The load takes this end to full travel: nothing here is hard enough.")
	case found(sag.HeldAtTop):
		add("held_at_top", units.Percent(rest.Sag), units.Percent(e.TargetSag), "This end does not sag at all: preload or fill carries the whole load. Nothing here is soft enough.")
	case found(sag.TooSoft):
		sag, target := units.Percent(rest.Sag), units.Percent(e.TargetSag)
		add("sag_over_target", sag, target, "The nearest that can be fitted sags %s, more than the %s wanted.", sag, target)
	case found(sag.TooHard):
		sag, target := units.Percent(rest.Sag), units.Percent(e.TargetSag)
		add("sag_under_target", sag, target, "The nearest that can be fitted sags %s, less than the %s wanted.", sag, target)
	}
	if best := e.Spring(); best != nil {
		need := best.Preload + e.Stroke
		if found(sag.Loose) {
			least := e.options.Spec().Coil.PreloadMin
			add("loose", best.Preload.String(), least.String(), "This spring is solid before it has the collar's least preload, %s: it may come loose at full extension. Do not fit it.", least.Both())
		}
		switch {
		case found(sag.GoesSolid):
			early := (-best.SolidReserve).Both().String()
			if -best.SolidReserve < leastShown {
				early = "less than 0.1 mm"
			}
			add("goes_solid", best.SolidReserve.String(), "0 mm",
				"The spring binds %s before the shock reaches the end of its stroke. Do not fit it: coil-bound, it can break itself or the shock.", early)
		case found(sag.SolidUnknown):
			add("solid_unknown", "", need.String(),
				"Nobody said how far this spring compresses before it is solid. It must be at least preload and stroke together, %s.", need.Both())
		}
	}
	if best := e.Fill(); best != nil {
		if found(sag.FillAtMax) && best.FillWanted == 0 {
			add("fill_at_max", "", best.Fill.String(), "No air spring could hold the fill that the target would need; this sheet stops at the marking.")
		} else if found(sag.FillAtMax) {
			add("fill_at_max", best.FillWanted.String(), best.Fill.String(),
				"The target would need %s, more than the marking permits; this sheet stops at the marking.", best.FillWanted.Both())
		}
		if full := e.Air.FullTravel; full != nil && !full.Reached {
			add("full_travel_unreached", fmt.Sprintf("%.1f", full.Given), fmt.Sprintf("%.1f", full.Wanted),
				"At full travel this end pushes with %.1f × its load, not the %.1f × asked for: with the spacers that fit it can be from %.1f × to %.1f ×.", full.Given, full.Wanted, full.Least, full.Most)
		}
		if air, ok := e.End().Law.(*airspring.Spring); ok && air.RestTravel() >= leastShown {
			add("pulls_in", air.RestTravel().String(), "0 mm",
				"With nobody on it the negative chamber pulls this end in by %s. Count travel and sag from full extension, not from where it stands.", air.RestTravel().Both())
		}
	}
	if found(sag.FillImpossible) {
		add("fill_impossible", "", "", "No fill above ambient meets this target.")
	}
	if e.Gauge != nil {
		e.gaugeWarnings(found, add)
	}
	if e.State == nil {
		return list
	}
	if !(e.Rest.WheelRate > 0) {
		add("rate_not_positive", e.Rest.WheelRate.String(), "0 N/mm",
			"At this sag the lever ratio rises faster than the spring hardens: the wheel has no stable rest here.")
	}
	switch {
	case !(e.MinWheelRate > 0):
		add("wheel_rate_negative", e.MinWheelRate.String(), "0 N/mm",
			"At %s of wheel travel this end pushes back less the further it goes: the lever ratio rises faster than the spring hardens. It drops through there.", e.MinRateTravel.Both())
	case e.MinRateTravel > e.Rest.Travel && e.MinWheelRate < units.Stiffness((1-fallsBy)*e.ownFall())*e.Rest.WheelRate:
		add("wheel_rate_falls", e.MinWheelRate.String(), e.Rest.WheelRate.String(),
			"Past the sag the linkage makes this end softer: from %s to %s at %s of wheel travel.", e.Rest.WheelRate.Both(), e.MinWheelRate.Both(), e.MinRateTravel.Both())
	}
	if l := e.Landing; l != nil && l.Bottoms {
		add("drop_bottoms", l.EnergyLeft.String(), "0 J",
			"The drop asked for uses up all the travel of this end, with %s left for the stop.", l.EnergyLeft.Both())
	}
	if !(e.Reserve.DropHeight > 0) {
		need := units.Energy(float64(e.Load) * float64(e.Travel))
		add("bottoms_easily", e.Reserve.Energy.String(), need.String(),
			"Undamped, letting the load down on this end from full extension, without any drop, uses up all of its travel.")
	}
	return list
}

// ownFall returns the spring's own rate where the wheel rate is least over that at the sag: air falls by itself.
func (e *EndSheet) ownFall() float64 {
	return min(1, float64(e.End().Law.Rate(e.Curve().StrokeAt(e.MinRateTravel))/e.Rest.SpringRate))
}
