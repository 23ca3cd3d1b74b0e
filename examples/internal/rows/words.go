package rows

import (
	"cmp"
	"fmt"
	"strings"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// sagInShort returns a sag and where the ring is then.
func (e end) sagInShort(sag float64, stroke units.Length) string {
	return fmt.Sprintf("sag %s = %s %s", units.Percent(sag), stroke.Both(), e.Along())
}

// inShort returns what to set at one end, in one line.
func (e end) inShort() string {
	r := e.Settled()
	if e.Gauge != nil && (r == nil || !e.Gauge.Answer) {
		return e.stepInShort()
	}
	text := e.sagInShort(r.Sag, r.Stroke)
	switch best, fill := e.Spring(), e.Fill(); {
	case e.Gauge != nil:
		return fmt.Sprintf("fill %s, %s", e.Gauge.Fill.Both(), text)
	case best != nil:
		preload := best.Preload.Both()
		set := either(best.Turns > 0, preload.Metric+" = "+turns(best.Turns), preload.String())
		if len(best.PreloadSpacers) > 0 {
			set = preload.Metric + " = " + strings.Join(preloadParts(best), " and ")
		}
		return fmt.Sprintf("spring %s, preload %s, %s", named(best, best.Rate.Both().CustomaryFirst()), set, text)
	case fill != nil:
		return fmt.Sprintf("fill %s, %s, %s", fill.Fill.Both(), counted(float64(fill.Spacers), "spacer"), text)
	}
	return text
}

// named returns the name of a spring: its rate, or what it is if its rate varies.
func named(c *fit.CoilCandidate, rate string) string { return either(c.Law == "", rate, c.Law) }

// beside describes the spring of the shelf next to the target on one side, which may be nil.
func beside(c *fit.CoilCandidate, side string) string {
	if c == nil {
		return "Nothing on the shelf is " + side + " than the spring exactly on target."
	}
	by := units.Percent(max(c.Miss, -c.Miss))
	miss := either(by == units.Percent(0), "as wanted", by+either(c.Miss > 0, " more", " less")+" than wanted")
	return fmt.Sprintf("The %s, %s at %s of preload: sag %s, %s; %s (%.1f × the load) at full travel; %s.",
		side, named(c, c.Rate.Both().Customary), c.Preload.Both().Metric, units.Percent(c.Rest.Sag), miss,
		c.FullForce.Both().Metric, c.FullRatio, c.Rest.Frequency.Both())
}

// sure adds how well the answers are known, and what decides between springs.
func sure(l *list, b *certainty.Budget) {
	l.at(Sure, "")
	l.say("meaning", "", "One standard deviation, from what was stated of the inputs; about one time in three the truth is farther off. Beside it the input that matters most.")
	for axle, e := range sides(b.Front, b.Rear) {
		l.end = axle
		give(l, "ideal_rate", "exact spring", e.IdealRate, units.Stiffness.Both)
		give(l, "fill_wanted", "exact fill", e.FillWanted, units.GaugePressure.Both)
		give(l, "sag", "sag at the wheel", e.Sag, percent)
		if c := b.Coupled; c != nil {
			give(l, "coupled_sag", "settled together", map[sag.Axle]*certainty.Answer[float64]{sag.Front: c.FrontSag, sag.Rear: c.RearSag}[axle], percent)
		}
		give(l, "stroke_reading", "ring", e.StrokeReading, units.Length.Both)
		give(l, "fast_frequency", "bounce frequency", e.FastFrequency, units.Frequency.Both)
		give(l, "landing_used", "travel on landing", e.LandingUsed, percent)
		give(l, "landing_peak_force", "force on landing", e.LandingPeakForce, units.Force.Both)
		for _, r := range e.Rivals {
			if _, again := words(r.Input); r.Probability >= 0.005 {
				l.say("rival", "", fmt.Sprintf("With a probability of %.0f %% the %s spring would be the right one instead of %s. What decides between them: %s.",
					100*r.Probability, r.Rate.Both().Customary, r.Recommended.Both().Customary, again))
			}
		}
	}
	l.end = ""
	if c := b.Coupled; c != nil {
		give(l, "pitch", "pitch of the frame", c.Pitch, units.Angle.Both)
		give(l, "rear_share", "share on the rear", c.RearShare, percent)
		give(l, "wheelbase", "wheelbase", c.Wheelbase, units.Length.Both)
		give(l, "head_angle", "head angle", c.HeadAngle, units.Angle.Both)
		give(l, "trail", "trail", c.Trail, units.Length.Both)
		give(l, "bottom_bracket_height", "bottom bracket", c.BottomBracketHeight, units.Length.Both)
	}
	for _, not := range b.NotUsed {
		l.say("not_used", "", "Not used: the uncertainty stated for "+plain(not.Input)+", because "+not.Reason+".")
	}
	var exact []string
	for _, name := range b.Exact {
		exact = append(exact, plain(name))
	}
	l.when(exact != nil).say("exact", "", "Taken as exactly known, nobody having said otherwise: "+strings.Join(exact, ", ")+".")
}

func percent(x float64) units.Dual { return metric(units.Percent(x)) }

// give adds an answer, if there is one, with its uncertainty and the input it mostly comes from.
func give[Q ~float64](l *list, key, label string, a *certainty.Answer[Q], text func(Q) units.Dual) {
	if a != nil {
		l.row(key, label, text(a.Value).PlusMinus(text(a.Uncertainty)), plain(a.Dominant), a.Value, a.Uncertainty)
	}
}

// inputs are the words for inputs, and what to do where one decides between springs. Empty words are
// made from the name.
var inputs = map[string]struct{ plain, again string }{
	"":               {"", "nothing that was stated"},
	"rider_mass":     {"the rider's mass", "weigh the rider again"},
	"bike_mass":      {"the bike's mass", "weigh the bike again"},
	"rear_share":     {"the share on the rear", "weigh both wheels again"},
	"front_scale":    {"", "weigh both wheels again"},
	"rear_scale":     {"", "weigh both wheels again"},
	"spring_rate":    {"spring rates", "measure the two springs"},
	"table_travel":   {"travel readings", "read the END table's travels again, or take them as measured"},
	"reading":        {"reading of the ring", ""},
	"gauge.readings": {"readings of gauge and ring", ""},
}

// words returns the words for an input, such as "rear spring rates" for rear.spring_rate, and what to
// do where it decides between springs.
func words(input string) (plain, again string) {
	dot := strings.Index(input, ".") + 1
	end, name := input[:max(dot-1, 0)], input[dot:]
	w := inputs[name]
	plain = strings.TrimSpace(end + " " + cmp.Or(w.plain, strings.ReplaceAll(name, "_", " ")))
	return plain, cmp.Or(strings.Replace(w.again, "END", end, 1), "measure "+plain+" again")
}

func plain(input string) string {
	text, _ := words(input)
	return text
}

var found = map[sag.Finding]string{
	sag.OnTarget: "on target", sag.TooSoft: "too soft", sag.TooHard: "too hard",
	sag.PreloadAtMax: "wants more preload than the collar gives", sag.PreloadAtMin: "wants less preload than the collar gives",
	sag.Loose: "loose: less preload than the collar's least", sag.GoesSolid: "goes solid", sag.SolidUnknown: "solid travel unknown",
	sag.HeldAtTop: "does not sag", sag.Collapses: "goes to full travel",
	sag.FillAtMax: "stopped at the marking", sag.FillImpossible: "no fill does it",
	sag.NextReading: "a step: read the ring with it", sag.ReadingsDisagree: "readings disagree",
	sag.BoreDiffers:   "the readings give another bore",
	sag.OutOfGeometry: "the spacers leave too little chamber", sag.NearestEnd: "nearest to the full-travel force",
	sag.FullOutOfReach: "the full-travel force asked for is out of reach",
}

// Findings returns the words for a list of findings, such as "too soft, goes solid". An unknown
// finding is given as its code.
func Findings(list []sag.Finding) string {
	parts := make([]string, len(list))
	for i, f := range list {
		parts[i] = cmp.Or(found[f], string(f))
	}
	return strings.Join(parts, ", ")
}

// behind are the words for why a spring ranks behind the one before where the findings don't say it.
var behind = map[fit.Reason]string{
	fit.RankedFartherRate: "; farther from the exact rate", fit.RankedLessLeft: "; leaves less at full travel",
}

// Ranked returns the findings about a spring of the shelf as [Findings] does, followed by why it
// ranks behind the one before if they don't say it, such as "farther from the exact rate".
func Ranked(c *fit.CoilCandidate) string {
	return either(c.Law == "", "", c.Law+": ") + Findings(c.Findings) + behind[c.Reason]
}
