package rows_test

import (
	"encoding/json"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/stretchr/testify/require"

	"example.com/wheelrate/examples/internal/rows"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/certainty"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// demoJob reads a demonstration of the programs.
func demoJob(t testing.TB, name string) setup.Job {
	t.Helper()
	text, err := os.ReadFile("../../" + name)
	require.NoError(t, err)
	return readJob(t, string(text))
}

func readJob(t testing.TB, text string) setup.Job {
	t.Helper()
	j, err := setup.ReadJob(strings.NewReader(text))
	require.NoError(t, err)
	return j
}

func sheetOf(t testing.TB, j setup.Job) *setup.Sheet {
	t.Helper()
	s, err := setup.NewSheet(j)
	require.NoError(t, err)
	return s
}

// byHand is a bike whose answer is worked out by hand. 80 kg and 20 kg, half of it
// on either wheel, nothing unsprung: 490.3325 N a wheel. Both ends have a
// constant lever ratio of 2 over 100 mm of wheel travel, 50 mm of stroke, and
// should sag by 20 %: 20 mm at the wheel, 10 mm of stroke, where the spring
// must push with 2 · 490.3325 N = 980.665 N. Without preload that is a spring
// of 98.0665 N/mm, or 24.516625 N/mm at the wheel, and 2451.6625 N there at
// full travel. In customary units over 175.126835 N/m for 1 lbf/in: 560 lbf/in.
func byHand(t testing.TB) setup.Job {
	t.Helper()
	return readJob(t, `{"schema": "wheelrate/job/1",
	"masses": {"rider_mass": "80 kg", "bike_mass": "20 kg", "unsprung_front": "0 kg", "unsprung_rear": "0 kg", "rear_share": 0.5, "bike_rear_share": 0.5},
	"stances": [{"name": "climbing", "rear_share": 0.6}],
	"front": {"curve": {"constant": 2, "travel": "100 mm"}, "sag": 0.2, "coil": {"shelf": [{"rate": "98.0665 N/mm", "solid_travel": "60 mm"}]}},
	"rear":  {"curve": {"constant": 2, "travel": "100 mm"}, "sag": 0.2, "damping_ratio": 0.3, "drop_height": "50 mm", "friction": "98.0665 N",
	  "coil": {"shelf": [{"rate": "98.0665 N/mm", "solid_travel": "40 mm"}, {"rate": "196.133 N/mm"}], "thread_pitch": "1 mm", "preload_max": "1 mm"}}}`)
}

// find is the row of a key; the test fails unless there is exactly one.
func find(t testing.TB, all []rows.Row, section rows.Section, end sag.Axle, key string) rows.Row {
	t.Helper()
	var list []rows.Row
	for _, r := range rows.Pick(all, section, end) {
		if r.Key == key {
			list = append(list, r)
		}
	}
	require.Len(t, list, 1, "%s %s %s", section, end, key)
	return list[0]
}

// line is what the row of a key should say.
type line struct {
	section rows.Section
	end     sag.Axle
	key     string
	want    string
}

func say(t testing.TB, all []rows.Row, lines ...line) {
	t.Helper()
	for _, l := range lines {
		if got := find(t, all, l.section, l.end, l.key).String(); got != l.want {
			t.Errorf("%s %s %s: %q, want %q", l.section, l.end, l.key, got, l.want)
		}
	}
}

func TestRowsByHand(t *testing.T) {
	say(t, rows.Of(sheetOf(t, byHand(t))), []line{
		{rows.Set, sag.Front, "set", "front: spring 560 lbf/in (98.07 N/mm), preload 0.0 mm (0.00 in), sag 20.0 % = 10.0 mm (0.39 in) at the shock"},
		{rows.Loads, "", "rider", "rider, dressed to ride: 80.0 kg (176.4 lb)"},
		{rows.Loads, "", "bike", "bike: 20.0 kg (44.1 lb)"},
		{rows.Loads, "", "share", "share on the rear wheel: 50.0 %"},
		{rows.Loads, sag.Rear, "wheel", "rear wheel on the ground: 490 N (110.2 lbf)"},
		{rows.Loads, sag.Rear, "spring", "of it on the spring: 490 N (110.2 lbf)"},
		{rows.Fit, sag.Front, "rate", "spring: 98.07 N/mm (560 lbf/in)"},
		{rows.Fit, sag.Front, "ideal_rate", "exactly on target: 98.07 N/mm (560 lbf/in), at the collar's least preload"},
		{rows.Fit, sag.Front, "preload", "preload: 0.0 mm (0.00 in)"},
		{rows.Fit, sag.Front, "solid_reserve", "left before solid: 10.0 mm (0.39 in), at full stroke"},
		{rows.Expect, sag.Front, "sag", "sag at the wheel: 20.0 mm (0.79 in), 20.0 % of 100.0 mm"},
		{rows.Expect, sag.Front, "shock_sag", "sag at the shock: 10.0 mm (0.39 in), 20.0 % of 50.0 mm"},
		{rows.Expect, sag.Front, "friction", "friction: not stated, so no band is given"},
		{rows.Expect, sag.Front, "lever_ratio", "lever ratio: 2.000, all the way"},
		{rows.Expect, sag.Front, "spring_rate", "spring rate at sag: 98.07 N/mm (560 lbf/in)"},
		{rows.Expect, sag.Front, "wheel_rate", "wheel rate at sag: 24.52 N/mm (140 lbf/in)"},
		// √(24516.625 · 9.80665/490.3325)/2π = √490.3325/2π = 3.5242 Hz.
		{rows.Expect, sag.Front, "frequency", "bounce frequency: 3.52 Hz (211 per min), undamped"},
		{rows.Full, sag.Front, "full_force", "force at the wheel: 2452 N (551.2 lbf), 5.0 × the load on the spring"},
		{rows.Full, sag.Front, "travel_left", "travel left from sag: 80.0 mm (3.15 in)"},
		// ½ · 24516.625 N/m · (0.1² − 0.02²) m² = 117.68 J, over 1.3558179 J for 1 ft·lbf.
		{rows.Full, sag.Front, "energy_left", "energy left from sag: 118 J (87 ft·lbf), undamped"},
		// ½ · 24516.625 · 0.1²/490.3325 − 0.1 = 0.15 m.
		{rows.Full, sag.Front, "drop", "drop that uses it all: 0.15 m (6 in), undamped: not a promise"},
		{rows.Measure, sag.Front, "stroke", "ring at the shock: 10.0 mm (0.39 in), from full extension"},
		{rows.Measure, sag.Front, "wheel", "axle height, vertical: 20.0 mm (0.79 in), extended less loaded"},
		// Behind, 196 N/mm reach the end of the stroke, 5 mm of stroke where they rest,
		// a tenth of it for the 98.0665 N of friction either way: 0.5 mm.
		{rows.Fit, sag.Rear, "rate", "spring: 196.13 N/mm (1120 lbf/in)"},
		{rows.Expect, sag.Rear, "band", "friction may hold it at: 9.0–11.0 mm (0.35–0.43 in), for the 98 N (22.0 lbf) stated"},
		{rows.Measure, sag.Rear, "stroke_band", "friction allows: 4.5–5.5 mm (0.18–0.22 in)"},
		// 2 · 0.3 · √(49033.25 N/m · 50 kg) = 939.5 N·s/m, four times that at the shock.
		{rows.Full, sag.Rear, "damping", "damping at the wheel: 939 N·s/m (5.36 lbf·s/in), 0.30 of critical at sag, as stated"},
		{rows.Full, sag.Rear, "shock_damping", "at the shock: 3758 N·s/m (21.46 lbf·s/in)"},
		// Both ends: √2 of the front's rate behind; 40 % and 60 % climbing.
		{rows.Both, "", "frequency_ratio", "front/rear frequency: 0.71, bounce, fast stroke"},
		{rows.Both, sag.Front, "stances[0]", "climbing: 16.0 mm (0.63 in), 16.0 % sag, 60.0 % on the rear"},
		{rows.Both, sag.Rear, "stances[0]", "climbing: 12.0 mm (0.47 in), 12.0 % sag"},
		// The bike alone: 98.0665 N a wheel on 24.516625 and 49.03325 N/mm.
		{rows.Both, sag.Front, "free", "with nobody on: 4.0 mm (0.16 in), 4.0 % sag, 50.0 % on the rear"},
		{rows.Both, sag.Rear, "free", "with nobody on: 2.0 mm (0.08 in), 2.0 % sag"},
	}...)
}

// The springs on both sides of the exact one are described, or said to be missing. By
// hand from the same bike: 120 N/mm behind 2 settle at 980.665/120 = 8.17 mm of
// stroke, 16.3 %, with 120·50/2 N at the end and √(30 000·20/1000)/2π Hz.
func TestSpringsOnBothSidesOfTheExactOne(t *testing.T) {
	for _, test := range []struct {
		rate      units.Stiffness
		key, says string
	}{
		{120e3, "softer", "Nothing on the shelf is softer than the spring exactly on target."},
		{120e3, "harder", "The harder, 685 lbf/in at 0.0 mm of preload: sag 16.3 %, 3.7 % less than wanted; 3000 N (6.1 × the load) at full travel; 3.90 Hz."},
		{90e3, "softer", "sag 21.8 %, 1.8 % more than wanted;"}, // 980.665/90 = 10.90 mm
		{98e3, "softer", "sag 20.0 %, as wanted;"},              // 10.007 mm
		{90e3, "harder", "Nothing on the shelf is harder"},
	} {
		j := byHand(t)
		j.Front.Coil.Springs[0].Rate = test.rate
		if got := find(t, rows.Of(sheetOf(t, j)), rows.Others, sag.Front, test.key).Note; !strings.Contains(got, test.says) {
			t.Errorf("%v: %q does not say %q", test.rate, got, test.says)
		}
	}
}

// Preload is also told in turns of the collar, to a hundredth; by hand, of 1 mm or 1.5 mm
// each. The landing says whether it is damped.
func TestTurnsOfTheCollar(t *testing.T) {
	for _, test := range []struct {
		preload, pitch units.Length
		set, turns     string
	}{{0.25e-3, 1e-3, "0.2 mm", "0.25 turns"}, {1e-3, 1e-3, "1.0 mm", "1 turn"}, {1e-3, 1.5e-3, "1.0 mm", "0.67 turns"}} {
		j := byHand(t)
		j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax, j.Rear.Coil.ThreadPitch = test.preload, test.preload, test.pitch
		all := rows.Of(sheetOf(t, j))
		if got := find(t, all, rows.Fit, sag.Rear, "preload").Note; got != test.turns+" of the collar from loose" {
			t.Errorf("%v: %q", test.preload, got)
		}
		if got := find(t, all, rows.Set, sag.Rear, "set").Note; !strings.Contains(got, "preload "+test.set+" = "+test.turns+",") {
			t.Errorf("%v: %q", test.preload, got)
		}
		if got := find(t, all, rows.Full, sag.Rear, "landing").Note; !strings.HasSuffix(got, ", damped as above") {
			t.Errorf("%q", got)
		}
	}
}

// Spacers for the preload are told one by one, beside the turns of a collar if there is one.
func TestSpacersOfThePreload(t *testing.T) {
	j := byHand(t)
	j.Rear.Coil.Collar = fit.Collar{PreloadMin: 1e-3, PreloadMax: 1e-3, PreloadSpacers: []fit.PreloadSpacer{{Thickness: 20e-3, Count: 2}, {Thickness: 2.5e-3}}}
	j.Rear.Coil.Springs = j.Rear.Coil.Springs[:1]
	j.Rear.Coil.Springs[0] = fit.ShelfSpring{Rate: 15e3, SolidTravel: 0.2}
	for pitch, want := range map[units.Length]string{0: "spacers 20 + 20 + 2.5 mm", 1e-3: "spacers 20 + 20 + 2.5 mm and 1 turn of the collar from loose"} {
		j.Rear.Coil.ThreadPitch = pitch
		all := rows.Of(sheetOf(t, j))
		if got := find(t, all, rows.Fit, sag.Rear, "preload").Note; got != want {
			t.Errorf("%q, want %q", got, want)
		}
		if got := find(t, all, rows.Set, sag.Rear, "set").Note; !strings.Contains(got, "preload 43.5 mm = "+want) {
			t.Errorf("%q", got)
		}
	}
}

// Every section has a title, and stands in its place; rows of an end have their end,
// and a key that is no other's there; a number has its values; nothing is NaN.
func TestRowsAreWhole(t *testing.T) {
	order := []rows.Section{rows.Set, rows.Warnings, rows.Loads, rows.Fit, rows.Others, rows.Pump, rows.Expect, rows.Full, rows.Measure,
		rows.Both, rows.Riders, rows.Sure, rows.LeftOut, rows.Cautions}
	ofAnEnd := []rows.Section{rows.Set, rows.Fit, rows.Others, rows.Pump, rows.Expect, rows.Full, rows.Measure}
	seen := map[rows.Section]bool{}
	for _, name := range []string{"setup/demo/job.json", "setup/demo/coil-fork.json", "setup/demo/hardtail.json", "webpage/demo/air-both.json", "webpage/demo/pivots.json"} {
		s := sheetOf(t, demoJob(t, name))
		all := rows.Of(s)
		keys := map[string]bool{}
		for i, r := range all {
			seen[r.Section] = true
			place := slices.Index(order, r.Section)
			if place < 0 || r.Section.Title() == "" || slices.Contains(ofAnEnd, r.Section) && r.End == "" {
				t.Errorf("%s: %+v", name, r)
			}
			if i > 0 && place < slices.Index(order, all[i-1].Section) && !(r.End == sag.Rear && all[i-1].End == sag.Front) && !(r.Section == rows.Fit && all[i-1].Section == rows.Measure) {
				t.Errorf("%s: %s after %s", name, r.Section, all[i-1].Section)
			}
			key := fmt.Sprint(r.Section, r.End, r.Key)
			if keys[key] && r.Metric != "" {
				t.Errorf("%s: %s stands twice", name, key)
			}
			keys[key] = true
			if r.Key == "" || r.Metric == "" && r.Note == "" || r.Metric != "" && (r.Label == "" || len(r.Values) == 0 && r.Key != "friction") {
				t.Errorf("%s: %+v", name, r)
			}
			if strings.Contains(r.String(), "NaN") || strings.Contains(r.String(), "Inf") || strings.Contains(r.String(), "%!") {
				t.Errorf("%s: %s", name, r)
			}
		}
		for _, c := range s.Cautions {
			if find(t, all, rows.Cautions, "", c.Code).Note != c.Text {
				t.Errorf("%s: caution %s", name, c.Code)
			}
		}
		if warnings, omissions := rows.Pick(all, rows.Warnings), rows.Pick(all, rows.LeftOut); len(warnings) != len(s.Warnings) || len(omissions) != len(s.LeftOut) {
			t.Errorf("%s: %d warnings of %d, %d omissions of %d", name, len(warnings), len(s.Warnings), len(omissions), len(s.LeftOut))
		}
	}
	for _, section := range order {
		if !seen[section] {
			t.Errorf("no demonstration has %s", section)
		}
	}
}

// What a row carries as values is the sheet's own, and JSON has it with its unit.
func TestRowsCarryTheirValues(t *testing.T) {
	s := sheetOf(t, demoJob(t, "setup/demo/job.json"))
	all := rows.Of(s)
	for _, test := range []struct {
		section rows.Section
		end     sag.Axle
		key     string
		want    []any
	}{
		{rows.Fit, sag.Front, "fill", []any{s.Front.Fill().Fill}},
		{rows.Fit, sag.Front, "ambient", []any{s.Front.Air.Ambient}},
		{rows.Fit, sag.Front, "spacers", []any{s.Front.Fill().Spacers}},
		{rows.Expect, sag.Rear, "band", []any{s.Rear.Rest.TravelLow, s.Rear.Rest.TravelHigh}},
		{rows.Full, sag.Rear, "damping", []any{s.Rear.Damping.Wheel}},
		{rows.Full, sag.Front, "landing", []any{s.Front.Landing.Travel}},
		{rows.Full, sag.Front, "landing_force", []any{s.Front.Landing.Force}},
		{rows.Full, sag.Front, "landing_peak", []any{s.Front.Landing.PeakForce}},
		{rows.Both, "", "pitch", []any{s.Coupled.Pitch}},
		{rows.Both, sag.Front, "coupled", []any{s.Coupled.FrontTravel, s.Coupled.FrontSag}},
		{rows.Both, sag.Rear, "coupled", []any{s.Coupled.RearTravel, s.Coupled.RearSag}},
		{rows.Sure, sag.Rear, "ideal_rate", []any{s.Uncertainty.Rear.IdealRate.Value, s.Uncertainty.Rear.IdealRate.Uncertainty}},
		{rows.Sure, sag.Front, "fill_wanted", []any{s.Uncertainty.Front.FillWanted.Value, s.Uncertainty.Front.FillWanted.Uncertainty}},
		{rows.Sure, sag.Front, "stroke_reading", []any{s.Uncertainty.Front.StrokeReading.Value, s.Uncertainty.Front.StrokeReading.Uncertainty}},
		{rows.Sure, sag.Front, "fast_frequency", []any{s.Uncertainty.Front.FastFrequency.Value, s.Uncertainty.Front.FastFrequency.Uncertainty}},
		{rows.Sure, sag.Front, "sag", []any{s.Uncertainty.Front.Sag.Value, s.Uncertainty.Front.Sag.Uncertainty}},
	} {
		if got := find(t, all, test.section, test.end, test.key).Values; !slices.Equal(got, test.want) {
			t.Errorf("%s: %v, want %v", test.key, got, test.want)
		}
	}
	text := mustText(t, find(t, all, rows.Expect, sag.Rear, "sag"))
	want := fmt.Sprintf(`{"section":"expect","end":"rear","key":"sag","label":"sag at the wheel","values":[%q],"metric":"50.0 mm","customary":"1.97 in","note":"28.8 %% of 173.8 mm"}`,
		strings.Trim(mustText(t, s.Rear.Rest.Travel), `"`))
	if text != want {
		t.Errorf("%s\nwant\n%s", text, want)
	}
}

func mustText(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	require.NoError(t, err)
	return string(text)
}

// Warnings stand with their end, where they are about one.
func TestWarningRowsHaveTheirEnd(t *testing.T) {
	j := demoJob(t, "webpage/demo/air-both.json")
	j.Masses.RiderMass = 300 // which the scales contradict
	s := sheetOf(t, j)
	all := rows.Of(s)
	for _, w := range s.Warnings {
		end, _, _ := strings.Cut(w.Field, ".")
		if end == "masses" {
			end = ""
		}
		if r := find(t, all, rows.Warnings, sag.Axle(end), w.Code); r.Label != w.Field || r.Note != w.Text {
			t.Errorf("%+v, want %+v", r, w)
		}
	}
	find(t, all, rows.Warnings, "", "scales_disagree")
	find(t, all, rows.Warnings, "", "implausible")
	find(t, all, rows.Warnings, sag.Front, "pulls_in")
	if r := find(t, all, rows.Loads, "", "share"); r.Note != "by the scales" {
		t.Errorf("%+v", r)
	}
}

// Air: what to change, spacers to add and to take out, and what one more does.
func TestRowsOfAnAirSpring(t *testing.T) {
	j := demoJob(t, "setup/demo/job.json")
	s := sheetOf(t, j)
	note := func(s *setup.Sheet, section rows.Section, key, want string) {
		t.Helper()
		if r := find(t, rows.Of(s), section, sag.Front, key); !strings.Contains(r.Note, want) {
			t.Errorf("%+v does not say %q", r, want)
		}
	}
	note(s, rows.Fit, "fill", "change by "+s.Front.Air.Change.Both().Signed().String())
	note(s, rows.Others, "fill_per_spacer", "lowers the fill for the same sag by 0.08 bar (1.1 psi)")
	note(s, rows.Expect, "fast_wheel_rate", "fast: exponent 1.3")
	for spacers, want := range map[int]string{0: "add 1", 1: "as fitted", 3: "take out 2"} {
		j.Front.Air.Spacers = spacers
		s := sheetOf(t, j)
		if s.Front.Fill().Spacers != 1 {
			t.Fatalf("recommends %d", s.Front.Fill().Spacers)
		}
		say(t, rows.Of(s), line{rows.Fit, sag.Front, "spacers", "spacers: 1, " + want})
		note(s, rows.Set, "set", ", 1 spacer, ")
	}
	// One more spacer raises the fill where it lowers the force: in the negative
	// chamber's favour it can't, so a sheet says so as its number has it.
	s.Front.Air.FillPerSpacer = 2 * s.Front.Air.Options[0].Fill / 100
	note(s, rows.Others, "fill_per_spacer", "raises")
	note(s, rows.Others, "full_ratio", "over a fast stroke")
	note(s, rows.Others, "full_travel", fmt.Sprintf("9.0 × the load was asked for at full travel; this gives %.1f ×, and spacers can give from", s.Front.Fill().FullRatio))
	j.Front.Air.FullTravelRatio = 0
	note(sheetOf(t, j), rows.Fit, "spacers", "kept as fitted: other numbers are tried only with a full_travel_ratio")
	j.Front.Air.FullTravelRatio, j.Front.Air.MaxSpacers = 12, 0
	note(sheetOf(t, j), rows.Others, "full_travel", "spacers can give no other")
	j.Front.Air.Fill, j.Front.Air.MaxSpacers, j.Front.Air.FullTravelRatio = 0, 0, 0
	all := rows.Of(sheetOf(t, j))
	if r := find(t, all, rows.Fit, sag.Front, "fill"); r.Note != "" || len(rows.Pick(all, rows.Others, sag.Front)) != 0 {
		t.Errorf("%+v, %+v", r, rows.Pick(all, rows.Others, sag.Front))
	}
}

// The steps at the pump and the riders of other masses are rows, each with the numbers of the sheet; the
// travel that the spring is pulled in to stands beside the steps that let air out.
func TestRowsOfPumpAndRiders(t *testing.T) {
	j := demoJob(t, "setup/demo/job.json")
	s := sheetOf(t, j)
	all := rows.Of(s)
	say(t, all,
		line{rows.Pump, sag.Front, "pump[0]", "pump up to: 5.97 bar (86.6 psi), from 5.60 bar (81.2 psi)"},
		line{rows.Pump, sag.Front, "pump", "The readings are those of the gauge after and before each step. Cycle: unscrew the pump and cycle slowly about an inch, past the port at 7.0 mm. Never fill above the marking on the part."})
	if n := len(rows.Pick(all, rows.Pump)); n != len(s.Front.Pump.Steps)+1 {
		t.Errorf("%d rows of %d steps", n, len(s.Front.Pump.Steps))
	}
	for i, one := range s.Riders {
		key, own := fmt.Sprintf("riders[%d]", i), ""
		if one.RiderMass == 82 {
			own = ", this rider"
		}
		say(t, all,
			line{rows.Riders, sag.Front, key, fmt.Sprintf("%s: %s, 1 spacer, sag 20.0 %%%s", one.RiderMass.Both(), one.Front.Fill.Fill.Both(), own)},
			line{rows.Riders, sag.Rear, key, fmt.Sprintf("%s: %s, %s of preload, sag %s", one.RiderMass.Both(), one.Rear.Spring.Rate.Both(), one.Rear.Spring.Preload.Both().Metric, units.Percent(one.Rear.Spring.Rest.Sag))})
	}
	j.Front.Air.Fill = units.BarGauge(7)
	all = rows.Of(sheetOf(t, j))
	if r := find(t, all, rows.Pump, sag.Front, "pump[0]"); r.Label != "let air out to" || !strings.HasSuffix(r.Note, ", at 6.1 mm") {
		t.Errorf("%+v", r)
	}
	if r := find(t, all, rows.Pump, sag.Front, "pump"); !strings.Contains(r.Note, "pulled in to the travel beside the reading") {
		t.Errorf("%+v", r)
	}
}

// Of a bike with one spring, the wheel without one has a load and no column of its own, and no row is about
// the end that is not there.
func TestRowsOfOneEnd(t *testing.T) {
	j := byHand(t)
	j.Rear = nil
	all := rows.Of(sheetOf(t, j))
	say(t, all, line{rows.Loads, "", "wheel", "rear wheel on the ground: 490 N (110.2 lbf)"},
		line{rows.LeftOut, sag.Rear, "coupled", "Both ends settling together: the job has one end."})
	for _, r := range all {
		if r.End == sag.Rear && r.Section != rows.LeftOut {
			t.Errorf("%+v", r)
		}
	}
}

// A column of the tables of springs and spacers is explained where it stands, and only there.
func TestFullRatioIsExplained(t *testing.T) {
	all := rows.Of(sheetOf(t, demoJob(t, "setup/demo/job.json")))
	say(t, all,
		line{rows.Others, sag.Front, "full_ratio", "Full × is the wheel force at full travel, over a fast stroke, as a multiple of the load on the spring: the more, the harder to bottom out."},
		line{rows.Others, sag.Rear, "full_ratio", "Full × is the wheel force at full travel as a multiple of the load on the spring: the more, the harder to bottom out."})
	for _, r := range rows.Pick(rows.Of(sheetOf(t, byHand(t))), rows.Others, sag.Front) {
		if r.Key == "full_ratio" { // one spring is no table
			t.Errorf("%+v", r)
		}
	}
}

// A stance that tops or bottoms an end out says so beside its sag, and a share that
// was not stated is told as assumed.
func TestRowsOfAStanceAtAnEndOfTheTravel(t *testing.T) {
	j := byHand(t)
	j.Masses.BikeRearShare = 0
	j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = 0.004, 0.004 // 784 N of 196 N/mm, or 392 N at the wheel
	j.Front.Coil.Springs[0].Rate = 5e3                            // 125 N at full travel; 98.0665 N of the bike on 1.25 N/mm
	say(t, rows.Of(sheetOf(t, j)),
		line{rows.Both, sag.Rear, "free", "with nobody on: 0.0 mm (0.00 in), 0.0 % sag, held at full extension"},
		line{rows.Both, sag.Front, "free", "with nobody on: 78.5 mm (3.09 in), 78.5 % sag, 50.0 % on the rear, as with the rider on: not stated"},
		line{rows.Both, sag.Front, "stances[0]", "climbing: 100.0 mm (3.94 in), 100.0 % sag, 60.0 % on the rear, goes to full travel"})
}

// A sheet that was read from JSON has the same rows but the bike's mass; an empty one
// has rows too.
func TestRowsOfASheetReadFromJSON(t *testing.T) {
	s := sheetOf(t, demoJob(t, "setup/demo/job.json"))
	var back setup.Sheet
	require.NoError(t, json.Unmarshal([]byte(mustText(t, s)), &back))
	want := slices.DeleteFunc(rows.Of(s), func(r rows.Row) bool { return r.Key == "bike" })
	if diff := cmp.Diff(want, rows.Of(&back)); diff != "" {
		t.Errorf("(-made +read):\n%s", diff)
	}
	if len(rows.Of(&setup.Sheet{})) == 0 || rows.Of(nil) != nil {
		t.Error("no rows of an empty sheet, or rows of none")
	}
}

// Every input of an uncertainty has words, and what to do about it where it decides.
func TestSureRowsNameTheInputsInWords(t *testing.T) {
	s := sheetOf(t, byHand(t))
	for input, want := range map[string][2]string{
		"":                  {"", "nothing that was stated"},
		"rider_mass":        {"the rider's mass", "weigh the rider again"},
		"bike_mass":         {"the bike's mass", "weigh the bike again"},
		"rear_share":        {"the share on the rear", "weigh both wheels again"},
		"front_scale":       {"front scale", "weigh both wheels again"},
		"rear_scale":        {"rear scale", "weigh both wheels again"},
		"rear.spring_rate":  {"rear spring rates", "measure the two springs"},
		"front.port_travel": {"front port travel", "measure front port travel again"},
		"rear.reading":      {"rear reading of the ring", "measure rear reading of the ring again"},
		"rear.table_travel": {"rear travel readings", "read the rear table's travels again, or take them as measured"},
	} {
		s.Uncertainty = &certainty.Budget{Rear: new(certainty.EndBudget), Exact: []string{input}}
		s.Uncertainty.Rear.IdealRate = &certainty.Answer[units.Stiffness]{Value: 80e3, Uncertainty: 2e3, Dominant: input}
		s.Uncertainty.Rear.Rivals = []certainty.Rival{{Recommended: 80e3, Rate: 90e3, Probability: 0.25, Input: input}, {Probability: 0.004}}
		all := rows.Of(s)
		if got := find(t, all, rows.Sure, sag.Rear, "ideal_rate"); got.Metric != "80.00 ± 2.00 N/mm" || got.Customary != "457 ± 11 lbf/in" || got.Note != want[0] {
			t.Errorf("%s: %+v, want %q", input, got, want[0])
		}
		find(t, all, rows.Sure, "", "meaning")
		say(t, all, line{rows.Sure, "", "exact", "Taken as exactly known, nobody having said otherwise: " + want[0] + "."},
			line{rows.Sure, sag.Rear, "rival", "With a probability of 25 % the 514 lbf/in spring would be the right one instead of 457 lbf/in. What decides between them: " + want[1] + "."})
	}
}

// An uncertainty that is left over from another spring is told with its reason.
func TestSureRowsNameWhatIsNotUsed(t *testing.T) {
	all := rows.Of(&setup.Sheet{Uncertainty: &certainty.Budget{NotUsed: []certainty.Leftover{{Input: "rear.spring_rate", Reason: "this end has no coil spring"}}}})
	say(t, all, line{rows.Sure, "", "not_used", "Not used: the uncertainty stated for rear spring rates, because this end has no coil spring."})
}

func TestFindingsInWords(t *testing.T) {
	all := []sag.Finding{sag.OnTarget, sag.TooSoft, sag.TooHard, sag.PreloadAtMax, sag.PreloadAtMin, sag.Loose, sag.GoesSolid, sag.SolidUnknown,
		sag.HeldAtTop, sag.Collapses, sag.FillAtMax, sag.FillImpossible, sag.OutOfGeometry, sag.NearestEnd, sag.FullOutOfReach}
	seen := map[string]bool{}
	for _, f := range all {
		text := rows.Findings([]sag.Finding{f})
		if text == "" || text == string(f) || seen[text] {
			t.Errorf("%s: %q", f, text)
		}
		seen[text] = true
	}
	if got := rows.Findings([]sag.Finding{sag.TooSoft, sag.GoesSolid, "of_its_own"}); got != "too soft, goes solid, of_its_own" {
		t.Errorf("%q", got)
	}
	if got := rows.Findings(nil); got != "" {
		t.Errorf("%q", got)
	}
	for reason, want := range map[fit.Reason]string{fit.RankedFartherRate: "on target; farther from the exact rate", fit.RankedLessLeft: "on target; leaves less at full travel", fit.RankedOffTarget: "on target", fit.RankedFirst: "on target"} {
		if got := rows.Ranked(&fit.CoilCandidate{AtRest: fit.AtRest{Findings: []sag.Finding{sag.OnTarget}}, Reason: reason}); got != want {
			t.Errorf("%s: %q, want %q", reason, got, want)
		}
	}
}

func TestPick(t *testing.T) {
	all := rows.Of(sheetOf(t, byHand(t)))
	count := func(section rows.Section, ends ...sag.Axle) int { return len(rows.Pick(all, section, ends...)) }
	got := []int{count(rows.Loads), count(rows.Loads, ""), count(rows.Loads, sag.Front), count(rows.Loads, sag.Rear, ""), count("nothing"), count(rows.Sure)}
	if diff := cmp.Diff([]int{7, 3, 2, 5, 0, 0}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// Front and rear stand side by side; what only the rear has stands where it stands
// there; labels have both words where they differ.
func TestPairs(t *testing.T) {
	front := func(key, label string) rows.Row {
		return rows.Row{Section: "s", End: sag.Front, Key: key, Label: label}
	}
	rear := func(key, label string) rows.Row { return rows.Row{Section: "s", End: sag.Rear, Key: key, Label: label} }
	whole := rows.Row{Section: "s", Key: "w", Label: "whole"}
	for _, test := range []struct {
		name string
		all  []rows.Row
		want []string // label, then F and R for the ends that it has, W for the whole bike
	}{
		{"none", nil, nil},
		{"the same", []rows.Row{front("a", "x"), front("b", "y"), rear("a", "x"), rear("b", "y")}, []string{"x FR", "y FR"}},
		{"rear first", []rows.Row{front("b", "y"), rear("a", "x"), rear("b", "y")}, []string{"x R", "y FR"}},
		{"rear last", []rows.Row{front("a", "x"), front("c", "z"), rear("a", "x"), rear("b", "y")}, []string{"x FR", "y R", "z F"}},
		{"nothing in common", []rows.Row{front("a", "x"), rear("b", "y"), rear("c", "z")}, []string{"x F", "y R", "z R"}},
		{"rear about both", []rows.Row{front("a", "x"), front("b", "y"), rear("c", "z"), rear("a", "x"), rear("d", "w")}, []string{"z R", "x FR", "w R", "y F"}},
		{"only the rear", []rows.Row{rear("b", "y"), rear("c", "z")}, []string{"y R", "z R"}},
		{"the whole bike", []rows.Row{whole, front("a", "x"), rear("a", "x"), whole}, []string{"whole W", "x FR", "whole W"}},
		{"a word", []rows.Row{front("a", "front wheel"), rear("a", "rear wheel")}, []string{"front / rear wheel FR"}},
		{"words at the end", []rows.Row{front("a", "sag along the stanchion"), rear("a", "sag at the shock")}, []string{"sag along the stanchion / at the shock FR"}},
		{"a number within", []rows.Row{front("a", "a drop of 0.40 m uses"), rear("a", "a drop of 0.30 m uses")}, []string{"a drop of 0.40 / 0.30 m uses FR"}},
		{"a word twice", []rows.Row{front("a", "sag"), rear("a", "sag sag")}, []string{"sag / sag FR"}},
		{"more of it", []rows.Row{front("a", "sag"), rear("a", "sag at all")}, []string{"sag / at all FR"}},
		{"twice", []rows.Row{front("a", "x"), front("a", "x"), rear("a", "x")}, []string{"x FR", "x F"}},
		{"another section", []rows.Row{front("a", "x"), {Section: "t", End: sag.Rear, Key: "a", Label: "x"}}, []string{"x F", "x R"}},
	} {
		var got []string
		for _, p := range rows.Pairs(test.all) {
			text := p.Label + " "
			for i, r := range []*rows.Row{p.Front, p.Rear, p.Whole} {
				if r != nil {
					text += "FRW"[i : i+1]
				}
			}
			got = append(got, text)
		}
		if diff := cmp.Diff(test.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, diff)
		}
	}
	for _, p := range rows.Pairs(rows.Pick(rows.Of(sheetOf(t, demoJob(t, "setup/demo/job.json"))), rows.Expect)) {
		if (p.Label == "over a fast stroke" || strings.HasPrefix(p.Label, "friction")) != p.Part {
			t.Errorf("%+v", p)
		}
	}
}

// A spring whose rate varies is called by what it is. By hand: 200 and 90 N/mm in a row, the first of which
// stops after 5 mm, carry 980.665 N, below the 1000 N that stop it, at 980.665·(1/200 + 1/90) = 15.800 mm,
// 10 mm of them stroke; without the 5.8 mm of preload 10 mm carry 620.7 N.
func TestRowsNameASpringOfVaryingRate(t *testing.T) {
	j := byHand(t)
	shelf := readJob(t, `{"schema": "wheelrate/job/1", "masses": {"rider_mass": "80 kg", "bike_mass": "20 kg", "unsprung_rear": "0 kg", "rear_share": 0.5},
	"rear": {"curve": {"constant": 2, "travel": "100 mm"}, "sag": 0.2, "coil": {"preload_max": "8 mm", "shelf": [{"rate": "40 N/mm", "solid_travel": "70 mm"},
	  {"law": {"dual_rate": {"soft_rate": "200 N/mm", "main_rate": "90 N/mm", "soft_travel": "5 mm", "main_travel": "65 mm"}}, "solid_travel": "68 mm"}]}}}`).Rear.Coil
	rear := *j.Rear
	rear.Coil = shelf
	j.Rear = &rear
	s := sheetOf(t, j)
	all := rows.Of(s)
	const what = "62.069 N/mm to 90 N/mm over 68 mm"
	for _, where := range []rows.Section{rows.Set, rows.Fit, rows.Others} {
		if !strings.Contains(fmt.Sprint(rows.Pick(all, where, sag.Rear)), what) {
			t.Errorf("%v does not name it: %v", where, rows.Pick(all, where, sag.Rear))
		}
	}
	require.InDelta(t, 5.800, s.Rear.Spring().Preload.Millimetres(), 1e-3)
	require.InDelta(t, 62.069, s.Rear.Spring().Rate.NewtonsPerMillimetre(), 1e-3)
	require.Contains(t, rows.Ranked(s.Rear.Spring()), what)
}
