package visit_test

import (
	"bytes"
	"encoding/json"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/rows"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
)

// returns is a visit to a bike that was left as a record has it.
func returns(r visit.Record) visit.Visit {
	return visit.Visit{Schema: visit.VisitSchema, Date: "2026-11-26", Record: &r}
}

func answer(t testing.TB, v visit.Visit) *visit.Answer {
	t.Helper()
	a, err := v.Answer()
	require.NoError(t, err)
	answered(t, "answer", a, nil)
	return a
}

func codes(list []visit.Advice) (all []string) {
	for _, a := range list {
		all = append(all, a.Code)
	}
	return all
}

func warned(list []units.Warning) (all []string) {
	for _, w := range list {
		all = append(all, w.Field+" "+w.Code)
	}
	return all
}

// A first visit starts from a job: the record is that of its sheet.
func TestFirstVisitIsTheSheet(t *testing.T) {
	j := demoJob(t)
	where := at(12, 300)
	a := answer(t, visit.Visit{Schema: visit.VisitSchema, Date: "2026-11-26", Job: &j, Conditions: where})
	want, err := visit.NewRecord("2026-11-26", j, sheet(t, j))
	require.NoError(t, err)
	want.Situation.Conditions = where
	got := a.Next
	got.Notes = nil
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	require.Equal(t, []string{"set_up"}, codes(a.Front.Advice))
	require.Equal(t, []string{"set_up"}, codes(a.Rear.Advice))
	require.Equal(t, warned(sheet(t, j).Warnings), warned(a.Warnings))
}

// A bike whose load is not as stated is led to its target by its ring, and from then on left alone.
// The bike itself is a spring law with a load of its own, of which the visits see the ring alone.
func TestVisitsComeToTheTarget(t *testing.T) {
	for _, kind := range []visit.Setting{coilEnd(), airEnd(), tableEnd()} {
		for _, off := range []units.Force{-60, -20, 0, 30, 70} {
			r := handRecord()
			r.Rear = &visit.EndRecord{Setting: kind}
			load := 558.97905 + off
			changes := 0
			for range 4 {
				rest, err := stands(t, r.Rear.Setting).Settle(load)
				require.NoError(t, err)
				v := returns(r)
				v.Rear = &visit.EndVisit{Readings: []visit.Reading{{Stroke: rest.Stroke, Error: 0.5 * milli}}}
				a := answer(t, v)
				near(t, "load by the ring", float64(a.Rear.Load), float64(load), 1e-9)
				var out bytes.Buffer
				_, err = a.Next.WriteTo(&out)
				require.NoError(t, err)
				r, err = visit.ReadRecord(&out)
				require.NoError(t, err)
				if a.Rear.Change {
					changes++
				}
			}
			rest, err := stands(t, r.Rear.Setting).Settle(load)
			require.NoError(t, err)
			if target := stands(t, kind).Curve.StrokeAt(units.Length(kind.Sag) * stands(t, kind).Curve.Travel()); math.Abs(float64(rest.Stroke-target)) > 0.6*milli && r.Rear.Coil == nil || changes > 1 && r.Rear.Coil == nil || changes > 2 {
				t.Errorf("%v off: %d changes, ring at %v, want %v", off, changes, rest.Stroke, target)
			}
		}
	}
}

// By hand: at −5 °C an absolute 601.325 kPa is 601.325·268.15/293.15 = 550.04 kPa at 20 °C before, that
// is 448.72 kPa above 101.325. Of these 400 were read, so 48.72 kPa are lost.
func TestLostAirIsToldFromCold(t *testing.T) {
	r := handRecord()
	r.Rear = &visit.EndRecord{Setting: airEnd()}
	r.Situation.Conditions = at(20, 0)
	v := returns(r)
	v.Conditions = at(-5, 0)
	a := answer(t, v)
	near(t, "fill in the cold", float64(a.Rear.Now.Fill), 601.325e3*268.15/293.15-101.325e3, 1e-6)
	near(t, "nothing lost", float64(a.Rear.FillChange), 0, 0)
	v.Rear = &visit.EndVisit{Fill: 400e3}
	a = answer(t, v)
	near(t, "lost", float64(a.Rear.FillChange), 400e3-(601.325e3*268.15/293.15-101.325e3), 1e-6)
	require.Contains(t, codes(a.Rear.Advice), "air_lost")
	near(t, "counts as what is in it", float64(a.Rear.Now.Fill), 400e3, 0)
	near(t, "what is set is more by", float64(a.Rear.Set.Air.FillChange), float64(a.Rear.Set.Air.Fill-400e3), 1e-9)
	v.Rear.Fill = 600e3
	require.Contains(t, codes(answer(t, v).Rear.Advice), "air_gained")
	v.Rear.Fill = 448.8e3
	require.NotContains(t, strings.Join(codes(answer(t, v).Rear.Advice), " "), "air_")
}

