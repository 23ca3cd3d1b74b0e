package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/program/programtest"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

func call(stdin string, args ...string) (stdout, stderr string, status int) {
	var out, errs bytes.Buffer
	status = newCompare().Run(args, strings.NewReader(stdin), &out, &errs)
	return out.String(), errs.String(), status
}

// By hand: 520 N at the wheel are 1352 N at the spring. The coil carries them
// at 1352/78.81 mm less its preload; a gas of area A where p₀V₀/(V₀ − A·s) is
// 1352 N/A above the air around, and it ends with p₀·(V₀/(V₀ − A·L))^1.3.
func TestDemonstration(t *testing.T) {
	out, _, status := call("", "-json")
	if status != 0 {
		t.Fatal(status)
	}
	var c comparison
	if err := json.Unmarshal([]byte(out), &c); err != nil {
		t.Fatal(err)
	}
	k := 450 * 4.4482216152605 / 0.0254
	near := func(what string, got, want float64) {
		t.Helper()
		unitstest.Near(t, what, got, want, unitstest.Rel(1e-9))
	}
	near("coil", float64(c.Springs[0].Rest.Stroke), 1352/k-0.001)
	near("coil's end", float64(c.Springs[0].Reserve.FullForce), k*0.061/2.6)
	const area, pa = math.Pi / 4 * 0.038 * 0.038, 101300.0
	for i, air := range []struct{ v0, g float64 }{{105e-6, 9.6e5}, {92e-6, 9.3e5}} {
		s := &c.Springs[i+1]
		p0 := air.g + pa
		p := 1352/area + pa
		x := (air.v0 - p0*air.v0/p) / area
		near("stroke", float64(s.Rest.Stroke), x)
		near("end", float64(s.Reserve.FullForce), area*(p0*math.Pow(air.v0/(air.v0-area*0.06), 1.3)-pa)/2.6)
		near("rate", float64(s.FastWheelRate), 1.3*area*area*p/(air.v0-area*x)/2.6/2.6)
	}
	text, errs, status := call("")
	if status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	for _, want := range []string{"Invented", "air, large", "26.9 %", "1849 N", "–", "+38 %"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q in\n%s", want, text)
		}
	}
}

// Springs that top or bottom out, or end early, say so.
func TestSpringsThatDoNotRest(t *testing.T) {
	text, _, status := call(strings.NewReplacer(`"fill": "9.6 bar"`, `"fill": "18 bar"`, `"fill": "9.3 bar"`, `"fill": "0.5 bar"`, `"travel": "60 mm"`, `"travel": "40 mm"`).Replace(string(demo)), "-job", "-")
	for _, want := range []string{"does not sag", "goes to the end", "at its end"} {
		if status != 0 || !strings.Contains(text, want) {
			t.Errorf("status %d, lacks %q in\n%s", status, want, text)
		}
	}
}

func TestPictures(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new")
	text, errs, status := call("", "-out", dir)
	if status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	svg, err := os.ReadFile(filepath.Join(dir, "springs.svg"))
	if err != nil || !strings.Contains(string(svg), "air, small") || !strings.Contains(string(svg), "energy taken in") || !strings.Contains(text, "springs.png") {
		t.Error(err)
	}
	if _, errs, status := call("", "-out", "/dev/null/x"); status == 0 || errs == "" {
		t.Errorf("a directory that can't be: status %d", status)
	}
}

// labelsAt are the labels of the marks and bands for springs that rest there.
func labelsAt(travels ...float64) (labels []string) {
	c := &comparison{Travel: []units.Length{0, 100 * units.Millimetre}}
	for i, s := range travels {
		c.Springs = append(c.Springs, comparedSpring{Name: string(rune('a' + i)), State: sag.State{Rest: sag.Rest{Travel: units.Length(s) * units.Millimetre}}})
	}
	if len(travels) != 2 {
		c.Springs = append(c.Springs, comparedSpring{Name: "z", State: sag.State{Finding: sag.Collapses}})
	}
	marks, bands := sags(c)
	for _, m := range marks {
		labels = append(labels, m.Label)
	}
	for _, b := range bands {
		if !(b.To > b.From) {
			labels = append(labels, "nothing to be seen")
		}
		labels = append(labels, b.Label)
	}
	return labels
}

