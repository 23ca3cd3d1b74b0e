package main

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"example.com/wheelrate/examples/internal/program"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/units"
)

// wide is the width of the page in columns.
const wide = 80

// page writes lines.
type page struct{ w io.Writer }

func (p page) line(text string) { fmt.Fprintln(p.w, program.Line(strings.TrimRight(text, " "))) }

func (p page) heading(text string) {
	p.line("")
	p.line(text)
	p.line(strings.Repeat("-", utf8.RuneCountInString(text)))
}

// paragraph wraps text with a mark before its first line.
func (p page) paragraph(mark, text string) {
	indent := strings.Repeat(" ", utf8.RuneCountInString(mark))
	line, fresh := mark, true
	for _, word := range strings.Fields(text) {
		if !fresh && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > wide {
			p.line(line)
			line, fresh = indent, true
		}
		if !fresh {
			line += " "
		}
		line, fresh = line+word, false
	}
	p.line(line)
}

// fact is a line of the summary: a label, a metric and a customary reading.
func (p page) fact(label, metric, customary, rest string) {
	p.line("  " + left(label, 30) + left(metric, 14) + left(customary, 13) + rest)
}

func (p page) length(label string, l units.Length, rest string) {
	p.fact(label, mm(l)+" mm", fmt.Sprintf("%.2f in", l.Inches()), rest)
}

func left(text string, width int) string {
	if n := width - utf8.RuneCountInString(text); n > 0 {
		return text + strings.Repeat(" ", n)
	}
	return text + " "
}

func right(text string, width int) string {
	if n := width - utf8.RuneCountInString(text); n > 0 {
		return strings.Repeat(" ", n) + text
	}
	return " " + text
}

// table writes columns, right-aligned, under two lines of heads.
type table struct {
	widths []int
	page
}

func (t table) row(cells ...string) {
	var b strings.Builder
	for i, c := range cells {
		b.WriteString(right(c, t.widths[i]))
	}
	t.line(b.String())
}

func mm(l units.Length) string { return fixed(l.Millimetres(), 1) }

// fixed prints with so many decimals, and no zero with a sign.
func fixed(v float64, decimals int) string {
	text := fmt.Sprintf("%.*f", decimals, v)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return text
}

// centre prints a coordinate of an instant centre, which may be far away.
func centre(l units.Length) string {
	switch {
	case l >= 100*units.Metre:
		return "far"
	case l <= -100*units.Metre:
		return "-far"
	}
	return mm(l)
}

func percent(x float64) string { return fixed(100*x, 1) + " %" }

// title writes what the answer is, and the note of its job if it has one.
func (p page) title(text, note string) {
	p.line(text)
	if note != "" {
		p.paragraph("  ", note)
	}
}

// report writes the whole report.
func (p page) report(b *bench, r *report) {
	p.title("LEVERAGE", r.Note)
	p.summary(b, r)
	p.motion(b, r)
	p.forces(b, r)
	p.drive(b, r)
	p.warnings(r)
	p.reading(b, r)
}

func (p page) warnings(r *report) {
	if len(r.Warnings) > 0 {
		p.heading("WARNINGS")
		for _, x := range r.Warnings {
			p.paragraph("  ! ", x.Text)
		}
	}
}

