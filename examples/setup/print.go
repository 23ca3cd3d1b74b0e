package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// The sheet is laid out for a page of 80 columns: a label, the metric reading,
// the customary reading, and what belongs to both.
const (
	wide       = 80
	labelWidth = 26
	cellWidth  = 17
)

// page writes the sheet's lines.
type page struct{ w io.Writer }

func (p page) line(text string) { fmt.Fprintln(p.w, strings.TrimRight(text, " ")) }

func (p page) heading(text string) {
	p.line("")
	p.line(text)
	p.line(strings.Repeat("-", utf8.RuneCountInString(text)))
}

func (p page) row(label string, r reading, both string) {
	p.line("    " + pad(label, labelWidth) + pad(r.metric, cellWidth) + pad(r.customary, cellWidth) + both)
}

// paragraph wraps text with a mark before its first line.
func (p page) paragraph(mark, text string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(mark))
	line := mark
	for _, word := range strings.Fields(text) {
		if line != mark && line != indent && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > wide {
			p.line(line)
			line = indent
		}
		if line != mark && line != indent {
			line += " "
		}
		line += word
	}
	p.line(line)
}

func pad(text string, width int) string {
	if n := width - utf8.RuneCountInString(text); n > 0 {
		return text + strings.Repeat(" ", n)
	}
	return text + " "
}

// reading is one quantity in both systems, at the digits a workshop can read.
type reading struct{ metric, customary string }

func read(metric float64, metricForm string, customary float64, customaryForm string) reading {
	return reading{fmt.Sprintf(metricForm, metric), fmt.Sprintf(customaryForm, customary)}
}

func length(l units.Length) reading {
	return read(l.Millimetres(), "%.1f mm", l.Inches(), "%.2f in")
}

func height(l units.Length) reading {
	return read(l.Metres(), "%.2f m", l.Feet(), "%.1f ft")
}

func force(f units.Force) reading {
	return read(f.Newtons(), "%.0f N", f.PoundsForce(), "%.1f lbf")
}

func rate(k units.Stiffness) reading {
	return read(k.NewtonsPerMillimetre(), "%.2f N/mm", k.PoundsForcePerInch(), "%.0f lbf/in")
}

func mass(m units.Mass) reading {
	return read(m.Kilograms(), "%.1f kg", m.Pounds(), "%.1f lb")
}

func fill(p units.GaugePressure) reading {
	return read(p.Bar(), "%.2f bar", p.PSI(), "%.1f psi")
}

func energy(e units.Energy) reading {
	return read(e.Joules(), "%.0f J", e.FootPoundsForce(), "%.0f ft·lbf")
}

// through is a band from one reading to another, with the unit said once.
func (r reading) through(hi reading) reading {
	return reading{bare(r.metric) + "–" + hi.metric, bare(r.customary) + "–" + hi.customary}
}

// bare is a reading's number without its unit.
func bare(text string) string { return text[:strings.IndexByte(text, ' ')] }

func percent(x float64) string { return fmt.Sprintf("%.1f %%", 100*x) }

// printSheet writes the whole sheet.
func printSheet(w io.Writer, job setup.Job, s *setup.Sheet) {
	p := page{w}
	p.line("SET-UP SHEET")
	if s.Note != "" {
		p.paragraph("  ", s.Note)
	}

	p.heading("SET IT TO")
	p.paragraph("  front: ", inShort(&s.Front))
	p.paragraph("  rear:  ", inShort(&s.Rear))

	if len(s.Warnings) > 0 {
		p.heading("WARNINGS")
		for _, x := range s.Warnings {
			p.paragraph("  ! "+x.Field+": ", x.Text)
		}
	}

	p.heading("LOADS")
	p.row("rider, dressed to ride", mass(s.RiderMass), "")
	p.row("bike", mass(job.Masses.BikeMass), "")
	from := ""
	if job.Masses.FrontScale > 0 {
		from = "by the scales"
	}
	p.row("share on the rear wheel", reading{metric: percent(s.Loads.RearShare)}, from)
	p.row("front wheel on the ground", force(s.Loads.FrontWheel), "")
	p.row("  of it on the spring", force(s.Loads.Front), "")
	p.row("rear wheel on the ground", force(s.Loads.RearWheel), "")
	p.row("  of it on the spring", force(s.Loads.Rear), "")

	p.end("FRONT", &s.Front)
	p.end("REAR", &s.Rear)

	p.standing(s)
	p.sure(s)

	p.leftOut(s.LeftOut)
	p.heading("CAUTIONS")
	for _, c := range s.Cautions {
		p.paragraph("  * ", c.Text)
	}
}

