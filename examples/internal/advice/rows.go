package advice

import (
	"fmt"

	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// Rows returns what a visit comes to as text for people, in reading order: what to do at each end in
// plain words, the warnings, then the numbers behind it end by end, and the cautions. A program that
// shows a visit should show them all.
func (a *Answer) Rows() []rows.Row {
	l := &list{}
	ends := []struct {
		axle sag.Axle
		*EndAnswer
	}{{sag.Front, a.Front}, {sag.Rear, a.Rear}}
	for _, e := range ends {
		if e.EndAnswer == nil {
			continue
		}
		for _, one := range e.Advice {
			l.at(rows.Advice, e.axle)
			l.say(one.Code, one.Text)
		}
	}
	for _, w := range a.Warnings {
		l.at(rows.Warnings, "")
		if axle := sag.Axle(w.Field); axle == sag.Front || axle == sag.Rear {
			l.end = axle
		}
		l.say(w.Code, w.Text)
	}
	for _, e := range ends {
		if e.EndAnswer != nil {
			l.end = e.axle
			e.rows(l)
		}
	}
	l.at(rows.Cautions, "")
	for _, c := range a.Cautions {
		l.say(c.Code, c.Text)
	}
	return l.rows
}

// list is the rows so far, and the section and the end of the next ones.
type list struct {
	rows    []rows.Row
	section rows.Section
	end     sag.Axle
}

func (l *list) at(section rows.Section, end sag.Axle) { l.section, l.end = section, end }

func (l *list) row(key, label string, text units.Dual, note string, values ...any) {
	l.rows = append(l.rows, rows.Row{Section: l.section, End: l.end, Key: key, Label: label, Values: values, Dual: text, Note: note})
}

func (l *list) say(key, text string) { l.row(key, "", units.Dual{}, text) }

func (l *list) add(key, label string, q interface{ Both() units.Dual }, note string) {
	l.row(key, label, q.Both(), note, q)
}

// part makes the last row a detail of the one before it.
func (l *list) part() { l.rows[len(l.rows)-1].Part = true }

func (l *list) percent(key, label string, x float64, note string) {
	l.row(key, label, units.Dual{Metric: units.Percent(x)}, note, x)
}

// rows adds the numbers of an end.
func (a *EndAnswer) rows(l *list) {
	l.section = rows.Read
	l.add("expected", "ring expected", a.Now.Rest.Stroke, "sag "+units.Percent(a.Now.Rest.Sag))
	if r := a.Now.Rest; r.StrokeLow != r.StrokeHigh {
		l.row("expected_band", "friction allows", r.StrokeLow.Both().Through(r.StrokeHigh.Both()), "", r.StrokeLow, r.StrokeHigh)
		l.part()
	}
	if a.Now.Fill > 0 {
		l.add("fill", "fill in it", a.Now.Fill, "at full extension, as gauge pressure")
		if a.FillChange != 0 {
			l.row("fill_change", "more than was left", a.FillChange.Both().Signed(), "", a.FillChange)
			l.part()
		}
	}
	if a.Report != nil {
		for i, r := range a.Report.Readings {
			l.add(fmt.Sprintf("ring_%d", i+1), "ring read", r.Stroke, "sag "+units.Percent(r.Sag)+either(r.Outlier, ", far from the other readings", ""))
		}
		e := a.Report.Estimate
		l.add("predicted_load", "sprung load predicted", a.Report.Predicted, "")
		l.row("implied_load", "sprung load by the ring", e.Load.Both().PlusMinus(e.StatedError.Both()), "", e.Load, e.StatedError)
		if e.Low <= e.High {
			l.row("implied_band", "with friction", e.Low.Both().Through(e.High.Both()), "", e.Low, e.High)
			l.part()
		}
		for _, x := range a.Report.Explanations {
			l.say("cause_"+string(x.Cause), x.Text)
		}
	}
	l.section = rows.Adjust
	l.percent("target_sag", "target sag", a.Sag, "")
	if c := a.Set.Coil; c != nil {
		l.add("preload", "preload", c.Preload, either(len(c.PreloadSpacers) > 0, a.Set.Text(), either(c.Turns > 0, fmt.Sprintf("%.2f turns from free", c.Turns), "")))
		if c.PreloadChange != 0 {
			l.row("preload_change", "change", c.PreloadChange.Both().Signed(), either(c.TurnsChange != 0, fmt.Sprintf("%+.2f turns", c.TurnsChange), ""), c.PreloadChange)
			l.part()
		}
		l.add("new_rate", "or a spring of", c.NewRate, "at the preload that is set")
	} else {
		l.add("fill_set", "fill", a.Set.Air.Fill, "")
		if a.Set.Air.FillChange != 0 {
			l.row("fill_set_change", "change", a.Set.Air.FillChange.Both().Signed(), "", a.Set.Air.FillChange)
			l.part()
		}
	}
	l.add("ring_set", "ring then", a.Set.AtRest().Rest.Stroke, "sag "+units.Percent(a.Set.AtRest().Rest.Sag))
	if a.Ride != nil {
		l.ride(a.Ride)
	}
	if a.Plan != nil {
		l.plan(a.Plan)
	}
}

// ride adds the numbers of a ride.
func (l *list) ride(r *visit.RideReport) {
	l.section = rows.Ridden
	l.add("travel", "wheel travel used", r.Travel, units.Percent(r.Used))
	l.row("used_band", "within the ring's error", units.Dual{Metric: units.Percent(r.UsedLow) + " to " + units.Percent(r.UsedHigh)}, "", r.UsedLow, r.UsedHigh)
	l.part()
	if r.Drop >= 0 {
		l.row("drop", "as an undamped drop of", rows.Height(r.Drop), either(r.Verdict == visit.AllUsed, "or higher", ""), r.Drop)
	}
	l.row("reserve", "all is used by one of", rows.Height(r.Reserve.DropHeight), "", r.Reserve.DropHeight)
	if r.Landing != nil {
		l.percent("landing", "the job's drop uses", r.Landing.Used, rows.Height(r.Landing.Height).String()+" with the job's damping")
	}
	for i, o := range r.Options {
		used := either(r.Verdict == visit.AllUsed && o.Used < 1, "at least ", "") + units.Percent(o.Used)
		l.row(fmt.Sprintf("option_%d", i+1), "the same hit would use", units.Dual{Metric: used}, sentence(o.Text())+" Sag "+units.Percent(o.Sag)+".", o.Used)
	}
}

// plan adds the trials of a plan.
func (l *list) plan(p *visit.Plan) {
	l.section = rows.Plan
	for _, t := range p.Trials {
		miss := ""
		if list := t.AtRest().Findings; !fit.Has(list, sag.OnTarget) {
			miss = " (" + rows.Findings(list) + ")"
		}
		l.add("trial_"+t.Name, t.Name+", ring at", t.Correction.AtRest().Rest.Stroke, fmt.Sprintf("%s; sag %s%s. %s", t.Text(), units.Percent(t.AtRest().Rest.Sag), miss, t.Feel))
	}
	l.say("next", p.Text)
}
