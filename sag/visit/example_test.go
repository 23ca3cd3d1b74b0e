package visit_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"log"
	"os"
	"strings"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

func ExampleReading_ImpliedLoad() {
	curve, _ := linkage.NewConstant(linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre})
	coil, _ := spring.NewLinear(spring.Linear{Rate: 80 * units.NewtonPerMillimetre, Travel: 60 * units.Millimetre, Preload: 2 * units.Millimetre})
	end := sag.End{Curve: curve, Law: coil, Friction: 40 * units.Newton}
	// The ring says 18 mm, give or take 1 mm, and the shaft sticks with 40 N.
	// By hand: 80·20/2.5; 80·19/2.5 to 80·21/2.5; (80·19 − 40)/2.5 to (80·21 + 40)/2.5.
	i, err := visit.Reading{Stroke: 18 * units.Millimetre, Error: 1 * units.Millimetre}.ImpliedLoad(end)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.0f, from %.0f to %.0f by the reading, from %.0f to %.0f with friction\n", i.Load, i.ErrorLow, i.ErrorHigh, i.Low, i.High)
	// Output: 640 N, from 608 N to 672 N by the reading, from 592 N to 688 N with friction
}

// Predicted were 586 N, three readings say otherwise. By hand 17.5, 18 and
// 18.5 mm imply 624, 640 and 656 N; all three agree with 608 to 672 N,
// with the friction. 80 N/mm carries 1465 N at 16.31 mm; 77.18 N/mm is 1505 N over 19.5 mm.
func ExampleAssembly_Report() {
	end, err := visit.Setting{
		Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre}}, Sag: 0.28, Friction: 40 * units.Newton,
		Coil: &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: 80 * units.NewtonPerMillimetre}, Preload: 2 * units.Millimetre, Collar: fit.Collar{ThreadPitch: 1.5 * units.Millimetre}},
	}.Assemble(nil)
	if err != nil {
		log.Fatal(err) // names every bad field, such as coil.rate
	}
	var rings []visit.Reading
	for _, stroke := range []units.Length{17.5, 18, 18.5} {
		rings = append(rings, visit.Reading{Stroke: stroke * units.Millimetre, Error: 1 * units.Millimetre})
	}
	a, err := end.Report(586*units.Newton, rings)
	if err != nil {
		log.Fatal(err) // names every bad field, such as readings[1].error
	}
	fmt.Printf("%s: %.0f, standard error %.1f stated, %.1f from scatter\n", a.Verdict, a.Estimate.Load, a.Estimate.StatedError, a.Estimate.ScatterError)
	for _, e := range a.Explanations {
		fmt.Printf("%7.3f %% %s\n", 100*e.Relative, e.Text)
	}
	c := a.Correction.Coil
	fmt.Printf("set: preload %+.2f (%+.2f turns), or %.1f\n", c.PreloadChange, c.TurnsChange, c.NewRate)
	// Output:
	// unexplained: 640 N, standard error 10.7 N stated, 9.2 N from scatter
	//   3.526 % A spring rate of 77.18 N/mm (441 lbf/in) instead of 80.00 N/mm (457 lbf/in): measure the spring.
	//   3.754 % A sprung load of 608 N (136.7 lbf) on this wheel instead of 586 N (131.7 lbf): the rider's kit, mass or stance.
	//  34.375 % A preload of 1.3 mm (0.05 in) instead of 2.0 mm (0.08 in); below 0 the spring is loose at full extension.
	//  68.750 % Readings that may be off by 1.7 mm (0.07 in) instead of 1.0 mm (0.04 in): read the ring again.
	// 137.500 % A friction at the spring of 95 N (21.4 lbf) instead of 40 N (9.0 lbf): look for bushings or seals that stick.
	// set: preload +1.38 mm (+0.92 turns), or 85.1 N/mm
}

// By hand: 558.98·2.5/80 − 16.8 mm, in quarter turns of 1.6 mm, or 558.98·2.5/(16.8 + 2).
func ExampleAssembly_Correction() {
	r := workshopRecord()
	rear, err := r.Arrive(sag.Rear, r.Situation, 0)
	if err != nil {
		log.Fatal(err)
	}
	c, err := rear.Correction(sag.Target{Load: rear.Now.Load, Sag: r.Rear.Sag})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("preload %.1f, or a spring of %.1f\n", c.Coil.Preload, c.Coil.NewRate)
	// Output: preload 0.8 mm, or a spring of 74.3 N/mm
}

