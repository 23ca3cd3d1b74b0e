package advice_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/advice"
	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// What is taken for granted is said, with what it changes. By hand: 10 N at 80 N/mm are 0.125 mm at the
// ring; 600 kPa absolute at 20 °C are 20.5 kPa more 10 °C warmer.
func TestVisitSaysWhatItTakesForGranted(t *testing.T) {
	r := handRecord()
	r.Front, r.Rear.Friction = &visit.EndRecord{Setting: airEnd()}, 0
	v := returns(r)
	v.Front = &advice.EndVisit{Ride: &visit.Ride{Stroke: 0.15, Error: milli}}
	v.Rear = &advice.EndVisit{Readings: readings(0.5, 15.5)}
	a := answer(t, v)
	require.Equal(t, []string{"front weather_unknown", "front exponent_unknown", "rear friction_unknown"}, warned(a.Warnings))
	near(t, "ring", length(t, a.Warnings[2].Value), 10/80e3, 1e-6)
	var more units.GaugePressure
	require.NoError(t, more.UnmarshalText([]byte(a.Warnings[0].Value)))
	near(t, "weather", float64(more), 601.325e3*10/293.15, 1e-6)
	// With the exponent stated, its drop is the one that the warning gives.
	r.Front.Air.Exponent = 1.4
	b := answer(t, v)
	require.Equal(t, []string{"front weather_unknown", "rear friction_unknown"}, warned(b.Warnings))
	near(t, "drop", length(t, a.Warnings[1].Value), float64(b.Front.Ride.Reserve.DropHeight), 1e-9)
	r.Situation.Conditions, v.Conditions, r.Rear.Friction, v.Record = at(20, 0), at(20, 0), 40, &r
	require.Empty(t, answer(t, v).Warnings)
	v.Conditions, r.Situation.Conditions = nil, at(-10, 0)
	require.NoError(t, more.UnmarshalText([]byte(answer(t, v).Warnings[0].Value)))
	near(t, "weather from the cold", float64(more), 601.325e3*10/263.15, 1e-6)
	r.Situation.Conditions = at(20, 0)
	if a := answer(t, v); len(a.Warnings) != 1 || *a.Next.Situation.Conditions != *at(20, 0) {
		t.Errorf("%v, conditions %v", a.Warnings, a.Next.Situation.Conditions)
	}
}

// What is hardly meant is a warning: a rider of 82 g, in the visit or in the record, a bar for a psi. At a
// first visit the sheet's warnings are the visit's.
func TestVisitDoubtsWhatIsHardlyMeant(t *testing.T) {
	r := handRecord()
	r.Rear = &visit.EndRecord{Setting: airEnd()}
	r.Rear.Air.Fill, r.Rear.Air.MaxFill = 5e3, 2e6
	r.Situation.Conditions = at(20, 0)
	v := returns(r)
	v.Masses, v.Conditions = new(r.Situation.Masses), at(20, 0)
	v.Masses.RiderMass, v.Masses.BikeMass = 230, 60
	require.Equal(t, []string{"masses.rider_mass implausible", "masses.bike_mass implausible", "record.rear.air.fill implausible"}, warned(answer(t, v).Warnings))
	v.Masses, v.RiderMass = nil, 230
	require.Equal(t, []string{"rider_mass implausible", "record.rear.air.fill implausible"}, warned(answer(t, v).Warnings))
	v.RiderMass, r.Situation.Masses.BikeMass = 0, 70
	v.Record = &r
	require.Equal(t, []string{"record.situation.masses.bike_mass implausible", "record.rear.air.fill implausible"}, warned(answer(t, v).Warnings))
	j := demoJob(t)
	j.Rear.Sag = 0.8
	s := sheet(t, j)
	a := answer(t, advice.Visit{Schema: advice.VisitSchema, Date: "2026-11-26", Job: &j, Conditions: at(20, 0)})
	require.NotEmpty(t, s.Warnings)
	require.Equal(t, warned(s.Warnings), warned(a.Warnings))
	for _, row := range rows.Pick(a.Rows(), rows.Warnings) {
		if row.End != "" && row.End != sag.Front && row.End != sag.Rear {
			t.Errorf("%+v", row)
		}
	}
}