// Another rider, another place and other weather are the change that the record makes of them.
func TestVisitIsTheChangeOfItsRecord(t *testing.T) {
	r := visited(t)
	r.Front.Readings, r.Rear.Readings = nil, nil
	r.Situation.Conditions = at(12, 300)
	v := returns(r)
	v.RiderMass, v.Conditions = 95, at(30, 2000)
	to := r.Situation
	to.Masses.RiderMass, to.Conditions = 95, v.Conditions
	want := effect(t, r.ChangeTo(to))
	a := answer(t, v)
	for _, end := range []struct {
		got  *visit.EndAnswer
		want *visit.EndEffect
	}{{a.Front, want.Front}, {a.Rear, want.Rear}} {
		if diff := cmp.Diff(end.want, &visit.EndEffect{Now: end.got.Left, Leave: end.got.Now, Set: end.got.Set}); diff != "" {
			t.Errorf("(-change +visit):\n%s", diff)
		}
		if !end.got.Change {
			t.Error("13 kg more and nothing to set")
		}
	}
	if diff := cmp.Diff(to, a.Next.Situation); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
	// All masses at once say the same; what another rider tried is forgotten.
	v.RiderMass, v.Masses = 0, &to.Masses
	near(t, "all masses", float64(answer(t, v).To.Rear), float64(a.To.Rear), 0)
	r.Rear.Tried = []visit.Tried{{Sag: 0.31, Felt: visit.FeltTooSoft}}
	if b := answer(t, v); b.Rear.Plan.Tried != nil || b.Next.Rear.Tried != nil {
		t.Errorf("still tried: %+v", b.Rear.Plan.Tried)
	}
	v.Masses = nil
	if b := answer(t, v); len(b.Rear.Plan.Tried) != 1 || len(b.Next.Rear.Tried) != 1 {
		t.Errorf("forgotten: %+v", b.Rear.Plan.Tried)
	}
}

// A ring read where it is expected is left alone with its readings kept; one that says otherwise is
// explained, most likely first, and set right; readings against each other change nothing.
func TestVisitReadsTheRing(t *testing.T) {
	rest := outcome(t, handRecord(), sag.Rear).Rest.Stroke
	for _, test := range []struct {
		name   string
		rings  []visit.Reading
		change bool
		codes  []string
		kept   int
	}{
		// The target is at 16.8 mm, the rest at 15.47.
		{"as expected", []visit.Reading{{Stroke: rest, Error: 2 * milli}}, false, []string{"as_expected", "leave"}, 1},
		{"as expected, off target", []visit.Reading{{Stroke: rest, Error: 0.3 * milli}}, true, []string{"as_expected", "set_preload"}, 0},
		{"held by friction", readings(0.1, 15.8), true, []string{"within_friction", "set_preload"}, 0},
		{"another load", readings(1, 19), true, []string{"unexplained", "cause_rate", "cause_load", "cause_preload", "set_preload"}, 0},
		{"no load", readings(0.1, 12, 19), false, []string{"read_again"}, 2},
	} {
		v := returns(handRecord())
		v.Rear = &visit.EndVisit{Readings: test.rings}
		a := answer(t, v)
		if diff := cmp.Diff(test.codes, codes(a.Rear.Advice)); diff != "" || a.Rear.Change != test.change || len(a.Next.Rear.Readings) != test.kept {
			t.Errorf("%s: change %v, %d kept (-want +got):\n%s", test.name, a.Rear.Change, len(a.Next.Rear.Readings), diff)
		}
		if was, now := a.Next.Rear.Coil.Preload != 2*milli, test.change; was != now {
			t.Errorf("%s: preload %v", test.name, a.Next.Rear.Coil.Preload)
		}
		if n := len(a.Next.Notes); n != 6 || !strings.HasPrefix(a.Next.Notes[5], "2026-11-26 rear: ring ") {
			t.Errorf("%s: notes %q", test.name, a.Next.Notes)
		}
	}
}

