package lesson

import (
	"math"
	"sync"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

var sure = Lesson{
	Name: "sure", Title: "How sure can you be?",
	About: "Every measured number is a little wrong. How wrong is the answer, and what should be measured better?",
	Sliders: []Slider{
		{Name: "wire", Label: "Wire, ±", Unit: "mm", Min: 0, Max: 0.06, Step: 0.005, Start: 0.03},
		{Name: "coils", Label: "Coils that move, ±", Min: 0, Max: 0.2, Step: 0.01, Start: 0.1},
	},
	write: writeSure,
}

// inputWords are the inputs as people call them.
var inputWords = map[string]string{
	"wire_diameter": "the wire", "outer_diameter": "the outer diameter", "active_coils": "the count of coils that move", "shear_modulus": "the shear modulus",
	"rider_mass": "the rider's mass", "bike_mass": "the bike's mass", "rear_share": "how much of it stands on the rear wheel", "rear.lever_ratio": "the lever ratio", "rear.spring_rate": "the rates of the springs",
}

// measured is an invented spring as read with a caliper, the wire and the coils to
// so much.
func measured(wire, coils float64) coil.CaliperRate {
	return must(coil.Caliper{
		WireDiameter: 8 * mm, OuterDiameter: 51 * mm, ActiveCoils: 6.5, ShearModulus: 79500 * units.Megapascal,
		WireUncertainty: units.Length(wire) * mm, DiameterUncertainty: 0.1 * mm, CoilUncertainty: coils, ModulusUncertainty: 500 * units.Megapascal,
	}.Rate())
}

// invented is an invented rider on an invented bike: the four-bar of the lesson on
// levers with a shelf of springs. The rider's mass is known to so many kilograms.
func invented(rider units.Mass) (setup.Job, certainty.Uncertainty) {
	mechanism := fourBar()
	var shelf []fit.ShelfSpring
	for _, rate := range []float64{450, 475, 500, 525, 550} {
		shelf = append(shelf, fit.ShelfSpring{Rate: units.Stiffness(rate) * units.PoundForcePerInch, SolidTravel: 72 * mm})
	}
	return setup.Job{
			Schema: setup.JobSchema,
			Masses: sag.Masses{RiderMass: 80, BikeMass: 16, UnsprungFront: new(2 * units.Kilogram), UnsprungRear: new(3 * units.Kilogram), RearShare: 0.6},
			Front: &setup.EndJob{
				Spec: fit.Spec{
					Curve: linkage.Spec{Fork: &linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 160 * mm}}, Sag: 0.2,
					Coil: &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 50 * units.PoundForcePerInch, SolidTravel: 180 * mm}}, Collar: fit.Collar{PreloadMax: 10 * mm}},
				},
			},
			Rear: &setup.EndJob{
				Spec: fit.Spec{
					Curve: linkage.Spec{Mechanism: &mechanism}, Sag: 0.28,
					Coil: &fit.Shelf{Springs: shelf, Collar: fit.Collar{PreloadMin: 1 * mm, PreloadMax: 1 * mm}},
				},
			},
		}, certainty.Uncertainty{
			RiderMass: rider, RearShare: 0.01,
			Rear: certainty.EndUncertainty{LeverRatio: 0.005, SpringRate: 0.02},
		}
}

// question is the whole one, which depends on no slider.
type question struct {
	sheet             *setup.Sheet
	budget, dice, now *certainty.Budget // now with the rider weighed
	readings          worst
}

const draws = 1000

var whole = sync.OnceValue(func() question {
	job, u := invented(2)
	_, weighed := invented(0.5)
	sheet := must(setup.NewSheet(job))
	s := sheet.Setup()
	return question{sheet, must(certainty.Propagate(s, u)), must(certainty.Simulate(s, u, draws, 5)), must(certainty.Propagate(s, weighed)), readings()}
})

