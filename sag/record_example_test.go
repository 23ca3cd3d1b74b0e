package sag_test

import (
	"encoding/json"
	"fmt"
	"log"
	"os"
	"strings"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// workshopRecord is an invented bike whose rear end alone was looked at.
func workshopRecord() sag.Record {
	return sag.Record{
		Schema: sag.RecordSchema, Date: "2026-11-25",
		Notes: []string{"rider stood, arms straight"},
		Situation: sag.Situation{Masses: sag.Masses{
			RiderMass: 84 * units.Kilogram, BikeMass: 16 * units.Kilogram, UnsprungRear: 3 * units.Kilogram, RearShare: 0.6}},
		Rear: &sag.EndRecord{
			Setting: sag.Setting{
				Curve: linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.5, Travel: 150 * units.Millimetre}}, Sag: 0.28,
				Coil: &sag.CoilSetting{Rate: 80 * units.NewtonPerMillimetre, Preload: 2 * units.Millimetre, ThreadPitch: 1.6 * units.Millimetre},
			},
			Readings: []sag.Reading{{Stroke: 15.5 * units.Millimetre, Error: 0.5 * units.Millimetre}},
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

// By hand: (0.6·100 − 3) kg·9.80665·2.5/80 N/mm less 2 mm of preload is
// 15.468 mm; 2/1.6 turns.
func ExampleRecord_Outcome() {
	r := workshopRecord()
	o, err := r.Outcome(sag.RearEnd)
	if err != nil {
		log.Fatal(err)
	}
	m, _ := r.Measuring(sag.RearEnd)
	a, err := sag.NewMeasured(m)
	if err != nil {
		log.Fatal(err)
	}
	fmt.Printf("%.2f turns, rests at %.2f, sag %.1f %%; the ring at %.1f %s\n",
		r.Rear.Turns(), o.Rest.Stroke, 100*o.Rest.Sag, r.Rear.Readings[0].Stroke, a.Verdict)
	// Output: 1.25 turns, rests at 15.47 mm, sag 25.8 %; the ring at 15.5 mm agrees
}

// By hand, as that of Outcome: 80 N/mm over 15.468 + 2 mm, by the ratio.
func ExampleRecord_Law() {
	curve, law, err := workshopRecord().Law(sag.RearEnd)
	if err != nil {
		log.Fatal(err)
	}
	s := 15.468 * units.Millimetre
	fmt.Printf("%.0f at the spring, %.0f at the wheel\n", law.Force(s), law.Force(s)/units.Force(curve.LeverRatio(s)))
	// Output: 1397 N at the spring, 559 N at the wheel
}

func ExampleRecord_Sheet() {
	job, err := sag.ReadJob(strings.NewReader(demoJob))
	if err != nil {
		log.Fatal(err)
	}
	was, err := sag.NewSheet(job)
	if err != nil {
		log.Fatal(err)
	}
	r, err := sag.NewRecord("2026-11-25", job, was)
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
	_, err := sag.ReadRecord(strings.NewReader(`{"schema": "wheelrate/record/2", "date": "2031-04-01"}`))
	fmt.Println(err)
	// Output: record: schema "wheelrate/record/2": want "wheelrate/record/1", or a later version of this program
}
