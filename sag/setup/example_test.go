package setup_test

import (
	"fmt"
	"log"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// demoJob is a job as a person writes it; invented.
const demoJob = `{
	  "schema": "wheelrate/job/1",
	  "masses": {"rider_mass": "82 kg", "bike_mass": "16.8 kg", "unsprung_front": "2.4 kg", "unsprung_rear": "3.2 kg", "rear_share": 0.58},
	  "ambient": "101.325 kPa(a)",
	  "front": {"curve": {"fork": {"head_angle": "64 deg", "travel": "160 mm"}}, "sag": 0.2,
	    "air": {"bore": "35 mm", "positive_volume": "240 cm³", "negative_chamber": "none", "exponent": 1.3, "max_fill": "10 bar"}},
	  "rear": {"curve": {"constant": 2.5, "travel": "150 mm"}, "sag": 0.28,
	    "coil": {"shelf": [{"rate": "400 lbf/in", "solid_travel": "70 mm"}, {"rate": "450 lbf/in", "solid_travel": "69 mm"}], "preload_max": "5 mm"}}
	}`

// A job of an app's own, and what its sheet recommends. By hand:
// (0.42·98.783 − 2.4) kg·g₀·sin 64° = 344.5 N on 10.508 N/mm, and
// (0.58·98.783 − 3.2) kg·g₀·2.5 = 1326.2 N on 78.807 N/mm.
func Example() {
	job := setup.Job{
		Schema: setup.JobSchema,
		Masses: sag.Masses{
			RiderMass: 82 * units.Kilogram, BikeMass: 37 * units.Pound, RearShare: 0.58,
			UnsprungFront: new(2.4 * units.Kilogram), UnsprungRear: new(3.2 * units.Kilogram),
		},
		Front: &setup.EndJob{Spec: fit.Spec{
			Curve: linkage.Spec{Fork: &linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 160 * units.Millimetre}},
			Sag:   0.20,
			Coil:  &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 50 * units.PoundForcePerInch}, {Rate: 60 * units.PoundForcePerInch}}},
		}},
		Rear: &setup.EndJob{Spec: fit.Spec{
			Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre}},
			Sag:   0.28,
			Coil:  &fit.Shelf{Springs: []fit.ShelfSpring{{Rate: 400 * units.PoundForcePerInch}, {Rate: 450 * units.PoundForcePerInch}}},
		}},
	}
	sheet, err := setup.NewSheet(job)
	if err != nil {
		log.Fatal(err) // names every bad field, such as rear.coil.shelf[0].rate
	}
	for _, end := range sheet.Ends() {
		spring, rest := end.Spring(), end.Rest
		fmt.Printf("%s: spring %s, preload %s, sag %s = %s %s\n", end.Axle, spring.Rate.Both().CustomaryFirst(),
			spring.Preload.Both(), units.Percent(rest.Sag), rest.Stroke.Both(), end.Along())
	}
	// Output:
	// front: spring 60 lbf/in (10.51 N/mm), preload 0.0 mm (0.00 in), sag 20.5 % = 32.8 mm (1.29 in) along the stanchion
	// rear: spring 450 lbf/in (78.81 N/mm), preload 0.0 mm (0.00 in), sag 28.0 % = 16.8 mm (0.66 in) at the shock
}

// The README's second program is the body of the Example, so that it compiles, runs
// and prints what it should.
func TestReadmeSheetIsTheExample(t *testing.T) {
	readme, err := os.ReadFile("../../README.md")
	require.NoError(t, err)
	blocks := strings.Split(string(readme), "```go\n")
	if len(blocks) < 3 {
		t.Fatalf("the README has %d programs", len(blocks)-1)
	}
	code, _, _ := strings.Cut(blocks[2], "```")
	example, err := os.ReadFile("example_test.go")
	require.NoError(t, err)
	indented := regexp.MustCompile(`(?m)^(.)`).ReplaceAllString(code, "\t$1")
	if !strings.Contains(string(example), indented) {
		t.Errorf("this is not in example_test.go as it stands in the README:\n%s", code)
	}
}