func writeSure(c *Content, v Values) {
	wire, coils := v["wire"], v["coils"]
	m := measured(wire, coils)
	k, u := m.Rate.NewtonsPerMillimetre(), m.RateUncertainty.NewtonsPerMillimetre()
	c.say("Every number that is measured is a little wrong, and nobody knows by how much, or it would be put right. All that can be said is how far it may well be off: 8.00 ± 0.03 mm means that about two of three such readings are within 0.03 mm of the truth. The question is what that does to the answer.")
	c.say("First rule: errors that know nothing of each other don't add up, their squares do, for one is seldom at its worst just when the other is. 3 %% and 4 %% of a product make √(3² + 4²) = %.0f %%, not 7. And 3 %% and 1 %% make %.2f %%: the large one decides nearly alone. On paper that is a right angle: the one error along one leg, the other along the other leg, and both together along the long side.", math.Hypot(3, 4), math.Hypot(3, 1))
	c.say("Second rule: powers multiply. The rate goes with the fourth power of the wire (see the lesson on wire), so %.3g mm on 8 mm, %.2f %%, are %.1f %% of rate. An invented spring, measured with a caliper: wire 8 ± %.3g mm, outside 51 ± 0.1 mm, 6.5 ± %.3g coils that move, shear modulus 79 500 ± 500 MPa. That makes %.1f ± %.1f N/mm, and this is who is to blame, by share of the square:",
		wire, percent(wire/8), 4*percent(wire/8), wire, coils, k, u)
	var rows [][]string
	for _, b := range m.Budget {
		if b.Share > 0 {
			rows = append(rows, []string{cell("%.0f %%", percent(b.Share)), inputWords[b.Input]})
		}
	}
	c.table(nil, rows...)
	c.say("So measure %s better first. Whoever sharpens a number with a small share works for nothing. Measure a spring free, off the bike, and take it off only as its maker says.", inputWords[m.Dominant])
	c.caution("compressed_spring")

	q := whole()
	c.say("Third rule: don't divide small differences. Say you read the wheel's travel for each %.1f mm of stroke, with errors of up to 0.1 mm, and take the lever ratio from a reading and its neighbour. Then up to 0.2 mm are divided by %.1f mm, and reading more closely makes it worse. A smooth curve that passes near all the readings, instead of through each, lets them correct each other; it is found by making the squares of what is left over as small as they get. With made-up errors on the four-bar of the lesson on levers, the lever ratio is wrong at the worst place by", q.readings.step, q.readings.step)
	c.table(nil, []string{cell("%.3f", q.readings.neighbours), "from neighbours"}, []string{cell("%.3f", q.readings.fit), "from a curve near all"})
	ideal := q.budget.Rear.IdealRate
	c.say("And now a whole question. An invented rider says 80 kg, and that may well be 2 kg off with shoes, pack and water. Of rider and bike 60 ± 1 %% stands on the rear wheel, the lever ratio is known to 0.5 %%, and springs are what is marked on them to 2 %%. Which spring brings the four-bar to 28 %% sag, pressed 1 mm by its collar to begin with? The library changes each number a little, sees what the answer does, and adds the squares. Exactly it would be %.0f ± %.0f lbf/in:",
		ideal.Value.PoundsForcePerInch(), ideal.Uncertainty.PoundsForcePerInch())
	rows = nil
	for _, one := range ideal.Contributions {
		rows = append(rows, []string{cell("%+.1f lbf/in", one.Effect.PoundsForcePerInch()), cell("%.0f %%", percent(one.Share)), inputWords[one.Input]})
	}
	c.table(nil, rows...)
	c.say("Another way to the same: let a computer throw dice for all four numbers, %d times, and work each throw out. The answers scatter by ± %.0f lbf/in.", draws, q.dice.Rear.IdealRate.Uncertainty.PoundsForcePerInch())
	best := q.sheet.Rear.Coil.Candidates[0].Rate
	c.say("The springs on the shelf are 25 lbf/in apart, and the sheet says %.0f. How sure is that?", best.PoundsForcePerInch())
	rows, left := nil, 1.0
	for _, r := range q.budget.Rear.Rivals {
		left -= r.Probability
		rows = append(rows, []string{cell("%.0f %%", percent(r.Probability)), cell("for %.0f lbf/in instead; what would tell: %s", r.Rate.PoundsForcePerInch(), inputWords[r.Input])})
	}
	c.table(nil, append(rows, []string{cell("%.0f %%", percent(left)), cell("for %.0f lbf/in after all", best.PoundsForcePerInch())})...)
	c.say("That is worth more than another digit: it says where the next ten minutes are well spent. Here: find out %s.", inputWords[ideal.Dominant])

	parts := map[string]float64{} // of the rate's uncertainty, N/mm
	sum := 0.0
	for _, b := range m.Budget {
		parts[b.Input] = u * math.Sqrt(b.Share)
		sum += parts[b.Input]
	}
	c.now("With the wire to ± %.3g mm and the coils to ± %.3g the rate is %.1f ± %.1f N/mm. Added up plainly the errors would make ± %.1f. What counts most is %s.", wire, coils, k, u, sum, inputWords[m.Dominant])
	better, counted := measured(0.01, coils), measured(0.01, 0)
	c.estimate("With a micrometer screw the wire is known to 0.01 mm, and the coils are counted as they are now. By how much may the rate of the spring be off then?", better.RateUncertainty.NewtonsPerMillimetre(), 0.06, "N/mm")
	c.explain("± %.1f N/mm, and it is %s. If the count were exact, it would be ± %.1f.", better.RateUncertainty.NewtonsPerMillimetre(), inputWords[better.Dominant], counted.RateUncertainty.NewtonsPerMillimetre())
	weighed := q.now.Rear.IdealRate
	order := []string{"rider_mass", "rear_share", "rear.lever_ratio"}
	var choices []string
	right := 0
	for i, input := range order {
		choices = append(choices, inputWords[input])
		if input == weighed.Dominant {
			right = i
		}
	}
	c.choose("Weigh the rider dressed to ride, to 0.5 kg. What then decides how well the exact spring is known?", choices, right)
	c.explain("It is known to ± %.1f lbf/in instead of ± %.1f, and now it is %s that decides.", weighed.Uncertainty.PoundsForcePerInch(), ideal.Uncertainty.PoundsForcePerInch(), inputWords[weighed.Dominant])

	x := along(0, 0.06, 48)
	exact := measured(0, coils).RateUncertainty.NewtonsPerMillimetre()
	c.Curve = Curve{
		Title: "Uncertainty of the rate over that of the wire", X: Axis{Label: "wire, ±", Unit: "mm"}, Y: Axis{Label: "rate, ±", Unit: "N/mm"},
		Lines: []Line{
			{"squares added", x, at(x, func(w float64) float64 { return measured(w, coils).RateUncertainty.NewtonsPerMillimetre() })},
			{"the wire added plainly", x, at(x, func(w float64) float64 {
				alone := measured(w, coils)
				return exact + alone.RateUncertainty.NewtonsPerMillimetre()*math.Sqrt(shareOf(alone, "wire_diameter"))
			})},
		},
		Dot: [2]float64{wire, u},
	}
	c.Drawing.Title = "Errors at right angles"
	c.Drawing.Desc = cell("Each error is a line at a right angle to what is there already: wire %.2f, coils %.2f, outer diameter %.2f, shear modulus %.2f N/mm. From beginning to end they are %.2f N/mm.",
		parts["wire_diameter"], parts["active_coils"], parts["outer_diameter"], parts["shear_modulus"], u)
	drawSure(&c.Drawing, parts, u)
}