// What was felt goes on from visit to visit: too soft twice, then too hard, so the middle is kept, and
// the record is back to having nothing in trial.
func TestPlanGoesOnFromVisitToVisit(t *testing.T) {
	r := handRecord()
	r.Rear.Setting = airEnd()
	v := returns(r)
	a := answer(t, v)
	r = a.Next // on target
	rest := func() float64 { return outcome(t, r, sag.Rear).Rest.Sag }
	near(t, "on target", rest(), 0.2, 1e-6)
	for i, felt := range []visit.Felt{visit.FeltTooSoft, visit.FeltTooSoft, visit.FeltTooHard} {
		v = returns(r)
		v.Rear = &visit.EndVisit{Felt: felt, Ride: &visit.Ride{Stroke: 0.14, Error: 0.5 * milli}}
		a = answer(t, v)
		r = a.Next
		near(t, "sag", rest(), []float64{0.18, 0.16, 0.17}[i], 1e-6)
		near(t, "target", r.Rear.Sag, rest(), 1e-6)
		if n := len(r.Rear.Tried); n != []int{1, 2, 0}[i] {
			t.Errorf("%d tried after %d", n, i+1)
		}
	}
	require.Contains(t, codes(a.Rear.Advice), "plan_found")
	// A ride alone begins no trial, but counts in one.
	v.Rear = &visit.EndVisit{Ride: &visit.Ride{Stroke: 0.16, Error: 0.5 * milli}}
	v.Record = &r
	if a = answer(t, v); len(a.Next.Rear.Tried) != 0 {
		t.Errorf("a trial of %+v", a.Next.Rear.Tried)
	}
	r.Rear.Tried = []visit.Tried{{Sag: 0.19, Felt: visit.FeltTooSoft}}
	if a = answer(t, v); len(a.Next.Rear.Tried) != 2 || a.Next.Rear.Tried[1].Ride != visit.AllUsed {
		t.Errorf("tried %+v", a.Next.Rear.Tried)
	}
}

// What is taken for granted is said, with what it changes. By hand: 10 N at 80 N/mm are 0.125 mm at the
// ring; 600 kPa absolute at 20 °C are 20.5 kPa more 10 °C warmer.
func TestVisitSaysWhatItTakesForGranted(t *testing.T) {
	r := handRecord()
	r.Front, r.Rear.Friction = &visit.EndRecord{Setting: airEnd()}, 0
	v := returns(r)
	v.Front = &visit.EndVisit{Ride: &visit.Ride{Stroke: 0.15, Error: milli}}
	v.Rear = &visit.EndVisit{Readings: readings(0.5, 15.5)}
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
	v.Conditions = nil
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
	j := demoJob(t)
	j.Rear.Sag = 0.8
	s := sheet(t, j)
	a := answer(t, visit.Visit{Schema: visit.VisitSchema, Date: "2026-11-26", Job: &j, Conditions: at(20, 0)})
	require.NotEmpty(t, s.Warnings)
	require.Equal(t, warned(s.Warnings), warned(a.Warnings))
	for _, row := range rows.Pick(a.Rows(), rows.Warnings) {
		if row.End != "" && row.End != sag.Front && row.End != sag.Rear {
			t.Errorf("%+v", row)
		}
	}
}

