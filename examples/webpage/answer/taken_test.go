package answer

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"

	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// What another value than the one taken changes, worked out by hand for the bike of TestByHand:
// 98.0665 N/mm carry half of 100 kg at either end. With a bike of 24 kg instead of 20 kg each end carries 52 kg,
// and the exact spring is 4 % harder, 3.92 N/mm or 22 lbf/in.
func TestWorkTaken(t *testing.T) {
	heavier := typicals[0]
	typicals[0].other, typicals[0].with = `"24 kg"`, "24 kg"
	defer func() { typicals[0] = heavier }()
	got := WorkTaken([]byte(byHand), []string{"masses.bike_mass", "rear.coil.shelf", "front.air.bore"})
	const text = "with 24 kg the exact spring is 22 lbf/in (3.92 N/mm) harder"
	want := []Taken{{"masses.bike_mass", []TakenEffect{{"front", text}, {"rear", text}}, true}, {"rear.coil.shelf", []TakenEffect{}, false}, {"front.air.bore", []TakenEffect{}, false}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
	if got := WorkTaken([]byte("what?"), []string{"masses.bike_mass"}); len(got) != 1 || len(got[0].Effects) != 0 {
		t.Errorf("%+v", got)
	}
}

// At the sag wanted a spring without preload carries its load: half the sag doubles the rate, here by
// 20 % of 100 mm to 25 % of it. That is 98.0665/0.25·0.2 = 78.45 N/mm, 19.61 N/mm softer.
func TestWorkTakenOfOneEnd(t *testing.T) {
	got := WorkTaken([]byte(byHand), []string{"front.sag"})
	want := []Taken{{"front.sag", []TakenEffect{{"front", "with 25 % the exact spring is 112 lbf/in (19.61 N/mm) softer"}}, true}}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// Whatever may be taken for granted is a value of the job's field, and so is the other one.
func TestTypicalsAreOfAJob(t *testing.T) {
	for _, one := range typicals {
		for _, end := range []string{"front", "rear"} {
			path := strings.ReplaceAll(one.path, "END", end)
			if Typical(path) != one.text {
				t.Errorf("%s: %q", path, Typical(path))
			}
			if one.other == "" {
				continue
			}
			names := strings.Split(path, ".")
			value := one.other
			for i := len(names) - 1; i >= 0; i-- {
				value = `{"` + names[i] + `": ` + value + `}`
			}
			var job setup.Job
			if err := json.Unmarshal([]byte(value), &job); err != nil {
				t.Errorf("%s: %v", path, err)
			}
		}
	}
	if Typical("front.air.bore") != "" || Typical("masses.rider_mass") != "" {
		t.Error("a bore or a rider that is taken for granted")
	}
}

// Next is one thing to do, with where the ring is to stand; what counts at an end for which nothing was
// stated stands beside it.
func TestNextAndTaken(t *testing.T) {
	a := Work([]byte(byHand), Options{})
	if want := "Fit it, sit down slowly, read the ring: 10.0 mm (0.39 in) is right."; a.Front.Next != want {
		t.Errorf("%q, want %q", a.Front.Next, want)
	}
	found := false
	for _, one := range a.Front.Taken {
		found = found || one.Field == "masses.unsprung_front" && strings.HasPrefix(one.Effects[0].Text, "with 3.0 kg (6.6 lb) the exact spring is ") && strings.HasSuffix(one.Effects[0].Text, " softer")
	}
	if !found {
		t.Errorf("%+v", a.Front.Taken)
	}
	for _, one := range a.Front.Taken {
		if one.Effects[0].End != "front" {
			t.Errorf("at the front: %+v", one)
		}
	}
	b := Work(demo(t, "coil-shock"), Options{})
	if want := "Set it, cycle, set it again, sit down slowly, read the ring: 29.6–34.5 mm (1.16–1.36 in) is right."; b.Front.Next != want {
		t.Errorf("%q, want %q", b.Front.Next, want)
	}
	unmarked := strings.NewReplacer(`"max_fill": "10 bar",`, "", `{"fill": "88 psi", "stroke": "22 mm"}`, `{"fill": "63 psi", "stroke": "42 mm"}`).Replace(string(demo(t, "gauge")))
	if g := Work([]byte(unmarked), Options{}); !strings.HasPrefix(g.Front.Next, "Read the highest fill marked on the part") {
		t.Errorf("%q", g.Front.Next)
	}
	low := strings.Replace(unmarked, `"readings"`, `"max_fill": "64 psi", "readings"`, 1)
	if g := Work([]byte(low), Options{}); !strings.Contains(g.Front.Next, "the most that the marking permits") {
		t.Errorf("%q", g.Front.Next)
	}
	one := strings.Replace(string(demo(t, "gauge")), `{"fill": "62 psi", "stroke": "43 mm"},`, "", 1)
	// 18 % of 150 mm along the stanchions.
	if g := Work([]byte(one), Options{}); !strings.HasSuffix(g.Front.Next, "and write it down here: 27.0 mm (1.06 in) is wanted.") {
		t.Errorf("%q", g.Front.Next)
	}
}

// Of an air spring, and of one known by its gauge, the fills of two jobs are compared, here each worked out
// by itself: deeper sag wants less of it.
func TestWorkTakenOfFills(t *testing.T) {
	sheet := func(text string) *setup.EndSheet {
		job, err := setup.ReadJob(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		s, err := setup.NewSheet(job)
		if err != nil {
			t.Fatal(err)
		}
		return s.Front
	}
	air, gauge := string(demo(t, "air-both")), strings.Replace(string(demo(t, "gauge")), `"sag": 0.18`, `"sag": 0.2`, 1)
	for name, test := range map[string]struct {
		job  string
		fill func(e *setup.EndSheet) units.GaugePressure
	}{
		"air":   {air, func(e *setup.EndSheet) units.GaugePressure { return e.Air.Options[0].FillWanted }},
		"gauge": {gauge, func(e *setup.EndSheet) units.GaugePressure { return e.Gauge.Fill }},
	} {
		less := test.fill(sheet(test.job)) - test.fill(sheet(strings.Replace(test.job, `"sag": 0.2,`, `"sag": 0.25,`, 1)))
		want := []TakenEffect{{"front", "with 25 % the exact fill is " + less.Both().String() + " lower"}}
		if got := WorkTaken([]byte(test.job), []string{"front.sag"}); !(less > 0) || !reflect.DeepEqual(got[0].Effects, want) {
			t.Errorf("%s: %+v, want %+v", name, got, want)
		}
	}
	// The sag of the rear alone changes nothing in front, and a bike of one end has nothing of the other.
	if got := WorkTaken([]byte(air), []string{"rear.sag"}); len(got[0].Effects) != 1 || got[0].Effects[0].End != "rear" {
		t.Errorf("%+v", got)
	}
	// Between two readings the fill is told by them, whatever chambers there are.
	if got := WorkTaken([]byte(gauge), []string{"front.gauge.negative_chamber"}); len(got[0].Effects) != 0 || !got[0].Tried {
		t.Errorf("%+v", got)
	}
}
