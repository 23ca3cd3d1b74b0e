package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// The sections about standing and certainty say what the sheet says, and by
// hand: with the bike's 54 % the bike alone puts 16.8 kg·g₀·0.54 = 88.97 N on
// the rear wheel, and with 68 % climbing puts 658.85 N there.
func TestStandingAndSure(t *testing.T) {
	out, _, status := call(t, "", "-json")
	if status != 0 {
		t.Fatal(status)
	}
	var s setup.Sheet
	if err := json.Unmarshal([]byte(out), &s); err != nil {
		t.Fatal(err)
	}
	text, _, _ := call(t, "")
	if got := fmt.Sprintf("%.2f %.2f", s.Free.Loads.RearWheel.Newtons(), s.Stances[0].Loads.RearWheel.Newtons()); got != "88.97 658.85" {
		t.Errorf("loads on the rear wheel: %s", got)
	}
	for _, want := range []string{
		fmt.Sprintf("settled together, front   %.1f mm          %.2f in          %.1f %% sag", s.Coupled.FrontTravel.Millimetres(), s.Coupled.FrontTravel.Inches(), 100*s.Coupled.FrontSag),
		fmt.Sprintf("the frame pitches       %.2f°", s.Coupled.Pitch.Degrees()),
		fmt.Sprintf("with nobody on, front     %.1f mm", s.Free.Front.Rest.Travel.Millimetres()),
		fmt.Sprintf("%.1f %% sag, 54.0 %% on the rear", 100*s.Free.Front.Rest.Sag),
		fmt.Sprintf("climbing, front           %.1f mm", s.Stances[0].Front.Rest.Travel.Millimetres()),
		fmt.Sprintf("%.1f %% sag, 68.0 %% on the rear", 100*s.Stances[0].Front.Rest.Sag),
		fmt.Sprintf("steep descent, front      %.1f mm", s.Stances[1].Coupled.FrontTravel.Millimetres()),
		fmt.Sprintf("exact spring        %.2f ± %.2f N/mm", s.Uncertainty.Rear.IdealRate.Value.NewtonsPerMillimetre(), s.Uncertainty.Rear.IdealRate.Uncertainty.NewtonsPerMillimetre()),
		fmt.Sprintf("sag at the wheel    %.1f ± %.1f %%", 100*s.Uncertainty.Front.Sag.Value, 100*s.Uncertainty.Front.Sag.Uncertainty),
		"Taken as exactly known", "the bike's mass", "Between two springs",
		fmt.Sprintf("The softer, %.0f lbf/in", s.Rear.Coil.Between.Softer.Rate.PoundsForcePerInch()),
		fmt.Sprintf("The harder, %.0f lbf/in", s.Rear.Coil.Between.Harder.Rate.PoundsForcePerInch()),
	} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
	if n := len(s.Uncertainty.Rear.Rivals); n == 0 || !strings.Contains(text, "would be the right one") {
		t.Errorf("%d rivals, and no word of them", n)
	}
}

// A drop is told where the job asks for one, with the damping it states; and
// warnings come right after what to set, before the details.
func TestDropAndOrder(t *testing.T) {
	out, _, status := call(t, "", "-json")
	if status != 0 {
		t.Fatal(status)
	}
	var s setup.Sheet
	if err := json.Unmarshal([]byte(out), &s); err != nil {
		t.Fatal(err)
	}
	text, _, _ := call(t, "")
	for _, e := range []*setup.EndSheet{s.Front, s.Rear} {
		for _, want := range []string{
			fmt.Sprintf("damping at the wheel      %.0f N·s/m", units.In(e.Damping.Wheel, units.NewtonSecondPerMetre)),
			fmt.Sprintf("a drop of %.2f m uses     %.1f mm", e.Landing.Height.Metres(), e.Landing.Travel.Millimetres()),
			fmt.Sprintf("  force at most           %.0f N", e.Landing.PeakForce.Newtons()),
		} {
			if !strings.Contains(text, want) {
				t.Errorf("the sheet lacks %q", want)
			}
		}
	}
	set, warn, loads := strings.Index(text, "SET IT TO"), strings.Index(text, "\nWARNINGS"), strings.Index(text, "\nLOADS")
	if !(0 < set && set < warn && warn < loads) {
		t.Errorf("settings at %d, warnings at %d, loads at %d", set, warn, loads)
	}
	if !strings.Contains(text, "on target; farther from the exact rate") {
		t.Error("does not say why the second spring ranks second")
	}
	plain, _, _ := call(t, "", "-job", "demo/coil-fork.json")
	if strings.Contains(plain, "damping") || strings.Contains(plain, "a drop of") {
		t.Error("tells of a drop that nobody asked about")
	}
}

// Every rider gets the spring nearest to the exact rate wherever the sag can't tell the two apart.
// By hand: the exact rate is in proportion to the load, 471 lbf/in for 82 kg and 531 N.
func TestRidersGetTheNearestSpring(t *testing.T) {
	job, _, _ := call(t, "", "-example")
	for rider, want := range map[string]string{"67 kg": "400", "72 kg": "425", "77 kg": "450", "82 kg": "450", "87 kg": "500"} {
		text, _, _ := call(t, strings.Replace(job, `"82 kg"`, `"`+rider+`"`, 1), "-job", "-")
		if !strings.Contains(text, "rear:  spring "+want+" lbf/in") {
			t.Errorf("%s: not the spring of %s lbf/in: %s", rider, want, text[strings.Index(text, "SET IT"):][:300])
		}
	}
}

// Where the shelf ends on one side of the target, the sheet says so.
func TestBetweenOneSpringAndNone(t *testing.T) {
	job, _, _ := call(t, "", "-example")
	for rider, want := range map[string]string{"55 kg": "Nothing on the shelf is softer than", "120 kg": "Nothing on the shelf is harder than"} {
		text, errs, status := call(t, strings.Replace(job, `"82 kg"`, `"`+rider+`"`, 1), "-job", "-")
		if status != 0 || !strings.Contains(text, want) {
			t.Errorf("%s: status %d, lacks %q: %s", rider, status, want, errs)
		}
	}
}

// A job that says less is told less, and told so.
func TestLeftOut(t *testing.T) {
	text, _, status := call(t, "", "-job", "demo/coil-fork.json")
	if status != 0 {
		t.Fatal(status)
	}
	if strings.Contains(text, "HOW SURE") || strings.Contains(text, "settled together,") {
		t.Error("tells what nobody stated anything about")
	}
	if !strings.Contains(text, "LEFT OUT") || !strings.Contains(text, "give mass_centre_height in masses") {
		t.Errorf("does not say what is left out:\n%s", text)
	}
}

// The working ends in the exact spring and the fill that the sheet tells.
func TestExplain(t *testing.T) {
	text, _, status := call(t, "", "-explain")
	_, working, ok := strings.Cut(text, "THE WORKING, FRONT")
	for _, want := range []string{
		"F_s = F_w·LR", "virtual work", "exact spring", "k = F_s/(s + preload)", "→ k = 82.4", "F_g = 561.96 N", "THE WORKING, REAR", "→ g = 597.",
	} {
		if status != 0 || !ok || !strings.Contains(working, want) {
			t.Errorf("status %d, lacks %q in\n%s", status, want, working)
		}
	}
}