// From the valley at 20 °C to the pass at −5 °C, with 10 kg of kit. By hand the
// gauge then shows (300 + 101.325)·268.15/293.15 − 79.495 kPa, and 42 kg on
// 962.11 mm² want 428.1 + 79.495 kPa above vacuum at 32 mm, where 87.17 % of the
// chamber are left. Now 401.325/(387.33 + 101.325) of it are.
func ExampleRecord_Arrive() {
	fork := visit.Setting{
		Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 1, Travel: 160 * units.Millimetre}}, Sag: 0.2,
		Air: &visit.AirSetting{NegativeChamber: fit.None, MaxFill: units.BarGauge(10), Spec: airspring.Spec{
			Bore: 35 * units.Millimetre, PositiveVolume: 240 * units.CubicCentimetre, Fill: units.BarGauge(3)}},
	}
	masses := sag.Masses{RiderMass: 80 * units.Kilogram, BikeMass: 20 * units.Kilogram, UnsprungFront: new(2 * units.Kilogram), UnsprungRear: new(3 * units.Kilogram), RearShare: 0.6}
	packed := masses
	packed.RiderMass += 10 * units.Kilogram
	r := visit.Record{
		Situation: visit.Situation{Masses: masses, Conditions: &airspring.Conditions{Temperature: units.Celsius(20)}},
		Front:     &visit.EndRecord{Setting: fork},
	}
	a, err := r.Arrive(sag.Front, visit.Situation{Masses: packed, Conditions: &airspring.Conditions{Temperature: units.Celsius(-5), Altitude: 2000 * units.Metre}}, 0)
	if err != nil {
		log.Fatal(err) // names every bad field, such as to.conditions.temperature
	}
	set, err := a.Correction(sag.Target{Load: a.Now.Load, Sag: fork.Sag})
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("now %.1f %%\n", 100*a.Left.Rest.Sag)
	fmt.Printf("left alone: the gauge shows %.1f, sag %.1f %%\n", a.Now.Fill, 100*a.Now.Rest.Sag)
	fmt.Printf("set %.1f: sag %.1f %%\n", set.Air.Fill, 100*set.Air.Rest.Sag)
	// Output:
	// now 27.9 %
	// left alone: the gauge shows 287.6 kPa(g), sag 43.2 %
	// set 363.0 kPa(g): sag 20.0 %
}

// workshopRecord is an invented bike whose rear end alone was looked at.
func workshopRecord() visit.Record {
	return visit.Record{
		Schema: visit.RecordSchema, Date: "2026-11-25",
		Notes: []string{"rider stood, arms straight"},
		Situation: visit.Situation{Masses: sag.Masses{
			RiderMass: 84 * units.Kilogram, BikeMass: 16 * units.Kilogram, UnsprungRear: new(3 * units.Kilogram), RearShare: 0.6}},
		Rear: &visit.EndRecord{
			Setting: visit.Setting{
				Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre}}, Sag: 0.28,
				Coil: &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: 80 * units.NewtonPerMillimetre}, Preload: 2 * units.Millimetre, Collar: fit.Collar{ThreadPitch: 1.6 * units.Millimetre}},
			},
			Readings: []visit.Reading{{Stroke: 15.5 * units.Millimetre, Error: 0.5 * units.Millimetre}},
		},
		Extra: json.RawMessage(`{"stand":3}`),
	}
}

func ExampleRecord_WriteTo() {
	if _, err := workshopRecord().WriteTo(os.Stdout); err != nil {
		log.Fatal(err) // names every bad field, such as rear.coil.rate
	}
	// Output:
	// {
	//   "schema": "wheelrate/record/1",
	//   "date": "2026-11-25",
	//   "notes": [
	//     "rider stood, arms straight"
	//   ],
	//   "situation": {
	//     "masses": {
	//       "rider_mass": "84 kg",
	//       "bike_mass": "16 kg",
	//       "unsprung_rear": "3 kg",
	//       "rear_share": 0.6
	//     }
	//   },
	//   "rear": {
	//     "curve": {
	//       "constant": 2.5,
	//       "travel": "150 mm"
	//     },
	//     "sag": 0.28,
	//     "coil": {
	//       "rate": "80 N/mm",
	//       "preload": "2 mm",
	//       "thread_pitch": "1.6 mm"
	//     },
	//     "readings": [
	//       {
	//         "stroke": "15.5 mm",
	//         "error": "0.5 mm"
	//       }
	//     ]
	//   },
	//   "extra": {
	//     "stand": 3
	//   }
	// }
}

