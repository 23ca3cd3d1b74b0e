package card

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Setting is what to set at one end and what to read there.
type Setting struct {
	Kind         string     // "air spring" or "coil spring"
	Large, Small string     // what to set, in the two systems of units
	More         []string   // beside it, such as the preload
	Ring         units.Dual // where the ring is when it is right; empty where nothing is to be fitted
	Where        string     // how the ring is read, and what friction allows
}

// Long reports whether Large is more than a number with its unit.
func (s Setting) Long() bool { return utf8.RuneCountInString(s.Large) > 12 }

// Settings returns what to set at the front and at the rear of a sheet, nil for an end that it lacks.
func Settings(s *setup.Sheet) (front, rear *Setting) {
	of := map[sag.Axle]*Setting{}
	for _, e := range ends(s) {
		of[e.Axle] = &e.Setting
	}
	return of[sag.Front], of[sag.Rear]
}

// end is what a card says of one end.
type end struct {
	setup.SheetEnd
	Setting
	spec   fit.Spec // the zero Spec where the sheet does not know it
	warn   []string
	is     map[string]bool   // the words of [step.when] that are true
	say    map[string]string // what stands for words in braces
	cycle  string            // what a cycle is
	rounds []string          // readings of the gauge after each
}

// ends returns what a card says of the ends of a sheet.
func ends(s *setup.Sheet) (list []end) {
	all, fitted := rows.Of(s), s.Setup()
	for _, one := range s.Ends() {
		e := end{
			SheetEnd: one, warn: warnings(s, one.Axle),
			is:  map[string]bool{"fork": one.LeverRatio.Max <= 1, "first": len(list) == 0},
			say: map[string]string{},
		}
		if own := map[sag.Axle]*certainty.EndSetup{sag.Front: fitted.Front, sag.Rear: fitted.Rear}[one.Axle]; own != nil {
			e.spec = own.Spec
		}
		switch best, fill := e.Spring(), e.Fill(); {
		case best != nil:
			e.coil(best)
		case fill != nil:
			e.air(fill)
		default:
			e.gauge()
		}
		e.measure(rows.Pick(all, rows.Measure, one.Axle))
		if e.is["unfit"] {
			e.is = map[string]bool{"first": e.is["first"], "unfit": true}
			e.Large, e.Small, e.More = "fit nothing", "", []string{"at this end; see the warning"}
			e.Ring, e.Where = units.Dual{}, ""
		}
		list = append(list, e)
	}
	return list
}

// coil tells of a spring with its preload.
func (e *end) coil(best *fit.CoilCandidate) {
	rate := best.Rate.Both()
	e.Kind, e.Large, e.Small = "coil spring", rate.Customary, rate.Metric
	e.say["rate"] = rate.CustomaryFirst()
	if best.Law != "" {
		e.Large, e.Small, e.say["rate"] = best.Law, "", best.Law
	}
	e.is["coil"] = true
	e.is["unfit"] = fit.Has(best.Findings, sag.GoesSolid) || fit.Has(best.Findings, sag.Loose)
	collar := best.CollarPreload.Both()
	e.is["collar"] = e.spec.Coil == nil || e.spec.Coil.PreloadMax > e.spec.Coil.PreloadMin
	e.is["turned"], e.is["slack"] = best.Turns > 0, collar == units.Length(0).Both()
	e.say["collar"], e.say["turns"] = collar.String(), turns(best.Turns)
	preload := "preload " + best.Preload.Both().Metric
	if e.is["collar"] && e.is["turned"] {
		preload += " = " + e.say["turns"]
	}
	var each []string
	for _, one := range best.PreloadSpacers {
		each = append(each, fmt.Sprint(math.Round(100*one.Millimetres())/100))
	}
	if each != nil {
		e.is["preloaded"], e.say["stack"] = true, strings.Join(each, " + ")+" mm"
		preload += ", spacers " + e.say["stack"]
	}
	e.More = []string{preload}
}

// turns returns turns of a collar, which are whole quarters.
func turns(n float64) string { return counted(fmt.Sprint(math.Round(n*100)/100), "turn") }

func counted(n, what string) string {
	if n == "1" {
		return n + " " + what
	}
	return n + " " + what + "s"
}

// air tells of a fill with its spacers.
func (e *end) air(best *fit.AirOption) {
	e.filled(best.Fill)
	if e.Air.ChangeKnown {
		e.is["held"], e.say["held"] = true, (best.Fill - e.Air.Change).Both().String()
	}
	spacers := counted(fmt.Sprint(best.Spacers), "spacer")
	change := e.Air.SpacerChange
	e.is["open"], e.say["spacers"] = change != 0, spacers
	switch {
	case change > 0:
		e.say["change"] = fmt.Sprintf("add %d", change)
	case change < 0:
		e.say["change"] = fmt.Sprintf("take out %d", -change)
	default:
		e.say["change"] = "as fitted"
	}
	if best.Spacers == 0 && change == 0 { // perhaps nobody said how many there are
		spacers = "spacers"
	}
	e.More = []string{spacers + " (" + e.say["change"] + ")"}
	e.is["cycled"] = e.spec.Air == nil || e.spec.Air.NegativeVolume > 0
	if e.Pump == nil {
		return
	}
	e.is["rounds"] = true
	for _, one := range e.Pump.Steps {
		if one.Action == airspring.Cycle {
			e.cycle = strings.TrimPrefix(one.Text, "unscrew the pump and ") // the card says so itself
			e.rounds = append(e.rounds, one.After.Both().String())
		} else if one.Action == airspring.Release {
			e.is["release"] = true
		}
	}
}

// gauge tells of the fill that readings of gauge and ring give.
func (e *end) gauge() {
	g := e.Gauge
	e.filled(g.Fill)
	e.is["cycled"] = e.spec.Gauge == nil || e.spec.Gauge.NegativeChamber == fit.SelfFilling
	switch {
	case g.AtMarking:
		e.More = []string{"the most that may be set"}
	case !g.Answer:
		e.More = []string{"a step: work out the next from fill and ring"}
	}
}

// filled tells of a fill.
func (e *end) filled(fill units.GaugePressure) {
	both := fill.Both()
	e.Kind, e.Large, e.Small = "air spring", both.Metric, both.Customary
	e.is["air"], e.is["unfit"], e.say["fill"] = true, !(fill > 0), both.String()
}

// measure tells what to read at an end, of the rows that say so.
func (e *end) measure(list []rows.Row) {
	for _, r := range list {
		switch r.Key {
		case "stroke":
			e.Ring = r.Dual
			e.Where = e.Along() + " from full extension, sag " + units.Percent(e.sag())
		case "stroke_band":
			e.Where += "; friction allows " + r.Dual.String()
		}
	}
}

// sag returns where the end rests; the target where that is not known.
func (e *end) sag() float64 {
	if rest := e.Settled(); rest != nil {
		return rest.Sag
	}
	return e.TargetSag
}

// suits reports whether the words of [step.when] are true of an end.
func (e *end) suits(when string) bool {
	for _, word := range strings.Fields(when) {
		name, denied := strings.CutPrefix(word, "!")
		if e.is[name] == denied {
			return false
		}
	}
	return true
}

// fill puts what the sheet says, in bold, in the place of words in braces.
func (e *end) fill(do string) string {
	for name, said := range e.say {
		do = strings.ReplaceAll(do, "{"+name+"}", "<b>"+text(said)+"</b>")
	}
	return strings.ReplaceAll(do, "{cycle}", text(e.cycle))
}