func shareOf(m coil.CaliperRate, input string) float64 {
	for _, b := range m.Budget {
		if b.Input == input {
			return b.Share
		}
	}
	return 0
}

// worst is how wrong a lever ratio is at the worst place.
type worst struct{ step, neighbours, fit float64 }

// readings takes the lever ratio of the four-bar from readings of its travel with
// errors, in both ways.
func readings() (w worst) {
	const n = 25
	k := solved()
	var r linkage.Table
	for i := 0; i <= n; i++ {
		s := k.Stroke() * units.Length(i) / n
		e := 0.0 // mm; the first reading is where the scale is put to 0
		if i > 0 {
			e = 0.1 * math.Sin(float64(7*i*i)) // looks like chance, and is the same every time
		}
		r.Stroke, r.Travel = append(r.Stroke, s), append(r.Travel, k.Pose(s).Travel+units.Length(e)*mm)
	}
	near := must(linkage.FitReadings(r)).Curve
	w.step = (k.Stroke() / n).Millimetres()
	for i := 1; i <= n; i++ {
		s := (r.Stroke[i] + r.Stroke[i-1]) / 2
		lr := float64((r.Travel[i] - r.Travel[i-1]) / (r.Stroke[i] - r.Stroke[i-1]))
		w.neighbours = max(w.neighbours, math.Abs(lr-k.Pose(s).LeverRatio))
	}
	for _, s := range along(0, float64(k.Stroke()), 160) {
		w.fit = max(w.fit, math.Abs(near.LeverRatio(units.Length(s))-k.Pose(units.Length(s)).LeverRatio))
	}
	return w
}

// drawSure draws the errors at right angles, 66 pixels for each N/mm.
func drawSure(p *Drawing, parts map[string]float64, whole float64) {
	const scale = 66.0
	p.size(360, 262)
	from := point{62, 236}
	at, far := from, 0.0 // the length so far
	for i, input := range []string{"wire_diameter", "active_coils", "outer_diameter", "shear_modulus"} {
		length := parts[input] * scale
		next := at.plus(length, 0)
		if i > 0 && far > 0 { // at a right angle to the line from the beginning, to the left
			ux, uy := (at.x-from.x)/far, (at.y-from.y)/far
			next = at.plus(length*uy, -length*ux)
			p.line("ghost", from, at)
		} else if i == 1 {
			next = at.plus(length, 0)
		}
		if length > 1 {
			p.error(at, next, cell("%s ± %.2f", []string{"wire", "coils", "diameter", "steel"}[i], parts[input]), i)
		}
		at, far = next, math.Hypot(next.x-from.x, next.y-from.y)
	}
	p.line("sum", from, at)
	p.circle("joint", from, 3)
	p.circle("joint", at, 3)
	p.label("on", point{20, 20}, "start", cell("together ± %.2f N/mm", whole))
}

// error draws one of the errors, its label away from the sum.
func (d *Drawing) error(a, b point, label string, i int) {
	d.line("error", a, b)
	if i == 0 {
		d.text(point{(a.x + b.x) / 2, a.y + 18}, "middle", label)
		return
	}
	d.text(point{(a.x+b.x)/2 + 8, (a.y+b.y)/2 + 4}, "start", label)
}