// What is beyond collar, marking or any fill is said, and which spring does it; so is what a ride says
// beside the sag.
func TestAdviceBeyondTheLimits(t *testing.T) {
	coil := func(preload, most units.Length) visit.Setting {
		s := coilEnd()
		s.Coil = &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: 80e3}, Preload: preload, Collar: fit.Collar{PreloadMax: most}}
		return s
	}
	air := func(fill, most units.GaugePressure) visit.Setting {
		s := airEnd()
		s.Air.Fill, s.Air.MaxFill = fill, most
		return s
	}
	exponent := airEnd()
	exponent.Air.Fill, exponent.Air.SpacerVolume = 1400e3, 8e-6
	soft := airEnd()
	soft.Air.Fill = 900e3
	for _, test := range []struct {
		name  string
		s     visit.Setting
		found advice.EndVisit
		codes []string
		text  string
	}{
		// 18 mm of stroke with 1 mm of preload is 608 N at the wheel; 28 % wants 1520/80 − 16.8 = 2.2 mm of preload.
		{"no more collar", coil(1*milli, 1*milli), advice.EndVisit{Readings: readings(0.5, 18)}, []string{"unexplained", "cause_rate", "cause_load", "cause_preload", "other_rate"}, "more preload than the collar gives. At the preload that is set a spring of 488 lbf/in"},
		// 559 N at the wheel are 17.47 mm of spring, 12 mm of preload leave 5.47 mm: the least preload is too much.
		{"no less collar", visit.Setting{Curve: coilEnd().Curve, Sag: 0.4, Coil: &visit.CoilSetting{ShelfSpring: fit.ShelfSpring{Rate: 80e3}}}, advice.EndVisit{}, []string{"other_rate"}, "less preload"},
		{"no more than the marking", air(300e3, 300e3), advice.EndVisit{}, []string{"fill_at_max"}, "stop at the marking"},
		{"less than nothing", visit.Setting{Curve: tube().Curve, Sag: 0.9, Air: &visit.AirSetting{NegativeChamber: fit.None, MaxFill: 1e6,
			Spec: airspring.Spec{Bore: 0.045, PositiveVolume: 270e-6, Fill: 100e3, Ambient: airspring.SeaLevel}}}, advice.EndVisit{}, []string{"set_fill", "fill_impossible"}, "No fill"},
		{"hard and little used", exponent, advice.EndVisit{Ride: &visit.Ride{Stroke: 0.06, Error: milli}}, []string{"set_fill", "little_used", "sag_first", "option_fill", "option_fill", "damping"}, "sags less than wanted"},
		{"hard and all used", exponent, advice.EndVisit{Ride: &visit.Ride{Stroke: 0.16, Error: milli}}, []string{"set_fill", "all_used", "more_progression", "option_fill", "option_spacers", "option_fill", "damping"}, "from somewhere else"},
		{"soft and little used", soft, advice.EndVisit{Ride: &visit.Ride{Stroke: 0.09, Error: milli}}, []string{"set_fill", "little_used", "less_progression", "option_fill", "option_fill", "damping"}, "fewer spacers"},
		{"soft and all used", soft, advice.EndVisit{Ride: &visit.Ride{Stroke: 0.16, Error: milli}}, []string{"set_fill", "all_used", "sag_first", "option_fill", "option_fill", "damping"}, "sags more than wanted"},
		{"well used", coil(2*milli, 0), advice.EndVisit{Ride: &visit.Ride{Stroke: 0.055, Error: milli}}, []string{"set_preload", "well_used"}, "91.7 %"},
		{"hardly moved", coil(2*milli, 0), advice.EndVisit{Ride: &visit.Ride{Stroke: 0.02, Error: milli}}, []string{"set_preload", "little_used", "sag_first", "option_preload", "option_preload", "damping"}, "letting the load down"},
	} {
		r := handRecord()
		r.Situation.Conditions = at(20, 0)
		r.Rear = &visit.EndRecord{Setting: test.s}
		v := returns(r)
		v.Conditions, v.Rear = at(20, 0), &test.found
		a := answer(t, v)
		text := ""
		for _, one := range a.Rear.Advice {
			text += one.Text + "\n"
		}
		if diff := cmp.Diff(test.codes, codes(a.Rear.Advice)); diff != "" || !strings.Contains(text, test.text) {
			t.Errorf("%s (-want +got):\n%s\n%s", test.name, diff, text)
		}
	}
}