func TestSags(t *testing.T) {
	for want, at := range map[string][]float64{"sag, a": {20}, "sag, b|sag, a": {60, 20}, "sag": {30, 20}, "sag, c|sag, a; b": {20, 20, 90}, "": nil} {
		if got := strings.Join(labelsAt(at...), "|"); got != want {
			t.Errorf("%v: %q, want %q", at, got, want)
		}
	}
}

const stacks = `{"curve": {"constant": 2.6, "travel": "156 mm"}, "load": "520 N", "springs": [
		{"name": "on end", "series": [{"linear": {"rate": "200 N/mm", "travel": "20 mm"}}, {"linear": {"rate": "100 N/mm", "travel": "60 mm"}}]},
		{"name": "side by side, and a name that is too long for its column", "parallel": [{"law": {"linear": {"rate": "60 N/mm", "travel": "40 mm"}}},
			{"law": {"linear": {"rate": "100 N/mm", "travel": "30 mm"}}, "starts_at": "10 mm"}]},
		{"name": "stopped", "dual_rate": {"soft_rate": "100 N/mm", "main_rate": "150 N/mm", "soft_travel": "10 mm", "main_travel": "60 mm"}},
		{"name": "groups", "groups": [{"rate": "150 N/mm", "gap": "60 mm"}, {"rate": "100 N/mm", "gap": "10 mm"}]}]}`

// Springs without gas, by hand at 2.6 and 1352 N: in series 200 and 100 N/mm
// give 1352·(1/200 + 1/100) = 20.28 mm; side by side 60 N/mm and from 10 mm on
// 100 N/mm (1352 + 1000)/160 = 14.7 mm, and with 40 mm of their own they go no
// further; a soft 100 N/mm that stops at 10 mm before 150 N/mm gives
// 10 + 1352/150 = 19.01333 mm, as the same two do that are called groups.
func TestStacks(t *testing.T) {
	const job = stacks
	out, errs, status := call(job, "-job", "-", "-json")
	var c comparison
	if err := json.Unmarshal([]byte(out), &c); err != nil || status != 0 {
		t.Fatal(status, errs, err)
	}
	for i, want := range []float64{0.02028, 0.0147, 0.010 + 1.352/150, 0.010 + 1.352/150} {
		unitstest.Near(t, c.Springs[i].Name, float64(c.Springs[i].Rest.Stroke), want, unitstest.Rel(1e-9))
	}
	unitstest.Near(t, "its end", c.Springs[1].Ends, 40*2.6*units.Millimetre, unitstest.Rel(1e-9))
	// Energy at full travel, 60 mm: 150 N/mm from 10 mm of the soft one on.
	const at60 = 0.5*100*10*10 + 0.5*150*50*50 // N·mm
	unitstest.Near(t, "energy", float64(c.Springs[2].Energy[10]), at60/1000, unitstest.Rel(1e-9))
	text, _, _ := call(job, "-job", "-")
	for _, want := range []string{"side by side, an…", "at its end", "            groups"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q in\n%s", want, text)
		}
	}
	programtest.Page(t, text, 80)
	for _, bad := range []struct{ from, to, want string }{
		{`"rate": "200 N/mm"`, `"rate": "-200 N/mm"`, "springs[0].series[0].linear.rate"},
		{`{"rate": "200 N/mm", "travel": "20 mm"}`, `{"rate": "200 N/mm"}`, "springs[0].series[0].linear.travel"},
		{`"starts_at": "10 mm"`, `"starts_at": "-10 mm"`, "springs[1].parallel"},
		{`"rate": "60 N/mm"`, `"rate": "0 N/mm"`, "springs[1].parallel[0].law.linear.rate"},
		{`"gap": "60 mm"`, `"gap": "0 mm"`, "springs[3].groups[0].gap"},
		{`"soft_travel": "10 mm"`, `"soft_travel": "1000 mm"`, "springs[2].dual_rate.main_travel"},
		{`"dual_rate"`, `"linear_pitch": {}, "dual_rate"`, "exactly one of"},
		{`"dual_rate"`, `"triple_rate"`, "springs[2].triple_rate"},
		{`[{"linear": {"rate": "200 N/mm", "travel": "20 mm"}}, `, `[{}, `, "springs[0].series[0]: want exactly one"},
		{`[{"linear": {"rate": "200 N/mm", "travel": "20 mm"}}, {"linear": {"rate": "100 N/mm", "travel": "60 mm"}}]`, `[]`, "springs[0].series: want one or more"},
	} {
		changed := strings.Replace(job, bad.from, bad.to, 1)
		if changed == job {
			t.Fatal(bad.from)
		}
		if out, errs, status := call(changed, "-job", "-"); status != 2 || out != "" || !strings.Contains(errs, bad.want) {
			t.Errorf("%s: status %d, %q", bad.to, status, errs)
		}
	}
}