func ExampleAssembly_Report_arrival() {
	r := workshopRecord()
	rear, err := r.Arrive(sag.Rear, r.Situation, 0)
	if err != nil {
		log.Fatal(err)
	}
	a, err := rear.Report(rear.Now.Load, r.Rear.Readings)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("predicted %.0f, the ring at %.1f %s\n", a.Predicted, a.Readings[0].Stroke, a.Verdict)
	// Output: predicted 559 N, the ring at 15.5 mm agrees
}

func ExampleRecord_Check() {
	r := workshopRecord()
	r.Date, r.Rear.Coil.Rate = "25.11.2026", 0
	c := units.Checker{Package: "record"}
	r.Check(&c)
	fmt.Println(c.Err())
	// Output:
	// record: date "25.11.2026": want a day of the calendar, written 2026-11-25
	// record: rear.coil.rate 0 N/mm: want a finite value, more than 0
}

// demoSheet is the demonstration's job with its sheet.
func demoSheet() (setup.Job, *setup.Sheet) {
	job, err := setup.ReadJob(strings.NewReader(demoText))
	if err != nil {
		log.Fatal(err)
	}
	sheet, err := setup.NewSheet(job)
	if err != nil {
		log.Fatal(err)
	}
	return job, sheet
}

func ExampleNewRecord() {
	job, sheet := demoSheet()
	r, err := visit.NewRecord("2026-11-25", job, sheet)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(r.Rear.Coil.Rate == sheet.Rear.Coil.Candidates[0].Rate, r.Front.Air.Fill == sheet.Front.Air.Options[0].Fill)
	// Output: true true
}

func ExampleRecord_Sheet() {
	job, was := demoSheet()
	r, err := visit.NewRecord("2026-11-25", job, was)
	if err != nil {
		log.Fatal(err)
	}
	now, err := r.Sheet()
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(now.Rear.Coil.Candidates[0].Rate == r.Rear.Coil.Rate, now.Rear.Rest.Stroke == was.Rear.Rest.Stroke)
	// Output: true true
}

func ExampleReadRecord() {
	var text strings.Builder
	if _, err := workshopRecord().WriteTo(&text); err != nil {
		log.Fatal(err)
	}
	newer := strings.Replace(text.String(), `"date"`, `"tyres": {"rear": "2 bar"}, "date"`, 1)
	_, _, err := visit.ReadRecord(strings.NewReader(newer))
	fmt.Println(errors.Is(err, units.ErrNewer))
	fmt.Println(err)
	// Output:
	// true
	// record: tyres: want one of schema, date, note, notes, situation, front, rear, job, extra, or a later version of this program
}

// A record from before a check, here that a rear end says what is unsprung, is read and marked.
func ExampleReadRecord_marked() {
	old := workshopRecord()
	old.Situation.Masses.UnsprungRear = nil
	text, err := json.Marshal(old)
	if err != nil {
		log.Fatal(err)
	}
	r, marked, err := visit.ReadRecord(bytes.NewReader(text))
	if err != nil {
		log.Fatal(err)
	}
	fmt.Println(r.Notes[0])
	for _, m := range marked {
		fmt.Println(m)
	}
	// Output:
	// rider stood, arms straight
	// sag: situation.masses.unsprung_rear: want what the spring does not carry, such as wheel and brake, or 0 kg to leave it out
}

// A visit to the workshop, kept for the next one.
func Example() {
	r := workshopRecord()
	var file strings.Builder
	if _, err := r.WriteTo(&file); err != nil {
		log.Fatal(err)
	}

	// Half a year later, the rider wears 6 kg more.
	r, _, err := visit.ReadRecord(strings.NewReader(file.String()))
	if err != nil {
		log.Fatal(err)
	}
	now := r.Situation
	now.Masses.RiderMass += 6 * units.Kilogram
	a, err := r.Arrive(sag.Rear, now, 0)
	if err != nil {
		log.Fatal(err)
	}
	// By hand: (0.6·106 − 3)·9.80665·2.5/80 N/mm less the 2 mm of preload.
	s := a.Now.Rest.Stroke
	fmt.Printf("left as it is the rear sags %.1f at the shock, with %.0f at the spring\n", s, a.End().Law.Force(s))
	// Output: left as it is the rear sags 16.6 mm at the shock, with 1486 N at the spring
}