// The whole advice of one end, word for word, and the line of the notes. By hand: 15.45 mm are 80·17.45/2.5
// = 558.4 N, and the full stroke stores ½·k·((60 + p)² − p²): 153.6 J at 2 mm of preload, 147.6 J at 0.75,
// 151.2 J at 84 N/mm, 153.0 J at 1.875 mm; over the load, less 150 mm.
func TestAdviceReads(t *testing.T) {
	r := handRecord()
	r.Notes = nil
	v := returns(r)
	v.Rear = &advice.EndVisit{Readings: readings(0.5, 15.5, 15.4), Ride: &visit.Ride{Stroke: 0.06, Error: milli}, Felt: visit.FeltTooHard}
	var got []string
	a := answer(t, v)
	for _, one := range a.Rear.Advice {
		got = append(got, one.Text)
	}
	want := []string{
		"The ring stands where it should, at 15.5 mm (0.61 in) with 15.5 mm (0.61 in) expected.",
		"For a sag of 28.0 % set 0.8 mm (0.03 in) of preload, 0.50 turns from free, -1.2 mm (-0.05 in), -0.83 turns.",
		"The ride used all of the travel, a hit as hard as an undamped drop of 0.13 m (5 in) or harder.",
		"It sags less than wanted all the same: less fill or preload for the sag needs more force at full travel from somewhere else.",
		"The same spring with 0.8 mm (0.03 in) of preload. Sag 27.8 %; the same hit would use all of the travel, and a drop of 0.11 m (5 in) all.",
		"A spring of 480 lbf/in (84.00 N/mm) with 0.0 mm (0.00 in) of preload. Sag 27.7 %; the same hit would use all of the travel, and a drop of 0.12 m (5 in) all.",
		"The same spring with 1.9 mm (0.07 in) of preload. Sag 26.0 %; the same hit would use all of the travel, and a drop of 0.12 m (5 in) all.",
		"More compression damping takes a part of the hit as well. How much can't be told from a ring: try it a click at a time, with the sag right.",
		"It feels too hard and yet uses all of its travel: neither more nor less sag mends that. More progression at the end of the travel does (a spacer, where there are any), together with a little more sag.",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	require.Equal(t, []string{
		"2026-11-26 front: set to 14.6 mm (0.57 in) of preload.",
		"2026-11-26 rear: ring 15.5 mm; ride used 100.0 %; felt too_hard; set to 0.8 mm (0.03 in) of preload, 0.50 turns from free.",
	}, a.Next.Notes)
	v.Rear = &advice.EndVisit{Readings: readings(2, 16.8)}
	a = answer(t, v)
	require.Equal(t, "2026-11-26 rear: ring 16.8 mm; left as it was.", a.Next.Notes[1])
	v.Rear = &advice.EndVisit{Ride: &visit.Ride{Stroke: 0.045, Error: milli}}
	a = answer(t, v)
	for _, one := range a.Rear.Advice {
		if strings.HasPrefix(one.Code, "option_") && (strings.Contains(one.Text, "at least") || !strings.Contains(one.Text, "the same hit would use")) {
			t.Error(one.Text)
		}
	}
	require.Contains(t, a.Rear.Advice[len(a.Rear.Advice)-1].Text, "Less compression damping")
	// Of air and of coils there are cautions of their own.
	for _, one := range []visit.Setting{airEnd(), coilEnd()} {
		r.Front, r.Rear = nil, &visit.EndRecord{Setting: one}
		require.Equal(t, fit.Cautions(one.Air != nil, one.Coil != nil), answer(t, returns(r)).Cautions)
	}
}

// The rows have every piece of advice, every warning and every caution, and numbers in both systems.
func TestRowsSayAll(t *testing.T) {
	r := visited(t)
	v := returns(r)
	v.Front = &advice.EndVisit{Fill: 400e3, Readings: readings(1, 40, 41), Ride: &visit.Ride{Stroke: 0.12, Error: milli}}
	v.Rear = &advice.EndVisit{Readings: readings(0.5, 22), Ride: &visit.Ride{Stroke: 0.065, Error: milli}, Felt: visit.FeltTooSoft}
	a := answer(t, v)
	all := a.Rows()
	for section, want := range map[rows.Section]int{
		rows.Advice: len(a.Front.Advice) + len(a.Rear.Advice), rows.Warnings: len(a.Warnings), rows.Cautions: len(a.Cautions),
		rows.Plan: 4 + 4,
	} {
		if got := rows.Pick(all, section); len(got) != want || want == 0 || section.Title() == "" {
			t.Errorf("%s: %d rows, want %d", section, len(got), want)
		}
	}
	for _, section := range []rows.Section{rows.Read, rows.Adjust, rows.Ridden} {
		for _, axle := range []sag.Axle{sag.Front, sag.Rear} {
			if got := rows.Pick(all, section, axle); len(got) < 3 || section.Title() == "" {
				t.Errorf("%s, %s: %v", axle, section, got)
			}
		}
	}
	seen := map[string]bool{}
	for _, row := range all {
		id := string(row.End) + string(row.Section) + row.Key
		if row.Label != "" && (seen[id] || row.Metric == "") {
			t.Errorf("again, or without a number: %+v", row)
		}
		seen[id] = row.Label != ""
		if strings.Contains(row.String(), "NaN") || strings.Contains(row.String(), "%!") {
			t.Errorf("%v", row)
		}
	}
}
