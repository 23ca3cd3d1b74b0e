package main

import (
	"math"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// words are the inputs as people call them.
var words = map[string]string{
	"wire_diameter": "the wire", "outer_diameter": "the outer diameter", "active_coils": "the count of coils that move", "shear_modulus": "the shear modulus",
	"rider_mass": "the rider's mass", "bike_mass": "the bike's mass", "rear_share": "how much of it stands on the rear wheel", "rear.lever_ratio": "the lever ratio", "rear.spring_rate": "the rates of the springs",
}

// caliper is an invented spring as measured.
var caliper = coil.Caliper{
	WireDiameter: 8 * mm, OuterDiameter: 51 * mm, ActiveCoils: 6.5, ShearModulus: 79500 * units.Megapascal,
	WireUncertainty: 0.03 * mm, DiameterUncertainty: 0.1 * mm, CoilUncertainty: 0.1, ModulusUncertainty: 500 * units.Megapascal,
}

// rider is an invented rider on an invented bike: the four-bar of lesson 3 with
// a shelf of springs.
func rider() (setup.Job, certainty.Uncertainty) {
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
			RiderMass: 2, RearShare: 0.01,
			Rear: certainty.EndUncertainty{LeverRatio: 0.005, SpringRate: 0.02},
		}
}

// sure is lesson 5.
func sure(p *page) (picture.Picture, error) {
	p.say("Every number that is measured is a little wrong, and nobody knows by how much, or it would be put right. All that can be said is how far it may well be off: 8.00 ± 0.03 mm means that about two of three such readings are within 0.03 mm of the truth. The question is what that does to the answer.")
	p.say("First rule: errors that know nothing of each other don't add up, their squares do, for one is seldom at its worst just when the other is. 3 %% and 4 %% of a product make √(3² + 4²) = %.0f %%, not 7. And 3 %% and 1 %% make %.2f %%: the large one decides nearly alone.", math.Hypot(3, 4), math.Hypot(3, 1))

	measured, err := caliper.Rate()
	if err != nil {
		return nil, err
	}
	p.say("Second rule: powers multiply. The rate goes with the fourth power of the wire (lesson 1), so 0.03 mm on 8 mm, %.2f %%, are %.1f %% of rate. An invented spring, measured with a caliper: wire 8 ± 0.03 mm, outside 51 ± 0.1 mm, 6.5 ± 0.1 coils that move, shear modulus 79 500 ± 500 MPa. That makes %.1f ± %.1f N/mm, and this is who is to blame, by share of the square:",
		100*0.03/8, 4*100*0.03/8, measured.Rate.NewtonsPerMillimetre(), measured.RateUncertainty.NewtonsPerMillimetre())
	p.show("")
	for _, b := range measured.Budget {
		if b.Share > 0 {
			p.show("%4.0f %%  %s", 100*b.Share, words[b.Input])
		}
	}
	p.say("So measure %s better first. Whoever sharpens a number with a small share works for nothing. (Take a spring off only as its maker says, and measure it free: a compressed one can injure.)", words[measured.Dominant])

	k, err := mechanism.New(fourBar())
	if err != nil {
		return nil, err
	}
	ratio, drawn, err := readings(k)
	if err != nil {
		return nil, err
	}
	p.say("Third rule: don't divide small differences. Say you read the wheel's travel for each %.1f mm of stroke, with errors of up to 0.1 mm, and take the lever ratio from a reading and its neighbour. Then up to 0.2 mm are divided by %.1f mm, and reading more closely makes it worse. A smooth curve that passes near all the readings, instead of through each, lets them correct each other; it is found by making the squares of what is left over as small as they get. With made-up errors on the four-bar of lesson 3, the lever ratio is wrong at the worst place by", ratio.step, ratio.step)
	p.show("")
	p.show("%.3f   from neighbours", ratio.neighbours)
	p.show("%.3f   from a curve near all", ratio.fit)

	job, u := rider()
	sheet, err := setup.NewSheet(job)
	if err != nil {
		return nil, err
	}
	budget, err := certainty.Propagate(sheet.Setup(), u)
	if err != nil {
		return nil, err
	}
	ideal := budget.Rear.IdealRate
	p.say("And now a whole question. An invented rider says 80 kg, and that may well be 2 kg off with shoes, pack and water. Of rider and bike 60 ± 1 %% stands on the rear wheel, the lever ratio is known to 0.5 %%, and springs are what is marked on them to 2 %%. Which spring brings the four-bar to 28 %% sag, pressed 1 mm by its collar to begin with? The library changes each number a little, sees what the answer does, and adds the squares. Exactly it would be %.0f ± %.0f lbf/in:",
		ideal.Value.PoundsForcePerInch(), ideal.Uncertainty.PoundsForcePerInch())
	p.show("")
	for _, c := range ideal.Contributions {
		p.show("%+6.1f lbf/in %4.0f %%  %s", c.Effect.PoundsForcePerInch(), 100*c.Share, words[c.Input])
	}
	const draws = 2000
	drawnLots, err := certainty.Simulate(sheet.Setup(), u, draws, 5)
	if err != nil {
		return nil, err
	}
	p.say("Another way to the same: let a computer throw dice for all four numbers, %d times, and work each throw out. The answers scatter by ± %.0f lbf/in.", draws, drawnLots.Rear.IdealRate.Uncertainty.PoundsForcePerInch())
	best := sheet.Rear.Coil.Candidates[0].Rate
	p.say("The springs on the shelf are 25 lbf/in apart, and the sheet says %.0f. How sure is that?", best.PoundsForcePerInch())
	p.show("")
	left := 1.0
	for _, r := range budget.Rear.Rivals {
		left -= r.Probability
		p.show("%4.0f %% for %.0f lbf/in instead; what would tell: %s", 100*r.Probability, r.Rate.PoundsForcePerInch(), words[r.Input])
	}
	p.show("%4.0f %% for %.0f lbf/in after all", 100*left, best.PoundsForcePerInch())
	p.say("That is worth more than another digit: it says where the next ten minutes are well spent. Here: find out %s.", words[ideal.Dominant])

	steady := caliper
	steady.WireUncertainty = 0.01 * mm
	better, err := steady.Rate()
	if err != nil {
		return nil, err
	}
	steady.CoilUncertainty = 0
	counted, err := steady.Rate()
	if err != nil {
		return nil, err
	}
	p.ask("with a micrometre screw the wire is known to 0.01 mm. How sure is the rate of the spring then, and what is to blame now?",
		"± %.1f N/mm, and it is %s. If that were exact, it would be ± %.1f.", better.RateUncertainty.NewtonsPerMillimetre(), words[better.Dominant], counted.RateUncertainty.NewtonsPerMillimetre())
	u.RiderMass = 0.5
	weighed, err := certainty.Propagate(sheet.Setup(), u)
	if err != nil {
		return nil, err
	}
	p.ask("weigh the rider dressed to ride, to 0.5 kg. By how much is the exact spring known better?",
		"± %.1f lbf/in instead of ± %.1f, and now it is %s that decides.", weighed.Rear.IdealRate.Uncertainty.PoundsForcePerInch(), ideal.Uncertainty.PoundsForcePerInch(), words[weighed.Rear.IdealRate.Dominant])
	return drawn, nil
}