// end writes what concerns one end of the bike.
func (p page) end(name string, e *setup.EndSheet) {
	kind, along := "coil spring", where(e)
	if e.Air != nil {
		kind = "air spring"
	}
	p.heading(name + ": " + kind)
	p.line("  Fit")
	if e.Coil != nil {
		p.coil(e.Coil)
	} else {
		p.air(e.Air)
	}

	p.line("")
	p.line("  Expect")
	p.row("sag at the wheel", length(e.Rest.Travel), percent(e.Rest.Sag)+" of "+one(e.Travel))
	p.row("sag "+along, length(e.Rest.Stroke), percent(e.Rest.ShockSag)+" of "+one(e.Stroke))
	if e.Friction > 0 {
		stated := force(e.Friction)
		p.row("  friction may hold it at", length(e.Rest.TravelLow).through(length(e.Rest.TravelHigh)),
			"for the "+stated.metric+" ("+stated.customary+") stated")
	} else {
		p.row("  friction", reading{metric: "not stated"}, "so no band is given")
	}
	p.row("lever ratio", reading{metric: fmt.Sprintf("%.3f", e.Rest.LeverRatio)}, fmt.Sprintf("from %.3f to %.3f", e.LeverRatio.Start, e.LeverRatio.End))
	slow := ""
	if e.Air != nil {
		slow = "slow: gas at the temperature around"
	}
	p.row("spring rate at sag", rate(e.Rest.SpringRate), slow)
	p.row("wheel rate at sag", rate(e.Rest.WheelRate), slow)
	if e.Air != nil {
		p.row("  over a fast stroke", rate(e.FastWheelRate), fmt.Sprintf("fast: exponent %g", e.Air.Exponent))
	}
	p.row("bounce frequency", read(e.FastFrequency.Hertz(), "%.2f Hz", 60*e.FastFrequency.Hertz(), "%.0f per min"), "undamped")

	p.line("")
	p.line("  Full travel")
	p.row("force at the wheel", force(e.Reserve.FullForce), fmt.Sprintf("%.1f × the load on the spring", e.FullRatio))
	p.row("travel left from sag", length(e.TravelLeft), "")
	p.row("energy left from sag", energy(e.EnergyLeft), "undamped")
	if e.Reserve.DropHeight > 0 {
		p.row("drop that uses it all", height(e.Reserve.DropHeight), "undamped: not a promise")
	}

	p.drop(e)

	p.line("")
	p.line("  Measure to confirm")
	for _, m := range e.Measure {
		label, from := "ring "+along, "from full extension"
		if m.What == "wheel" {
			label, from = "axle height, vertical", "extended less loaded"
		}
		p.row(label, length(m.Expected), from)
		if m.Low != m.High {
			p.row("  friction allows", length(m.Low).through(length(m.High)), "")
		}
	}
}

// coil writes the recommended spring and the others of the shelf.
func (p page) coil(a *fit.CoilAnswer) {
	best := a.Candidates[0]
	p.row("spring", rate(best.Rate), "")
	p.row("  exactly on target", rate(a.IdealRate), "at the collar's least preload")
	turned := ""
	if best.Turns > 0 {
		turned = turns(best.Turns) + " of the collar from loose"
	}
	p.row("preload", length(best.Preload), turned)
	if best.SolidKnown {
		p.row("left before solid", length(best.SolidReserve), "at full stroke")
	}
	p.line("")
	p.line("  On the shelf")
	p.line("    " + pad("N/mm", 9) + pad("lbf/in", 8) + pad("preload", 10) + pad("sag", 9) + "findings")
	for i, c := range a.Candidates {
		mark := "    "
		if i == 0 {
			mark = "  > "
		}
		p.line(mark + pad(fmt.Sprintf("%.2f", c.Rate.NewtonsPerMillimetre()), 9) +
			pad(fmt.Sprintf("%.0f", c.Rate.PoundsForcePerInch()), 8) +
			pad(one(c.Preload), 10) + pad(percent(c.Rest.Sag), 9) + words(c.Findings) + behind(c.Reason))
	}
	p.between(a)
}