// A job, and what it comes to.
func ExampleNewSheet() {
	job, err := setup.ReadJob(strings.NewReader(demoJob))
	if err != nil {
		log.Fatal(err)
	}
	s, err := setup.NewSheet(job)
	if err != nil {
		log.Fatal(err) // names every bad field, such as front.air.bore
	}
	// By hand: 530.6 N · 2.5 on 16.8 mm of stroke want 78.96 N/mm with no
	// preload at all; the 450 lbf/in spring gets there with 0.03 mm of it.
	// 383.4 N · sin 64° on 962.11 mm² at 32 mm are 358.2 kPa above the air around,
	// and (358.2 + 101.3)·(240 − 30.79)/240 − 101.3 kPa = 2.99 bar at full extension.
	spring, fill := s.Rear.Spring(), s.Front.Fill()
	fmt.Printf("rear %.1f: ideal %.1f; fit %.0f lbf/in with %.1f of preload, sag %.1f %%\n", s.Rear.Load, s.Rear.Coil.IdealRate,
		spring.Rate.PoundsForcePerInch(), spring.Preload, 100*s.Rear.Rest.Sag)
	fmt.Printf("front %.1f: fill %.2f bar\n", s.Front.Load, fill.Fill.Bar())
	// Output:
	// rear 530.6 N: ideal 79.0 N/mm; fit 450 lbf/in with 0.0 mm of preload, sag 28.0 %
	// front 383.4 N: fill 2.99 bar
}

// Every fault of a job is named with its path, its value and what is wanted.
func ExampleReadJob() {
	_, err := setup.ReadJob(strings.NewReader(`{"schema": "wheelrate/job/1", "masses": {"rider_mass": "82", "bike_mas": "16 kg"}}`))
	for _, f := range units.Fields(err) {
		fmt.Println(f.Field, "wants", f.Want)
	}
	// Output:
	// masses.rider_mass wants a unit: 82 kg or 82 lb?
	// masses.bike_mas wants one of rider_mass, bike_mass, unsprung_front, unsprung_rear, rear_share, wheelbase, mass_centre_behind_front_axle, front_scale, rear_scale, mass_centre_height, wheel_radius, front_wheel_radius, rear_wheel_radius, fork_offset, bottom_bracket_height, chainstay_length, bike_rear_share; did you mean bike_mass?
	// masses.rear_share wants a share between 0 and 1, or wheelbase and mass_centre_behind_front_axle, or front_scale and rear_scale
	// front wants a front, a rear, or both
}

// What is wrong with a job as a part of something larger, here of a form.
func ExampleJob_Check() {
	job, err := setup.ReadJob(strings.NewReader(demoJob))
	if err != nil {
		log.Fatal(err)
	}
	job.Rear.Sag = 28
	form := units.Checker{Package: "form"}
	part := form.Child("job")
	job.Check(&part)
	for _, f := range units.Fields(form.Err()) {
		fmt.Println(f.Field, f.Value, "want", f.Want)
	}
	// Output:
	// job.rear.sag 28 want more than 0 and less than 1
}

// One bike, checked once, for whoever rides it.
func ExampleNewTemplate() {
	job, err := setup.ReadJob(strings.NewReader(demoJob))
	if err != nil {
		log.Fatal(err)
	}
	bike, err := setup.NewTemplate(job)
	if err != nil {
		log.Fatal(err)
	}
	for _, rider := range []units.Mass{60 * units.Kilogram, 180 * units.Pound} {
		s, err := bike.Sheet(rider)
		if err != nil {
			log.Fatal(err)
		}
		// By hand: (0.58·(m + 16.8) − 3.2) kg · g₀ · 2.5/16.8 mm.
		fmt.Println(rider.Both(), "wants", s.Rear.Coil.IdealRate.Both().CustomaryFirst())
	}
	// Output:
	// 60.0 kg (132.3 lb) wants 345 lbf/in (60.33 N/mm)
	// 81.6 kg (180.0 lb) wants 449 lbf/in (78.66 N/mm)
}

// Where the exact spring comes from, step by step; by hand, 530.579 N · 2.5 on
// 16.8 mm are 78.9552 N/mm.
func ExampleSheet_Working() {
	job, err := setup.ReadJob(strings.NewReader(demoJob))
	if err != nil {
		log.Fatal(err)
	}
	s, err := setup.NewSheet(job)
	if err != nil {
		log.Fatal(err)
	}
	for _, step := range s.Working(sag.Rear)[5:] {
		fmt.Println(step)
	}
	// Output:
	// force that the spring must carry: F_s = F_w·LR; F_w = 530.579 N; LR = 2.5 → F_s = 1326.45 N [virtual work: what the wheel does is done on the spring]
	// exact spring: k = F_s/(s + preload); F_s = 1326.45 N; s = 16.8 mm; preload = 0 mm → k = 78.9552 N/mm [a linear spring, with the collar's least preload]
}