// worst is how wrong a lever ratio is at the worst place.
type worst struct{ step, neighbours, fit float64 }

// readings takes the lever ratio of a mechanism from readings of its travel with
// errors, in both ways.
func readings(k *mechanism.Mechanism) (worst, picture.Picture, error) {
	const n = 25
	var r linkage.Table
	for i := 0; i <= n; i++ {
		s := k.Stroke() * units.Length(i) / n
		e := 0.0 // mm; the first reading is where the scale is put to 0
		if i > 0 {
			e = 0.1 * math.Sin(float64(7*i*i)) // looks like chance, and is the same every time
		}
		r.Stroke, r.Travel = append(r.Stroke, s), append(r.Travel, k.Pose(s).Travel+units.Length(e)*mm)
	}
	fit, err := linkage.FitReadings(r)
	if err != nil {
		return worst{}, nil, err
	}
	w := worst{step: (k.Stroke() / n).Millimetres()}
	neighbours := picture.Series{Name: "neighbours"}
	for i := 1; i <= n; i++ {
		s := (r.Stroke[i] + r.Stroke[i-1]) / 2
		lr := float64((r.Travel[i] - r.Travel[i-1]) / (r.Stroke[i] - r.Stroke[i-1]))
		neighbours.X, neighbours.Y = append(neighbours.X, s.Millimetres()), append(neighbours.Y, lr)
		w.neighbours = max(w.neighbours, math.Abs(lr-k.Pose(s).LeverRatio))
	}
	smooth := line("curve near all", 0, k.Stroke().Millimetres(), func(s float64) float64 { return fit.Curve().LeverRatio(units.Length(s) * mm) })
	truth := line("truth", 0, k.Stroke().Millimetres(), func(s float64) float64 { return k.Pose(units.Length(s) * mm).LeverRatio })
	for i := range truth.Y {
		w.fit = max(w.fit, math.Abs(smooth.Y[i]-truth.Y[i]))
	}
	return w, picture.Chart{
		Title: "Lever ratio from readings with errors", Note: "An invented four-bar linkage, readings wrong by up to 0.1 mm.",
		X:      picture.Axis{Label: "stroke", Unit: "mm"},
		Panels: []picture.Panel{{Y: picture.Axis{Label: "lever ratio"}, Series: []picture.Series{truth, smooth, neighbours}}},
	}, nil
}