// A spring said to have no negative chamber is still one in the next record.
func TestNextRecordKeepsItsStatements(t *testing.T) {
	r := handRecord()
	r.Front, r.Rear = &visit.EndRecord{Setting: tube()}, &visit.EndRecord{Setting: airEnd(), Note: "sticks"}
	r.Situation.Conditions = at(20, 0)
	r.Front.Air.MaxFill = 3e6
	v := returns(r)
	v.Conditions = at(30, 1500)
	a := answer(t, v)
	if was, now := *r.Front.Air, *a.Next.Front.Air; now.NegativeChamber != was.NegativeChamber || now.Ambient != 0 || now.Travel != 0 || now.Exponent != 0 || now.Fill == was.Fill {
		t.Errorf("was %+v, is %+v", was, now)
	}
	near(t, "the ambient that was stated, on the hill", float64(a.Next.Rear.Air.Ambient), 84556.1, 1e-5) // 101325·(1 − 0.0065·1500/288.15)^5.255876
	if a.Next.Rear.Note != "sticks" {
		t.Error("the note is lost")
	}
	// Left as it is, the next visit finds it on target.
	b := answer(t, visit.Visit{Schema: visit.VisitSchema, Date: "2026-11-27", Record: &a.Next, Conditions: at(30, 1500)})
	if b.Front.Change || b.Rear.Change {
		t.Errorf("front %+v, rear %+v", b.Front.Set.Air, b.Rear.Set.Air)
	}
}

func length(t testing.TB, text string) float64 {
	t.Helper()
	var l units.Length
	require.NoError(t, l.UnmarshalText([]byte(text)))
	return float64(l)
}

// A fill that the heat has brought above the marking is let out, whatever the ring says.
func TestFillAboveTheMarkingIsLetOut(t *testing.T) {
	r := handRecord()
	r.Rear = &visit.EndRecord{Setting: airEnd()}
	r.Rear.Air.MaxFill, r.Rear.Sag = 500e3, 0.2
	r.Situation.Conditions = at(0, 0)
	v := returns(r)
	v.Conditions = at(40, 0)
	v.Rear = &visit.EndVisit{Readings: readings(2, 60)}
	a := answer(t, v)
	require.Contains(t, codes(a.Rear.Advice), "over_marking")
	if !a.Rear.Change || a.Next.Rear.Air.Fill > 500e3 {
		t.Errorf("left at %v", a.Next.Rear.Air.Fill)
	}
}

// The bike may have one end. What was found at the other is refused.
func TestVisitToABikeWithOneEnd(t *testing.T) {
	for _, axle := range []sag.Axle{sag.Front, sag.Rear} {
		r := visited(t)
		r.Job = nil
		if axle == sag.Front {
			r.Rear, r.Situation.Masses.UnsprungRear = nil, nil
		} else {
			r.Front, r.Situation.Masses.UnsprungFront = nil, nil
		}
		v := returns(r)
		a := answer(t, v)
		if (a.Front != nil) != (axle == sag.Front) || (a.Rear != nil) != (axle == sag.Rear) || (a.Next.Front == nil) != (r.Front == nil) {
			t.Errorf("%s alone: %+v", axle, a)
		}
		for _, row := range a.Rows() {
			if row.End != "" && row.End != axle {
				t.Errorf("%s alone: %v", axle, row)
			}
		}
		v.Front, v.Rear = &visit.EndVisit{}, &visit.EndVisit{}
		named(t, string(axle), second(v.Answer()), string(map[sag.Axle]sag.Axle{sag.Front: sag.Rear, sag.Rear: sag.Front}[axle]))
	}
}