// Where the bike comes to rest, step by step; by hand, 1326.45 N on 78.8071 N/mm are
// 16.8316 mm less the preload of 0.0316 mm.
func ExampleSheet_RestWorking() {
	job, err := setup.ReadJob(strings.NewReader(demoJob))
	if err != nil {
		log.Fatal(err)
	}
	s, err := setup.NewSheet(job)
	if err != nil {
		log.Fatal(err)
	}
	for _, step := range s.RestWorking(sag.Rear)[:3] {
		fmt.Println(step.Name+":", step.Result)
	}
	// Output:
	// preload that this spring wants: preload = 0.0315784 mm
	// preload to set: p = 0.0315784 mm
	// stroke where it rests: s = 16.8 mm
}

// The recommended spring as laws at the wheel, for drawing: by hand,
// 78.8071 N/mm/2.5² = 12.6091 N/mm, with 78.8071·60.0316/2.5 N at the end.
func ExampleEndSheet_Wheel() {
	job, err := setup.ReadJob(strings.NewReader(demoJob))
	if err != nil {
		log.Fatal(err)
	}
	s, err := setup.NewSheet(job)
	if err != nil {
		log.Fatal(err)
	}
	wheel, _ := s.Rear.Wheel()
	fmt.Printf("%.3f, %.0f at %.0f\n", wheel.Rate(0), wheel.Force(wheel.Travel()), s.Rear.Curve().Travel())
	fmt.Println("to be read", s.Rear.Along())
	// Output:
	// 12.609 N/mm, 1892 N at 150 mm
	// to be read at the shock
}

// How sure the sheet is, with everything but the rider's mass exactly known: by hand,
// 0.58 · 1 kg · g₀ · 2.5/16.8 mm = 0.85 N/mm.
func ExampleSheet_Setup() {
	job, err := setup.ReadJob(strings.NewReader(demoJob))
	if err != nil {
		log.Fatal(err)
	}
	s, err := setup.NewSheet(job)
	if err != nil {
		log.Fatal(err)
	}
	b, err := certainty.Propagate(s.Setup(), certainty.Uncertainty{RiderMass: 1 * units.Kilogram})
	if err != nil {
		log.Fatal(err)
	}
	k := b.Rear.IdealRate
	fmt.Println(k.Value.Both().PlusMinus(k.Uncertainty.Both()).Metric, "by", k.Dominant)
	// Output:
	// 78.96 ± 0.85 N/mm by rider_mass
}

// wholeJob is a job built in code, as an application does it from its own
// forms. The rider, the bike and the parts are invented.
func wholeJob() setup.Job {
	return setup.Job{
		Schema: setup.JobSchema,
		Masses: sag.Masses{
			RiderMass: 74 * units.Kilogram, BikeMass: 16 * units.Kilogram,
			UnsprungFront: new(2.3 * units.Kilogram), UnsprungRear: new(3 * units.Kilogram),
			RearShare: 0.6,
		},
		Ambient: units.StandardAtmosphere,
		Front: &setup.EndJob{Spec: fit.Spec{
			Curve: linkage.Spec{Fork: &linkage.Fork{HeadAngle: 64 * units.Degree, Travel: 160 * units.Millimetre}},
			Sag:   0.2,
			Air: &fit.Chamber{
				NegativeChamber: fit.None,
				Spec: airspring.Spec{
					Bore: 35 * units.Millimetre, PositiveVolume: 240 * units.CubicCentimetre,
					SpacerVolume: 8 * units.CubicCentimetre, Exponent: 1.3,
				},
				MaxFill: units.BarGauge(10),
			},
		}},
		Rear: &setup.EndJob{Spec: fit.Spec{
			// Pivots of a single-pivot rear end, in mm from the bottom bracket.
			Curve: linkage.Spec{Mechanism: &mechanism.Spec{
				Points: map[string]mechanism.Point{
					"pivot": point(12, 72), "axle": point(-438, 28), "eye": point(-92, 238), "mount": point(112, 292),
				},
				Bodies: map[string][]string{"frame": {"pivot", "mount"}, "swingarm": {"pivot", "axle", "eye"}},
				Axle:   "axle", Shock: [2]string{"eye", "mount"}, Stroke: 57.5 * units.Millimetre,
			}},
			Sag: 0.28,
			Coil: &fit.Shelf{
				Springs: []fit.ShelfSpring{
					{Rate: 400 * units.PoundForcePerInch, SolidTravel: 64 * units.Millimetre},
					{Rate: 450 * units.PoundForcePerInch, SolidTravel: 63 * units.Millimetre},
					{Rate: 500 * units.PoundForcePerInch, SolidTravel: 62 * units.Millimetre},
				},
				Collar: fit.Collar{PreloadMax: 4 * units.Millimetre, ThreadPitch: 1.5 * units.Millimetre},
			},
		}},
	}
}