func (p page) summary(b *bench, r *report) {
	p.heading("IN SHORT")
	p.length("stroke of the shock", r.Stroke, "")
	p.length("vertical travel of the wheel", r.Travel, "")
	g := r.Progression
	ratio := func(v float64) string { return fixed(v, 3) }
	p.fact("mean lever ratio", ratio(r.MeanLeverRatio), "", "travel over stroke")
	p.fact("lever ratio, start to end", ratio(g.Start)+" to "+ratio(g.End), "", "")
	p.fact("  least", ratio(g.Min), "", "at "+mm(r.LeastAt)+" mm of travel")
	p.fact("  greatest", ratio(g.Max), "", "at "+mm(r.GreatestAt)+" mm of travel")
	p.fact("progression", percent(g.Value), "", "(start − end) / start")
	if r.Path != nil {
		p.length("axle path", r.Path.Length, "along its curve")
		p.length("  most backward", r.Path.Backward, "at "+mm(r.Path.BackwardAt)+" mm of travel")
		p.length("  growth from bottom bracket", r.Path.Growth, "at "+mm(r.Path.GrowthAt)+" mm of travel")
	}
	if r.Readings != nil {
		off := fmt.Sprintf("%.2f mm rms", r.Readings.ResidualRMS.Millimetres())
		if e := r.Readings.RatioReadingError; e > 0 {
			off = ratio(e) + " in one"
		}
		p.fact("readings lie off the curve by", off, "", "")
		p.fact("  lever ratio known to", "± "+ratio(r.Readings.LeverRatioError), "", "worst standard error")
	}
	if s := b.in.Spring; s != nil && s.Linear != nil {
		k := s.Linear.Rate
		p.fact("spring", fmt.Sprintf("%.2f N/mm", k.NewtonsPerMillimetre()), fmt.Sprintf("%.1f lbf/in", k.PoundsForcePerInch()),
			"preload "+mm(s.Linear.Preload)+" mm")
	}
	if s := b.in.Spring; s != nil && s.Air != nil {
		p.fact("air spring, filled to", fmt.Sprintf("%.2f bar", s.Air.Fill.Bar()), fmt.Sprintf("%.1f psi", s.Air.Fill.PSI()),
			fmt.Sprintf("exponent %g", s.Air.Exponent))
	}
	if s := r.AtSag; s != nil {
		p.line("")
		p.length("at "+b.sagPercent()+" sag, travel", s.Travel, "stroke "+mm(s.Stroke)+" mm")
		p.fact("  lever ratio", ratio(s.LeverRatio), "", "")
		if f := s.Spring; f != nil {
			p.fact("  wheel force", fixed(f.Wheel.Newtons(), 0)+" N", fixed(f.Wheel.PoundsForce(), 1)+" lbf", "load for this sag")
			p.fact("  wheel rate", fixed(f.WheelRate.NewtonsPerMillimetre(), 2)+" N/mm", fixed(f.WheelRate.PoundsForcePerInch(), 1)+" lbf/in", "")
		}
		if d := s.Drive; d != nil {
			p.fact("  anti-squat", percent(d.AntiSquat), "", "")
			p.fact("  anti-rise", percent(d.AntiRise), "", "")
		}
	}
}

func (p page) motion(b *bench, r *report) {
	p.heading("MOTION")
	if b.kin == nil {
		t := table{[]int{9, 10, 10, 10, 10}, p}
		t.row("stroke", "travel", "", "lever", "slope")
		t.row("mm", "mm", "%", "ratio", "1/m")
		for _, x := range r.Poses {
			t.row(fixed(x.Stroke.Millimetres(), 2), fixed(x.Travel.Millimetres(), 2), percentOf(x.Travel, r.Travel),
				fixed(x.LeverRatio, 4), fixed(x.LeverRatioSlope.PerMetre(), 2))
		}
		return
	}
	t := table{[]int{7, 8, 8, 8, 9, 8, 8, 8, 9, 7}, p}
	t.row("stroke", "travel", "lever", "slope", "axle x", "y", "growth", "path", "centre x", "y")
	t.row("mm", "mm", "ratio", "1/m", "mm", "mm", "mm", "mm", "mm", "mm")
	for _, x := range r.Poses {
		a := x.Axle
		t.row(fixed(x.Stroke.Millimetres(), 2), fixed(x.Travel.Millimetres(), 2), fixed(x.LeverRatio, 4), fixed(x.LeverRatioSlope.PerMetre(), 2),
			mm(a.X), mm(a.Y), fixed(a.Growth.Millimetres(), 2), fixed(a.Path.Millimetres(), 2), centre(a.CentreX), centre(a.CentreY))
	}
}

func percentOf(part, whole units.Length) string { return fixed(100*float64(part/whole), 1) }

func (p page) forces(b *bench, r *report) {
	if b.wheel == nil {
		return
	}
	p.heading("THE SPRING AT THE WHEEL")
	t := table{[]int{9, 8, 13, 13, 11, 13, 11}, p}
	t.row("travel", "", "spring force", "wheel force", "", "wheel rate", "")
	t.row("mm", "%", "N", "N", "lbf", "N/mm", "lbf/in")
	for _, x := range r.Poses {
		f := x.Spring
		t.row(fixed(x.Travel.Millimetres(), 2), percentOf(x.Travel, r.Travel), fixed(f.Spring.Newtons(), 0), fixed(f.Wheel.Newtons(), 1),
			fixed(f.Wheel.PoundsForce(), 1), fixed(f.WheelRate.NewtonsPerMillimetre(), 3), fixed(f.WheelRate.PoundsForcePerInch(), 2))
	}
}