// What is beyond collar, marking or any fill is said, and which spring does it; so is what a ride says
// beside the sag.
func TestAdviceBeyondTheLimits(t *testing.T) {
	coil := func(preload, most units.Length) visit.Setting {
		s := coilEnd()
		s.Coil = &visit.CoilSetting{Rate: 80e3, Preload: preload, Collar: fit.Collar{PreloadMax: most}}
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
		found visit.EndVisit
		codes []string
		text  string
	}{
		// 18 mm of stroke with 1 mm of preload is 608 N at the wheel; 28 % wants 1520/80 − 16.8 = 2.2 mm of preload.
		{"no more collar", coil(1*milli, 1*milli), visit.EndVisit{Readings: readings(0.5, 18)}, []string{"unexplained", "cause_rate", "cause_load", "cause_preload", "other_rate"}, "more preload than the collar gives. At the preload that is set a spring of 488 lbf/in"},
		// 559 N at the wheel are 17.47 mm of spring, 12 mm of preload leave 5.47 mm: the least preload is too much.
		{"no less collar", visit.Setting{Curve: coilEnd().Curve, Sag: 0.4, Coil: &visit.CoilSetting{Rate: 80e3}}, visit.EndVisit{}, []string{"other_rate"}, "less preload"},
		{"no more than the marking", air(300e3, 300e3), visit.EndVisit{}, []string{"fill_at_max"}, "stop at the marking"},
		{"less than nothing", visit.Setting{Curve: tube().Curve, Sag: 0.9, Air: &visit.AirSetting{NegativeChamber: fit.None, MaxFill: 1e6,
			Spec: airspring.Spec{Bore: 0.045, PositiveVolume: 270e-6, Fill: 100e3, Ambient: airspring.SeaLevel}}}, visit.EndVisit{}, []string{"set_fill", "fill_impossible"}, "No fill"},
		{"hard and little used", exponent, visit.EndVisit{Ride: &visit.Ride{Stroke: 0.06, Error: milli}}, []string{"set_fill", "little_used", "sag_first", "option_fill", "option_fill", "damping"}, "sags less than wanted"},
		{"hard and all used", exponent, visit.EndVisit{Ride: &visit.Ride{Stroke: 0.16, Error: milli}}, []string{"set_fill", "all_used", "more_progression", "option_fill", "option_spacers", "option_fill", "damping"}, "from somewhere else"},
		{"soft and little used", soft, visit.EndVisit{Ride: &visit.Ride{Stroke: 0.09, Error: milli}}, []string{"set_fill", "little_used", "less_progression", "option_fill", "option_fill", "damping"}, "fewer spacers"},
		{"soft and all used", soft, visit.EndVisit{Ride: &visit.Ride{Stroke: 0.16, Error: milli}}, []string{"set_fill", "all_used", "sag_first", "option_fill", "option_fill", "damping"}, "sags more than wanted"},
		{"well used", coil(2*milli, 0), visit.EndVisit{Ride: &visit.Ride{Stroke: 0.055, Error: milli}}, []string{"set_preload", "well_used"}, "91.7 %"},
		{"hardly moved", coil(2*milli, 0), visit.EndVisit{Ride: &visit.Ride{Stroke: 0.02, Error: milli}}, []string{"set_preload", "little_used", "sag_first", "option_preload", "option_preload", "damping"}, "letting the load down"},
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

// A job that states its uncertainties makes the steps of the plan as large as that of its sag.
func TestPlanStepsByTheSheetsUncertainty(t *testing.T) {
	j := demoJob(t)
	j.Uncertainty = &certainty.Uncertainty{RiderMass: 12 * units.Kilogram}
	s := sheet(t, j)
	r, err := visit.NewRecord("2026-11-25", j, s)
	require.NoError(t, err)
	a := answer(t, returns(r))
	near(t, "front", a.Front.Plan.Step, s.Uncertainty.Front.Sag.Uncertainty, 1e-9)
	near(t, "rear", a.Rear.Plan.Step, s.Uncertainty.Rear.Sag.Uncertainty, 1e-9)
	if !(a.Rear.Plan.Step > 0.03) {
		t.Errorf("step %v", a.Rear.Plan.Step)
	}
}

// The rows have every piece of advice, every warning and every caution, and numbers in both systems.
func TestRowsSayAll(t *testing.T) {
	r := visited(t)
	v := returns(r)
	v.Front = &visit.EndVisit{Fill: 400e3, Readings: readings(1, 40, 41), Ride: &visit.Ride{Stroke: 0.12, Error: milli}}
	v.Rear = &visit.EndVisit{Readings: readings(0.5, 22), Ride: &visit.Ride{Stroke: 0.065, Error: milli}, Felt: visit.FeltTooSoft}
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

func TestVisitsAreRefusedByField(t *testing.T) {
	j := demoJob(t)
	for _, test := range []struct {
		name  string
		spoil func(*visit.Visit)
		want  []string
	}{
		{"good", func(*visit.Visit) {}, nil},
		{"nothing", func(v *visit.Visit) { *v = visit.Visit{} }, []string{"schema", "date", "record"}},
		{"both", func(v *visit.Visit) { v.Job = &j }, []string{"job"}},
		{"a bad record", func(v *visit.Visit) { v.Record.Rear.Coil.Rate, v.Record.Date = -1, "" }, []string{"record.date", "record.rear.coil.rate"}},
		{"a bad job", func(v *visit.Visit) {
			bad := demoJob(t)
			bad.Rear.Sag = 2
			v.Record, v.Job, v.Rear = nil, &bad, &visit.EndVisit{}
		}, []string{"job.rear.sag"}},
		{"a rider of nothing", func(v *visit.Visit) { v.RiderMass = -1 }, []string{"rider_mass"}},
		{"a rider beside masses", func(v *visit.Visit) { v.RiderMass, v.Masses = 80, new(rider(80)) }, []string{"rider_mass"}},
		{"bad masses", func(v *visit.Visit) { v.Masses = new(sag.Masses{RiderMass: 80, RearShare: 0.6}) }, []string{"masses.bike_mass", "masses.unsprung_front", "masses.unsprung_rear"}},
		{"a place nowhere", func(v *visit.Visit) { v.Conditions = at(20, 1e6) }, []string{"conditions.altitude"}},
		{"readings", func(v *visit.Visit) {
			v.Rear = &visit.EndVisit{Readings: []visit.Reading{{Stroke: 1, Error: 1}, {Stroke: 0.01}}}
		}, []string{"rear.readings[0].stroke", "rear.readings[1].error"}},
		{"too many readings", func(v *visit.Visit) {
			v.Front = &visit.EndVisit{Readings: slices.Repeat(readings(1, 18), 1001)}
		}, []string{"front.readings"}},
		{"a ride and a word", func(v *visit.Visit) {
			v.Rear = &visit.EndVisit{Ride: &visit.Ride{Stroke: 1, Error: 0.001}}
			v.Front = &visit.EndVisit{Felt: "fine"}
		}, []string{"front.felt"}},
		{"a ride", func(v *visit.Visit) { v.Rear = &visit.EndVisit{Ride: &visit.Ride{Stroke: 1, Error: 0.001}} }, []string{"rear.ride.stroke"}},
		{"a fill of a coil", func(v *visit.Visit) { v.Rear = &visit.EndVisit{Fill: 1e5} }, []string{"rear.fill"}},
		{"a fill that is none", func(v *visit.Visit) {
			v.Record.Rear.Setting = airEnd()
			v.Rear = &visit.EndVisit{Fill: units.GaugePressure(math.NaN())}
		}, []string{"rear.fill"}},
		{"another rider on scales", func(v *visit.Visit) {
			m := &v.Record.Situation.Masses
			m.RiderMass, m.RearShare, m.FrontScale, m.RearScale = 0, 0, 40, 60
			v.RiderMass = 80
		}, []string{"rider_mass"}},
	} {
		v := returns(handRecord())
		test.spoil(&v)
		named(t, test.name, second(v.Answer()), test.want...)
	}
	_, err := visit.ReadVisit(strings.NewReader(`{"schema": "wheelrate/visit/1", "dates": 3, "rear": {"felt": 1}}`))
	named(t, "text", err, "dates", "rear.felt", "record")
}

// FuzzVisit: a visit has an answer of finite numbers whose next record can be written, or an error
// that names fields.
func FuzzVisit(f *testing.F) {
	r := visited(f)
	r.Job = nil
	v := returns(r)
	v.Rear = &visit.EndVisit{Readings: readings(0.5, 22), Ride: &visit.Ride{Stroke: 0.065, Error: milli}, Felt: visit.FeltTooSoft}
	v.Front = &visit.EndVisit{Fill: 400e3, Ride: &visit.Ride{Stroke: 0.1, Error: milli}}
	text, err := json.Marshal(v)
	require.NoError(f, err)
	f.Add(text)
	f.Add([]byte(`{"schema": "wheelrate/visit/1", "date": "2026-11-26", "job": ` + demoText + `}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		v, err := visit.ReadVisit(bytes.NewReader(text))
		if err != nil || v.Job != nil && v.Job.Uncertainty != nil || v.Record != nil && v.Record.Job != nil {
			return
		}
		a, err := v.Answer()
		if answered(t, "answer", a, err) {
			if err := check(a.Next); err != nil {
				t.Fatalf("an invalid record: %v", err)
			}
			a.Rows()
		}
	})
}