func point(x, y float64) mechanism.Point {
	return mechanism.Point{units.Length(x) * units.Millimetre, units.Length(y) * units.Millimetre}
}

// A whole job in code: rider, bike, a fork of two figures, a rear end of its
// pivots, an air spring and a shelf of coils; and what the sheet says of it.
func Example_wholeJob() {
	sheet, err := setup.NewSheet(wholeJob())
	if err != nil {
		for _, f := range units.Fields(err) { // each bad field, such as rear.coil.shelf[0].rate
			fmt.Println(f.Field, f.Want)
		}
		return
	}
	// By hand: (0.6·90 − 3)·9.80665 N = 500.1 N stand on the rear spring and, at
	// 28 % of 134.66 mm, press it with 2.3754 times as much at 15.77 mm of stroke
	// (the circles intersected with 30 digits): 75.34 N/mm, or 400 lbf/in with
	// 1.19 mm of preload, which is three quarter turns of the collar.
	rear := sheet.Rear.Coil
	fmt.Printf("rear: %.0f, exactly %.1f\n", float64(sheet.Rear.Load), rear.IdealRate)
	fmt.Printf("  fit %.0f lbf/in with %.3f mm of preload\n", rear.Candidates[0].Rate.PoundsForcePerInch(), rear.Candidates[0].Preload.Millimetres())
	if steps := sheet.Working(sag.Rear); len(steps) > 0 {
		last := steps[len(steps)-1]
		fmt.Printf("  for %s\n", last.Formula)
	}
	for _, c := range sheet.Cautions[:1] {
		fmt.Println(c.Text)
	}
	if len(sheet.Warnings) > 0 {
		log.Println(sheet.Warnings[0].Text)
	}
	// Output:
	// rear: 500, exactly 75.3 N/mm
	//   fit 400 lbf/in with 1.125 mm of preload
	//   for k = F_s/(s + preload)
	// The marking on the part and the maker's manual win over every number here.
}

// What is recommended at either end; nil where the end has no such spring.
func ExampleEndSheet_Spring() {
	s, err := setup.NewSheet(wholeJob())
	if err != nil {
		log.Fatal(err)
	}
	if best := s.Rear.Spring(); best != nil {
		fmt.Printf("%s, %.2f turns\n", best.Rate.Both().CustomaryFirst(), best.Turns)
	}
	if best := s.Front.Fill(); best != nil {
		fmt.Println(best.Spacers, "spacers", s.Front.Along())
	}
	fmt.Println(s.Front.Spring() == nil, s.Rear.Fill() == nil)
	// Output:
	// 400 lbf/in (70.05 N/mm), 0.75 turns
	// 0 spacers along the stanchion
	// true true
}

// A rider of 82 g is worked out as stated, and told.
func ExampleImplausible() {
	for _, w := range setup.Implausible("masses", sag.Masses{RiderMass: 82 * units.Gram, BikeMass: 16}) {
		fmt.Println(w.Field+":", w.Text)
	}
	// Output:
	// masses.rider_mass: 0.082 kg is stated, where the mass of a rider is from 25.0 kg (55.1 lb) to 180.0 kg (396.8 lb): look at the number and its unit.
}

// What a job leaves out is on its sheet, with what another value would change.
func ExampleOmission() {
	job, err := setup.ReadJob(strings.NewReader(demoJob))
	if err != nil {
		log.Fatal(err)
	}
	sheet, err := setup.NewSheet(job)
	if err != nil {
		log.Fatal(err)
	}
	for _, o := range sheet.LeftOut {
		if o.Code == "oil_volume" {
			fmt.Println(o.Field+":", o.Text)
			fmt.Println("by", o.Effects[0].Fill.Both())
		}
	}
	// Output:
	// front.air.oil_volume: The air chamber at the front is taken to hold no oil. With 7.2 cm³ (0.44 in³) the exact fill is 0.02 bar (0.3 psi) lower.
	// by -0.02 bar (-0.3 psi)
}