func (p page) drive(b *bench, r *report) {
	if b.drive == nil {
		return
	}
	d := b.in.Drive.Drivetrain
	text := fmt.Sprintf("CHAIN AND BRAKE: %d × %d teeth", d.Chainring, d.Sprocket)
	if d.ChainringOn != "" {
		text += ", chainring on " + d.ChainringOn
	}
	if d.Idler != nil {
		text += fmt.Sprintf(", idler of %d on %s", d.Idler.Teeth, d.Idler.On)
	}
	p.heading(text)
	t := table{[]int{9, 8, 13, 13, 13, 12, 12}, p}
	t.row("travel", "", "anti-squat", "anti-rise", "chain growth", "kickback,", "kickback,")
	t.row("mm", "%", "%", "%", "mm", "held deg", "rolling deg")
	for _, x := range r.Poses {
		d := x.Drive
		t.row(fixed(x.Travel.Millimetres(), 2), percentOf(x.Travel, r.Travel), fixed(100*d.AntiSquat, 1), fixed(100*d.AntiRise, 1),
			fixed(d.ChainGrowth.Millimetres(), 2), fixed(d.KickbackWheelFixed.Degrees(), 2), fixed(d.KickbackWheelRolling.Degrees(), 2))
	}
}

// reading says what the numbers mean, with the ones of this report.
func (p page) reading(b *bench, r *report) {
	p.heading("HOW TO READ IT")
	say := func(text string) { p.paragraph("  * ", text) }
	g := r.Progression
	say(fmt.Sprintf("Lever ratio: at full extension the wheel moves %.2f mm for 1 mm of stroke, at full stroke %.2f mm. "+
		"Slope is its change per metre of stroke. %s", g.Start, g.End, trend(g)))
	if r.Path != nil {
		say("Places are seen from the drive side: x forward and y up from the bottom bracket. Growth is how much farther the axle is from the bottom bracket than at full extension, path the length of its curve so far. The instant centre is the point that the body with the wheel turns about at that moment; \"far\" is over 100 m away.")
	}
	if b.wheel != nil {
		say("Spring at the wheel: force is the spring's divided by the lever ratio. The wheel rate is how much it grows per millimetre of travel: spring rate / ratio² − spring force · slope / ratio³. Friction is not in it.")
	}
	if b.drive != nil {
		say("Anti-squat: 100 % where the chain's pull and the drive force just hold the frame against the load that acceleration moves to the rear; more lifts it, less lets it squat. " + ground(b.in.Drive.Ground) + " A higher mass centre gives less.")
		say("Anti-rise: the same for the rear brake alone; 100 % where braking leaves the rear as it is, less lets it rise.")
		say("Kickback: how far the chain turns the crank back from full extension; held where the wheel does not turn against the frame, rolling where the tyre rolls as the axle moves and the frame goes straight up and down.")
	}
	p.line("")
	p.paragraph("  ", "The formulas and their limits: go doc example.com/wheelrate/linkage, example.com/wheelrate/linkage/mechanism and example.com/wheelrate/linkage/drivetrain.")
}

// trend says in words where a lever ratio goes.
func trend(g linkage.Progression) string {
	switch {
	case math.Abs(g.Value) < 0.01:
		return "From start to end it hardly changes: at the wheel the spring keeps its own character."
	case g.Value > 0:
		return fmt.Sprintf("It falls by %s, so that the wheel gets harder to move than the spring alone would make it.", percent(g.Value))
	default:
		return fmt.Sprintf("It rises by %s, so that the wheel gets easier to move than the spring alone would make it, most of all near full travel.", percent(-g.Value))
	}
}

// ground says which convention the percentages follow.
func ground(g drivetrain.Ground) string {
	if g == drivetrain.GroundFront {
		return "The front stays at full extension, so that the frame tips back as the rear goes down."
	}
	return "The front goes down as far as the rear, so that the frame stays level."
}
