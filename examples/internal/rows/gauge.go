package rows

import (
	"fmt"

	"example.com/wheelrate/airspring"
)

// reasons are the words for what a fill from readings of gauge and ring is based on.
var reasons = map[airspring.StepReason]string{
	airspring.StepCalibrated: "from all readings",
	airspring.StepSameStroke: "a reading has this very stroke",
	airspring.StepBetween:    "between the readings on both sides of the target",
	airspring.StepBeyond:     "beyond the readings, in line with two of them",
	airspring.StepOne:        "from one reading, by a rule",
}

// stepInShort returns what to do next at an end whose readings don't tell the answer yet.
func (e end) stepInShort() string {
	g := e.Gauge
	format := "next fill %s, a step and not the answer: read the ring again; the target is %s"
	switch {
	case g.Fill == 0:
		format = "no fill is so low that it gives %[2]s"
	case g.AtMarking:
		format = "fill %s, the most that may be set: it will sag more than the target, %s"
	case g.Answer:
		format = "fill %s, %s"
	}
	return fmt.Sprintf(format, g.Fill.Both(), e.sagInShort(e.TargetSag, g.Stroke))
}

// fitGauge adds the fill that the readings of gauge and ring give, and how well they tell it.
func (e end) fitGauge(l *list) {
	g := e.Gauge
	if g == nil {
		return
	}
	l.when(g.Fill > 0).add("fill", either(g.Answer || g.AtMarking, "fill at full extension", "fill to try next"), g.Fill, reasons[g.Reason])
	l.when(g.AtMarking && g.FillWanted > 0).add("fill_wanted", "  exactly on target", g.FillWanted, "more than may be set")
	l.when(g.StandardError > 0).add("fill_error", "  standard error", g.StandardError, "from those of ring and gauge")
	switch low, high := g.Bounds.Low, g.Bounds.High; {
	case low != nil && high != nil:
		l.row("fill_bounds", "  the readings allow", low.Both().Through(high.Both()), "for the target", *low, *high)
	case low != nil:
		l.add("fill_bounds", "  at least", *low, "for the target")
	case high != nil:
		l.add("fill_bounds", "  at most", *high, "for the target")
	}
	l.add("ambient", "  above the air around", g.Ambient, "")
	if c := g.Chambers; c != nil {
		l.add("bore", "bore", c.Bore, "as the readings give it")
		l.add("positive_volume", "positive chamber", c.PositiveVolume, "at full extension, less oil and spacers")
		l.when(c.NegativeVolume > 0).add("negative_volume", "negative chamber", c.NegativeVolume, "at full extension")
	}
}
