package advice_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/examples/internal/advice"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/sag/visit"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// returns is a visit to a bike that was left as a record has it.
func returns(r visit.Record) advice.Visit {
	return advice.Visit{Schema: advice.VisitSchema, Date: "2026-11-26", Record: &r}
}

func answer(t testing.TB, v advice.Visit) *advice.Answer {
	t.Helper()
	a, err := v.Answer()
	require.NoError(t, err)
	if bad := unitstest.Infinite(a); bad != "" {
		t.Fatal(bad)
	}
	return a
}

func codes(list []advice.Item) (all []string) {
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
	a := answer(t, advice.Visit{Schema: advice.VisitSchema, Date: "2026-11-26", Job: &j, Conditions: where})
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
				v.Rear = &advice.EndVisit{Readings: []visit.Reading{{Stroke: rest.Stroke, Error: 0.5 * milli}}}
				a := answer(t, v)
				near(t, "load by the ring", float64(a.Rear.Load), float64(load), 1e-9)
				var out bytes.Buffer
				_, err = a.Next.WriteTo(&out)
				require.NoError(t, err)
				r, _, err = visit.ReadRecord(&out)
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

// What is written today of the jobs of all demonstrations, and of the demonstration's visit, reads back
// equal.
func TestRecordsOfDemonstrationsReadBack(t *testing.T) {
	files, err := filepath.Glob("../../*/demo/*.json")
	require.NoError(t, err)
	kinds := map[string]int{}
	for _, file := range files {
		text, err := os.ReadFile(file)
		require.NoError(t, err)
		var head struct{ Schema string }
		require.NoError(t, json.Unmarshal(text, &head), file)
		kinds[head.Schema]++
		var want visit.Record
		switch head.Schema {
		case setup.JobSchema:
			j, err := setup.ReadJob(bytes.NewReader(text))
			require.NoError(t, err, file)
			s := sheet(t, j)
			if front, rear := s.Front, s.Rear; front != nil && front.Gauge != nil && front.Gauge.Chambers == nil || rear != nil && rear.Gauge != nil && rear.Gauge.Chambers == nil {
				continue // too few readings for a record
			}
			want, err = visit.NewRecord("2026-11-26", j, s)
			require.NoError(t, err, file)
		case advice.VisitSchema:
			v, err := advice.ReadVisit(bytes.NewReader(text), nil, nil)
			require.NoError(t, err, file)
			want = answer(t, v).Next
		default:
			continue
		}
		var out bytes.Buffer
		_, err = want.WriteTo(&out)
		require.NoError(t, err, file)
		got, marked, err := visit.ReadRecord(&out)
		require.NoError(t, err, file)
		require.Empty(t, marked, file)
		if diff := cmp.Diff(want, got, cmpopts.EquateEmpty()); diff != "" {
			t.Errorf("%s (-written +read):\n%s", file, diff)
		}
	}
	require.GreaterOrEqual(t, kinds[setup.JobSchema], 5)
	require.GreaterOrEqual(t, kinds[advice.VisitSchema], 1)
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
	v.Rear = &advice.EndVisit{Fill: 400e3}
	a = answer(t, v)
	near(t, "lost", float64(a.Rear.FillChange), 400e3-(601.325e3*268.15/293.15-101.325e3), 1e-6)
	require.Contains(t, codes(a.Rear.Advice), "air_lost")
	near(t, "counts as what is in it", float64(a.Rear.Now.Fill), 400e3, 0)
	near(t, "what is set is more by", float64(a.Rear.Set.Air.FillChange), float64(a.Rear.Set.Air.Fill-400e3), 1e-9)
	v.Rear.Fill = 600e3
	require.Contains(t, codes(answer(t, v).Rear.Advice), "air_gained")
	near(t, "and carries", float64(a.Rear.Now.Rest.Stroke), float64(func() units.Length {
		spec := stands(t, airEnd()).Law.(*airspring.Spring).Spec()
		spec.Fill = 400e3
		end, err := sag.AirEnd(stands(t, airEnd()).Curve, spec)
		require.NoError(t, err)
		rest, err := end.Settle(a.To.Rear)
		require.NoError(t, err)
		return rest.Stroke
	}()), 1e-9)
	for _, fill := range []units.GaugePressure{448.8e3, 448.72e3 * 0.981, 448.72e3 * 1.019} { // 2 % is no news
		v.Rear.Fill = fill
		require.NotContains(t, strings.Join(codes(answer(t, v).Rear.Advice), " "), "air_")
	}
	v.Rear.Fill = 448.72e3 * 0.979
	require.Contains(t, codes(answer(t, v).Rear.Advice), "air_lost")
	v.Rear.Fill = 448.72e3 * 1.021
	require.Contains(t, codes(answer(t, v).Rear.Advice), "air_gained")
}

// Another rider, another place and other weather change what arrives.
func TestVisitIsTheArrivalOfItsRecord(t *testing.T) {
	r := visited(t)
	r.Front.Readings, r.Rear.Readings = nil, nil
	r.Situation.Conditions = at(12, 300)
	v := returns(r)
	v.RiderMass, v.Conditions = 95, at(30, 2000)
	to := r.Situation
	to.Masses.RiderMass, to.Conditions = 95, v.Conditions
	a := answer(t, v)
	for _, end := range []struct {
		axle sag.Axle
		got  *advice.EndAnswer
		sag  float64
	}{{sag.Front, a.Front, r.Front.Sag}, {sag.Rear, a.Rear, r.Rear.Sag}} {
		e := arrive(t, r, end.axle, to)
		set, err := e.Correction(sag.Target{Load: e.Now.Load, Sag: end.sag})
		require.NoError(t, err)
		if diff := cmp.Diff([]any{e.Left, e.Now, set}, []any{end.got.Left, end.got.Now, end.got.Set}); diff != "" {
			t.Errorf("(-arrival +visit):\n%s", diff)
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
		v.Rear = &advice.EndVisit{Readings: test.rings}
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
		v.Rear = &advice.EndVisit{Felt: felt, Ride: &visit.Ride{Stroke: 0.14, Error: 0.5 * milli}}
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
	v.Rear = &advice.EndVisit{Ride: &visit.Ride{Stroke: 0.16, Error: 0.5 * milli}}
	v.Record = &r
	if a = answer(t, v); len(a.Next.Rear.Tried) != 0 {
		t.Errorf("a trial of %+v", a.Next.Rear.Tried)
	}
	r.Rear.Tried = []visit.Tried{{Sag: 0.19, Felt: visit.FeltTooSoft}}
	if a = answer(t, v); len(a.Next.Rear.Tried) != 2 || a.Next.Rear.Tried[1].Ride != visit.AllUsed {
		t.Errorf("tried %+v", a.Next.Rear.Tried)
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
	b := answer(t, advice.Visit{Schema: advice.VisitSchema, Date: "2026-11-27", Record: &a.Next, Conditions: at(30, 1500)})
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
	v.Rear = &advice.EndVisit{Readings: readings(2, 60)}
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
		v.Front, v.Rear = &advice.EndVisit{}, &advice.EndVisit{}
		named(t, string(axle), second(v.Answer()), string(map[sag.Axle]sag.Axle{sag.Front: sag.Rear, sag.Rear: sag.Front}[axle]))
	}
}

// The plan goes by the best of the rings that were read, or the ring of the ride, or 1 mm. At a ratio of
// 2.5 over 150 mm it is 1/30 of the travel for 1 mm.
func TestPlanGoesByTheRing(t *testing.T) {
	for _, test := range []struct {
		found advice.EndVisit
		step  float64
	}{
		{advice.EndVisit{}, 1 / 30.0},
		{advice.EndVisit{Ride: &visit.Ride{Stroke: 0.05, Error: 2 * milli}}, 2 / 30.0},
		{advice.EndVisit{Ride: &visit.Ride{Stroke: 0.05, Error: 2 * milli}, Readings: append(readings(4, 16), readings(3, 16)...)}, 3 / 30.0},
		{advice.EndVisit{Ride: &visit.Ride{Stroke: 0.05, Error: 2 * milli}, Readings: append(readings(3, 16), readings(4, 16)...)}, 3 / 30.0},
		{advice.EndVisit{Ride: &visit.Ride{Stroke: 0.05, Error: 14.9 * milli}}, 14.9 / 30.0},
		{advice.EndVisit{Ride: &visit.Ride{Stroke: 0.05, Error: 15 * milli}}, 0},
	} {
		v := returns(handRecord())
		v.Rear = &test.found
		a := answer(t, v)
		if a.Rear.Plan == nil != (test.step == 0) {
			t.Errorf("%+v: %+v", test.found, a.Rear.Plan)
		} else if test.step > 0 {
			near(t, "step", a.Rear.Plan.Step, test.step, 1e-9)
		}
	}
	// A hundred trials are remembered, the last of them.
	r := handRecord()
	r.Rear.Tried = slices.Repeat([]visit.Tried{{Sag: 0.4, Felt: visit.FeltTooSoft}}, 100)
	v := returns(r)
	v.Rear = &advice.EndVisit{Felt: visit.FeltTooSoft}
	if tried := answer(t, v).Next.Rear.Tried; len(tried) != 100 || tried[99].Sag == 0.4 || tried[98].Sag != 0.4 {
		t.Errorf("%d tried", len(tried))
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

func TestVisitsAreRefusedByField(t *testing.T) {
	j := demoJob(t)
	for _, test := range []struct {
		name  string
		spoil func(*advice.Visit)
		want  []string
	}{
		{"good", func(*advice.Visit) {}, nil},
		{"nothing", func(v *advice.Visit) { *v = advice.Visit{} }, []string{"schema", "date", "record"}},
		{"both", func(v *advice.Visit) { v.Job = &j }, []string{"job"}},
		{"a bad record", func(v *advice.Visit) { v.Record.Rear.Coil.Rate, v.Record.Date = -1, "" }, []string{"record.date", "record.rear.coil.rate"}},
		{"a bad job", func(v *advice.Visit) {
			bad := demoJob(t)
			bad.Rear.Sag = 2
			v.Record, v.Job, v.Rear = nil, &bad, &advice.EndVisit{}
		}, []string{"job.rear.sag"}},
		{"a rider of nothing", func(v *advice.Visit) { v.RiderMass = -1 }, []string{"rider_mass"}},
		{"a rider beside masses", func(v *advice.Visit) { v.RiderMass, v.Masses = 80, new(rider(80)) }, []string{"rider_mass"}},
		{"bad masses", func(v *advice.Visit) { v.Masses = new(sag.Masses{RiderMass: 80, RearShare: 0.6}) }, []string{"masses.bike_mass", "masses.unsprung_front", "masses.unsprung_rear"}},
		{"a place nowhere", func(v *advice.Visit) { v.Conditions = at(20, 1e6) }, []string{"conditions.altitude"}},
		{"readings", func(v *advice.Visit) {
			v.Rear = &advice.EndVisit{Readings: []visit.Reading{{Stroke: 1, Error: 1}, {Stroke: 0.01}}}
		}, []string{"rear.readings[0].stroke", "rear.readings[1].error"}},
		{"too many readings", func(v *advice.Visit) {
			v.Front = &advice.EndVisit{Readings: slices.Repeat(readings(1, 18), 1001)}
		}, []string{"front.readings"}},
		{"a ride and a word", func(v *advice.Visit) {
			v.Rear = &advice.EndVisit{Ride: &visit.Ride{Stroke: 1, Error: 0.001}}
			v.Front = &advice.EndVisit{Felt: "fine"}
		}, []string{"front.felt"}},
		{"a ride", func(v *advice.Visit) { v.Rear = &advice.EndVisit{Ride: &visit.Ride{Stroke: 1, Error: 0.001}} }, []string{"rear.ride.stroke"}},
		{"a fill of a coil", func(v *advice.Visit) { v.Rear = &advice.EndVisit{Fill: 1e5} }, []string{"rear.fill"}},
		{"an invalid fill", func(v *advice.Visit) {
			v.Record.Rear.Setting = airEnd()
			v.Rear = &advice.EndVisit{Fill: units.GaugePressure(math.NaN())}
		}, []string{"rear.fill"}},
		{"another rider on scales", func(v *advice.Visit) {
			m := &v.Record.Situation.Masses
			m.RiderMass, m.RearShare, m.FrontScale, m.RearScale = 0, 0, 40, 60
			v.RiderMass = 80
		}, []string{"rider_mass"}},
	} {
		v := returns(handRecord())
		test.spoil(&v)
		named(t, test.name, second(v.Answer()), test.want...)
	}
	const bad = `{"schema": "wheelrate/visit/1", "dates": 3, "rear": {"felt": 1}}`
	_, err := advice.ReadVisit(strings.NewReader(bad), nil, nil)
	named(t, "text", err, "dates", "rear.felt", "record")
	r := handRecord()
	_, err = advice.ReadVisit(strings.NewReader(bad), &r, nil)
	named(t, "text beside a record", err, "dates", "rear.felt")
	_, err = advice.ReadVisit(strings.NewReader(bad), nil, &j)
	named(t, "text beside a job", err, "dates", "rear.felt")
	_, err = advice.ReadVisit(strings.NewReader(`{"schema": "wheelrate/visit/1", "job": {}}`), &r, nil)
	named(t, "a job beside a record", err, "record")

	var newer bytes.Buffer
	require.NoError(t, second(r.WriteTo(&newer)))
	within := strings.Replace(newer.String(), `"date"`, `"rain": true, "date"`, 1)
	_, err = advice.ReadVisit(strings.NewReader(`{"schema": "wheelrate/visit/1", "date": "2026-11-26", "record": `+within+`}`), nil, nil)
	require.ErrorIs(t, err, units.ErrNewer)
	named(t, "a record of a newer version", err, "record.rain")
}

// FuzzVisit: a visit has an answer of finite numbers whose next record can be written, or an error
// that names fields.
func FuzzVisit(f *testing.F) {
	r, j := visited(f), demoJob(f)
	r.Job = nil
	v := returns(r)
	v.Rear = &advice.EndVisit{Readings: readings(0.5, 22), Ride: &visit.Ride{Stroke: 0.065, Error: milli}, Felt: visit.FeltTooSoft}
	v.Front = &advice.EndVisit{Fill: 400e3, Ride: &visit.Ride{Stroke: 0.1, Error: milli}}
	for _, seed := range []advice.Visit{v, {Schema: advice.VisitSchema, Date: "2026-11-26", Job: &j}} {
		text, err := json.Marshal(seed)
		require.NoError(f, err)
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		v, err := advice.ReadVisit(bytes.NewReader(text), nil, nil)
		if err != nil || v.Job != nil && v.Job.Uncertainty != nil || v.Record != nil && v.Record.Job != nil {
			return
		}
		a, err := v.Answer()
		if err != nil {
			require.NotEmpty(t, units.Fields(err), err)
			return
		}
		if bad := unitstest.Infinite(a); bad != "" && !bytes.Contains(text, []byte("NaN")) && !bytes.Contains(text, []byte("Inf")) {
			t.Fatal(bad)
		}
		if err := check(a.Next); err != nil {
			t.Fatalf("an invalid record: %v", err)
		}
		a.Rows()
	})
}