// A picture of more lines than can be told apart is refused, a table is not.
func TestManySprings(t *testing.T) {
	var list []string
	for i := range 7 {
		list = append(list, fmt.Sprintf(`{"name": "%d", "linear": {"rate": "%d N/mm"}}`, i, 60+10*i))
	}
	job := `{"curve": {"constant": 2.6, "travel": "156 mm"}, "load": "520 N", "springs": [` + strings.Join(list, ",") + `]}`
	if text, errs, status := call(job, "-job", "-"); status != 0 || strings.Count(text, "bounce frequency") != 3 {
		t.Errorf("status %d %s\n%s", status, errs, text)
	}
	// Without a travel of its own a spring goes as far as the stroke, 60 mm:
	// 60 N/mm·60 mm/2.6 at the wheel.
	out, _, _ := call(job, "-job", "-", "-json")
	var c comparison
	if err := json.Unmarshal([]byte(out), &c); err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "full force", float64(c.Springs[0].Reserve.FullForce), 3600/2.6, unitstest.Rel(1e-9))
	if out, errs, status := call(job, "-job", "-", "-out", t.TempDir()); status != 2 || out != "" || !strings.Contains(errs, "at most 6 springs for a picture") {
		t.Errorf("status %d, %q", status, errs)
	}
}

func TestRefuses(t *testing.T) {
	for _, test := range []struct{ from, to, want string }{
		{`"load": "520 N"`, `"load": "-520 N"`, "load"},
		{`"rate": "450 lbf/in"`, `"rate": "0 lbf/in"`, "springs[0].linear.rate"},
		{`"bore": "38 mm"`, `"bore": "0 mm"`, "springs[1].air.bore"},
		{`"air": {`, `"gas": {`, "springs[1].gas"},
		{`"name": "air, large",`, `"name": "coil",`, "springs[1].name"},
		{`"name": "coil",`, `"name": "coil", "air": {},`, "springs[0]: want exactly one of linear, "},
		{`"constant": 2.6`, `"constant": 0`, "curve.constant"},
	} {
		out, errs, status := call(strings.Replace(string(demo), test.from, test.to, 1), "-job", "-")
		if status != 2 || out != "" || !strings.Contains(errs, test.want) {
			t.Errorf("%s: status %d, %q", test.to, status, errs)
		}
	}
}

func FuzzJob(f *testing.F) { programtest.Fuzz(f, newCompare, stacks) }

func TestHostileJobs(t *testing.T) { programtest.Try(t, newCompare, "points", "bodies") }

// Of more springs than can be compared none is looked at.
func TestSpringsAreBounded(t *testing.T) {
	_, err := solve(job{Springs: make([]one, mostSprings+1)}, 2)
	fields := map[string]bool{}
	for _, f := range units.Fields(err) {
		fields[f.Field] = true
	}
	if len(fields) != 2 || !fields["springs"] || !fields["curve"] {
		t.Errorf("%.300v", err)
	}
}

func TestUnwritten(t *testing.T) { programtest.TryUnwritten(t, newCompare().Run, "-out") }
