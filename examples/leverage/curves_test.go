package main

import (
	"encoding/json"
	"fmt"
	"math"
	"regexp"
	"strings"
	"testing"
)

// Every field of the report has one unit in all poses, whatever its value.
func TestEveryFieldHasOneUnit(t *testing.T) {
	quantity := regexp.MustCompile(`"([a-z_]+)": "[-+0-9.e]+ ?([^0-9" ][^" ]*)"`)
	for _, demo := range demos {
		seen, n := map[string]string{}, 0
		for _, found := range quantity.FindAllStringSubmatch(answer(t, "", "-json", "-n", "997", "-demo", demo), -1) {
			if n++; seen[found[1]] != "" && seen[found[1]] != found[2] {
				t.Fatalf("%s: %s in %s and %s", demo, found[1], seen[found[1]], found[2])
			}
			seen[found[1]] = found[2]
		}
		if n < 10000 || seen["instant_centre_x"] != "mm" || seen["kickback_wheel_fixed"] != "°" || seen["stroke"] != "mm" {
			t.Errorf("%s: %d quantities: %v", demo, n, seen)
		}
	}
}

// reported is what the tests read of a report.
type reported struct {
	Stroke, Travel string
	Progression    struct{ Value, Start, End float64 }
	Path           map[string]string `json:"axle_path"`
	Readings       map[string]any
	Warnings       []struct{ Code, Field, Value, Limit, Text string }
}

func reportOf(t *testing.T, stdin string, args ...string) reported {
	t.Helper()
	var r reported
	if err := json.Unmarshal([]byte(answer(t, stdin, append([]string{"-json"}, args...)...)), &r); err != nil {
		t.Fatal(err)
	}
	return r
}

func (r reported) warns(code string) string {
	for _, w := range r.Warnings {
		if w.Code == code {
			return w.Field + ": " + w.Text
		}
	}
	return ""
}

// The axle of a single pivot is on a circle: it is most backward where it is as high as the pivot, at
// 44 mm of travel, √(450² + 44²) − 450 mm behind its place at full extension.
func TestAxleIsMostBackwardLevelWithItsPivot(t *testing.T) {
	r := reportOf(t, "", "-demo", "single-pivot")
	for field, want := range map[string]float64{"backward_max_at": 44, "backward_max": math.Hypot(450, 44) - 450} {
		var got float64
		if _, err := fmt.Sscanf(r.Path[field], "%f mm", &got); err != nil || math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %s, want %v mm", field, r.Path[field], want)
		}
	}
}

// A ratio over the travel goes in as a spreadsheet writes it: LR = 3 − w/250, s = −250·ln(0.8).
func TestRatioOverTravelGoesIn(t *testing.T) {
	r := reportOf(t, "sep=;\n# my frame\nRear wheel travel (mm);Leverage ratio\n0;3,0\n75;2,7\n150;2,4\n", "-job", "-")
	var stroke float64
	if _, err := fmt.Sscanf(r.Stroke, "%f mm", &stroke); err != nil || math.Abs(stroke+250*math.Log(0.8)) > 1e-9 || r.Travel != "150 mm" || math.Abs(r.Progression.Value-0.2) > 1e-9 {
		t.Errorf("%+v", r)
	}
	if r = reportOf(t, "travel (mm),lever ratio\n0.5,3\n30,2.88\n60,2.77\n90,2.63\n120,2.52\n150,2.41\n", "-job", "-", "-method", "measured"); r.Readings["ratio_reading_error"] == nil || r.Readings["reading_error"] != nil {
		t.Errorf("%+v", r.Readings)
	}
	if text := answer(t, "travel (mm),lever ratio\n0.5,3\n30,2.88\n60,2.77\n90,2.63\n120,2.52\n150,2.41\n", "-job", "-", "-method", "measured"); !strings.Contains(text, "in one") {
		t.Error(text)
	}
}

func TestCurvesInDoubtAreTold(t *testing.T) {
	if said := reportOf(t, "stroke (mm),travel (mm)\n0,0\n75,25\n150,60\n", "-job", "-").warns("ratio_below_one"); !strings.Contains(said, "swapped") {
		t.Errorf("swapped columns: %q", said)
	}
	rough := "stroke (mm),travel (mm)\n"
	for i := range 31 {
		s := 2 * float64(i)
		rough += fmt.Sprintf("%v,%.1f\n", s, 2.9*s-0.006*s*s+0.4*float64(i%2))
	}
	if said := reportOf(t, rough, "-job", "-").warns("table_scatters"); !strings.Contains(said, "least squares") {
		t.Errorf("readings with errors: %q", said)
	}
	if said := reportOf(t, rough, "-job", "-", "-method", "measured").warns("table_scatters"); said != "" {
		t.Errorf("readings taken as such: %q", said)
	}
	demo, err := demoFile("single-pivot")
	if err != nil {
		t.Fatal(err)
	}
	wheelbase := strings.Replace(string(demo), `"front_axle_x": "780 mm"`, `"front_axle_x": "1218 mm"`, 1)
	if said := reportOf(t, wheelbase, "-job", "-").warns("front_axle_far"); !strings.Contains(said, "780.0 mm") || !strings.HasPrefix(said, "drive.front_axle_x") {
		t.Errorf("a wheelbase: %q", said)
	}
	if said := reportOf(t, string(demo), "-job", "-").warns("front_axle_far"); said != "" {
		t.Errorf("a front axle: %q", said)
	}
}