// air writes the recommended fill and the other counts of spacers.
func (p page) air(a *fit.AirAnswer) {
	best := a.Options[0]
	change := ""
	if a.ChangeKnown {
		change = fmt.Sprintf("change by %+.2f bar (%+.1f psi)", a.Change.Bar(), a.Change.PSI())
	}
	p.row("fill at full extension", fill(best.Fill), change)
	p.row("  above the air around", read(a.Ambient.Kilopascals(), "%.1f kPa(a)", a.Ambient.PSI(), "%.2f psia"), "")
	spacers := "as fitted"
	switch {
	case a.SpacerChange > 0:
		spacers = fmt.Sprintf("add %d", a.SpacerChange)
	case a.SpacerChange < 0:
		spacers = fmt.Sprintf("take out %d", -a.SpacerChange)
	}
	p.row("spacers", reading{metric: fmt.Sprint(best.Spacers)}, spacers)
	if len(a.Options) < 2 {
		return
	}
	p.line("")
	p.line("  With other spacers")
	p.line("    " + pad("spacers", 9) + pad("fill", 22) + pad("sag", 9) + pad("full ×", 9) + "findings")
	for i, o := range a.Options {
		mark := "    "
		if i == 0 {
			mark = "  > "
		}
		r := fill(o.Fill)
		p.line(mark + pad(fmt.Sprint(o.Spacers), 9) + pad(r.metric+" / "+r.customary, 22) + pad(percent(o.Rest.Sag), 9) +
			pad(fmt.Sprintf("%.2f", o.FullRatio), 9) + words(o.Findings))
	}
	if per := a.FillPerSpacer; per != 0 {
		verb := "raises"
		if per < 0 {
			verb = "lowers"
		}
		p.line(fmt.Sprintf("    Each spacer more %s the fill for the same sag by %.2f bar (%.1f psi).", verb, math.Abs(per.Bar()), math.Abs(per.PSI())))
	}
}

func one(l units.Length) string { return length(l).metric }

// inShort is what a technician needs at a glance.
func inShort(e *setup.EndSheet) string {
	ring := length(e.Rest.Stroke)
	text := fmt.Sprintf("sag %s = %s (%s) %s", percent(e.Rest.Sag), ring.metric, ring.customary, where(e))
	if e.Coil != nil {
		c := e.Coil.Candidates[0]
		k, p := rate(c.Rate), length(c.Preload)
		preload := fmt.Sprintf("preload %s (%s)", p.metric, p.customary)
		if c.Turns > 0 {
			preload = fmt.Sprintf("preload %s = %s", p.metric, turns(c.Turns))
		}
		return fmt.Sprintf("spring %s (%s), %s, %s", k.customary, k.metric, preload, text)
	}
	o := e.Air.Options[0]
	f := fill(o.Fill)
	return fmt.Sprintf("fill %s (%s), %s, %s", f.customary, f.metric, spacerCount(o.Spacers), text)
}

// where says along what the stroke of an end is measured.
func where(e *setup.EndSheet) string {
	if e.LeverRatio.Max < 1 {
		return "along the stanchion"
	}
	return "at the shock"
}

func turns(n float64) string { return fmt.Sprintf("%g turn%s", math.Round(n*100)/100, plural(n)) }

func spacerCount(n int) string { return fmt.Sprintf("%d spacer%s", n, plural(float64(n))) }

func plural(n float64) string {
	if n == 1 {
		return ""
	}
	return "s"
}

// words turns findings into words for people.
func words(list []sag.Finding) string {
	said := map[sag.Finding]string{
		sag.OnTarget: "on target", sag.TooSoft: "too soft", sag.TooHard: "too hard",
		sag.PreloadAtMax: "wants more preload than the collar gives", sag.PreloadAtMin: "wants less preload than the collar gives",
		sag.GoesSolid: "goes solid", sag.SolidUnknown: "solid travel unknown",
		sag.HeldAtTop: "does not sag", sag.Collapses: "goes to full travel",
		sag.FillAtMax: "stopped at the marking", sag.FillImpossible: "no fill does it",
		sag.NearestEnd: "nearest to the full-travel force",
	}
	parts := make([]string, 0, len(list))
	for _, f := range list {
		if text, ok := said[f]; ok {
			parts = append(parts, text)
		} else {
			parts = append(parts, string(f))
		}
	}
	return strings.Join(parts, ", ")
}
