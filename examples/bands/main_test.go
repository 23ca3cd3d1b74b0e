package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/picture"
	"example.com/wheelrate/examples/internal/program/programtest"
	"example.com/wheelrate/units/unitstest"
)

func call(stdin string, args ...string) (stdout, stderr string, status int) {
	var out, errs bytes.Buffer
	status = newBands().Run(args, strings.NewReader(stdin), &out, &errs)
	return out.String(), errs.String(), status
}

// What a job leaves out is said with what it changes. By hand: 15 % of 16 kg are 2.4 kg, which of a rider
// of 60 % on this wheel are 2.4/0.6 = 4.0 kg; and by Boyle's law 2.4 kg·g₀·2.6 on 11.341 cm² take
// (120 − 11.341·1.68)/120 of 53.95 kPa, 0.45 bar, less fill.
func TestTakenForGranted(t *testing.T) {
	job := strings.ReplaceAll(string(demo), `"unsprung": "3 kg",`, "")
	out, errs, status := call(job, "-job", "-")
	if status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	flat := strings.Join(strings.Fields(out), " ")
	for _, want := range []string{
		"With 2.4 kg (5.3 lb) of it each suits a rider 4.0 kg (8.8 lb) heavier.",
		"With 2.4 kg (5.3 lb) of it the first rider needs 0.45 bar (6.6 psi) less.",
		"no negative chamber",
	} {
		if !strings.Contains(flat, want) {
			t.Errorf("lacks %q in\n%s", want, out)
		}
	}
	if all, _, _ := call(""); strings.Contains(all, "unsprung mass") || !strings.Contains(all, "no negative chamber") {
		t.Error(all)
	}
}

// By hand: at 28 % of 156 mm the stroke is 16.8 mm, of which with the preload
// 17.8 mm the spring is compressed; a rider m puts (0.6·(m + 16) − 3)·g₀ on the
// wheel, of which the spring carries 2.6 times as much. An edge of constant
// ratio is where (k₁ + k₂)·(s + preload) over twice 2.6 is the load and the
// preload's part weighs alike, (2·k₁·k₂/(k₁ + k₂))·(s + preload).
func TestDemonstration(t *testing.T) {
	out, _, status := call("", "-json")
	if status != 0 {
		t.Fatal(status)
	}
	var a answer
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	rider := func(springForce float64) float64 { return (springForce/2.6/9.80665+3)/0.6 - 16 }
	const lbfPerInch = 4.4482216152605 / 0.0254
	for i, k := range []float64{350, 400, 450, 500, 550} {
		unitstest.Near(t, "ideal", float64(a.Coil.IdealMass[i]), rider(k*lbfPerInch*0.0178), unitstest.Rel(1e-9))
	}
	for i, edge := range []struct{ soft, hard float64 }{{350, 400}, {400, 450}, {450, 500}, {500, 550}} {
		// soft·(s + u + p) = hard·(s − u + p): u = (hard − soft)(s + p)/(soft + hard).
		u := (edge.hard - edge.soft) * 0.0178 / (edge.soft + edge.hard)
		unitstest.Near(t, "edge", float64(a.Coil.EdgeMass[i]), rider(edge.soft*lbfPerInch*(0.0178+u)), unitstest.Rel(1e-9))
	}
	const area, v0, pa = math.Pi / 4 * 0.038 * 0.038, 120e-6, 101300.0
	for i, r := range a.Air {
		load := (0.6*(50+5*float64(i)+16) - 3) * 9.80665
		unitstest.Near(t, "fill", float64(r.Fill), (load*2.6/area+pa)*(v0-area*0.0168)/v0-pa, unitstest.Rel(1e-9))
	}
	text, errs, status := call("")
	if status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	for _, want := range []string{"Invented", "350     61.29", "70.5 kg (155.4 lb)", "marking 14.00 bar (203.1 psi)", "Never fill above the marking"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q in\n%s", want, text)
		}
	}
}

func TestPictures(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new")
	text, errs, status := call("", "-out", dir)
	if status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	for _, name := range []string{"springs.svg", "springs.png", "fill.svg", "fill.png"} {
		path := filepath.Join(dir, name)
		if info, err := os.Stat(path); err != nil || info.Size() < 1000 || !strings.Contains(text, path) {
			t.Errorf("%s: %v", name, err)
		}
	}
	if _, errs, status := call("", "-out", "/dev/null/x"); status == 0 || errs == "" {
		t.Errorf("a directory that can't be: status %d", status)
	}
}

// A fill that the marking does not permit, and a rider who needs none, are told
// as that and not drawn as if they had one; a page has 80 columns.
func TestLimits(t *testing.T) {
	text := strings.NewReplacer(`"14 bar"`, `"9.8 bar"`, `"from": "50 kg"`, `"from": "-4 kg"`).Replace(string(demo))
	if out, errs, status := call(text, "-job", "-"); status != 2 || out != "" || !strings.Contains(errs, "air.from") {
		t.Errorf("a rider of less than nothing: status %d %s", status, errs)
	}
	given := strings.NewReplacer(`"14 bar"`, `"9.8 bar"`, `"from": "50 kg"`, `"from": "1 kg"`, `"bike_mass": "16 kg"`, `"bike_mass": "5 kg"`).Replace(string(demo))
	text, errs, status := call(given, "-job", "-")
	for _, want := range []string{"limited by the marking: sags more", "none: sags less even without pressure", "marking 9.80 bar"} {
		if status != 0 || !strings.Contains(text, want) {
			t.Errorf("status %d %s, lacks %q in\n%s", status, errs, want, text)
		}
	}
	programtest.Page(t, text, 80)
	var j job
	if err := json.Unmarshal([]byte(given), &j); err != nil {
		t.Fatal(err)
	}
	a, err := solve(j)
	if err != nil {
		t.Fatal(err)
	}
	drawn := chart(t, pictures(j, a), "fill").Panels[0].Series[0]
	for i, y := range drawn.Y {
		if !(y > 0 && y < 9.8) {
			t.Errorf("drawn at %v kg: %v bar", drawn.X[i], y)
		}
	}
}

// The steps of the picture are at the rates, from edge to edge.
func TestSteps(t *testing.T) {
	var j job
	if err := json.Unmarshal(demo, &j); err != nil {
		t.Fatal(err)
	}
	a, err := solve(j)
	if err != nil {
		t.Fatal(err)
	}
	lines := chart(t, pictures(j, a), "springs").Panels[0].Series
	steps, exact := lines[0], lines[1]
	for i, m := range a.Coil.IdealMass { // every spring is exact for its own rider
		x := (m.Kilograms() - exact.X[0]) / (exact.X[1] - exact.X[0])
		unitstest.Near(t, "exact", exact.Y[0]+x*(exact.Y[1]-exact.Y[0]), j.Coil.Rates[i].PoundsForcePerInch(), unitstest.Rel(1e-9))
	}
	for i, k := range []float64{350, 400, 450, 500, 550} {
		unitstest.Near(t, "left", steps.Y[2*i], k, unitstest.Rel(1e-12))
		unitstest.Near(t, "right", steps.Y[2*i+1], k, unitstest.Rel(1e-12))
		if i > 0 && !(steps.X[2*i] == steps.X[2*i-1] && steps.X[2*i] == a.Coil.EdgeMass[i-1].Kilograms()) {
			t.Errorf("step %d at %v and %v kg", i, steps.X[2*i-1], steps.X[2*i])
		}
	}
}

func TestRefuses(t *testing.T) {
	for _, test := range []struct{ job, want string }{
		{`{"curve": {"constant": 2.6, "travel": "156 mm"}}`, "a set of coil springs"},
		{strings.Replace(string(demo), `"rear_share": 0.6`, `"rear_share": 6`, 1), "coil.rear_share"},
		{strings.Replace(string(demo), `"constant": 2.6`, `"constant": 0`, 1), "curve.constant"},
		{strings.Replace(string(demo), `"bore": "38 mm"`, `"bore": "-38 mm"`, 1), "air.air.bore"},
		{strings.Replace(string(demo), `"rates"`, `"rate"`, 1), "coil.rate"},
	} {
		out, errs, status := call(test.job, "-job", "-")
		if status != 2 || out != "" || !strings.Contains(errs, test.want) {
			t.Errorf("want %q: status %d, %q", test.want, status, errs)
		}
	}
}

func FuzzJob(f *testing.F) { programtest.Fuzz(f, newBands) }

func TestHostileJobs(t *testing.T) { programtest.Try(t, newBands, "points", "bodies") }

func TestUnwritten(t *testing.T) { programtest.TryUnwritten(t, newBands().Run, "-out") }

// chart returns the chart of a name.
func chart(t *testing.T, list []picture.Named, name string) picture.Chart {
	t.Helper()
	for _, p := range list {
		if p.Name == name {
			return p.Picture.(picture.Chart)
		}
	}
	t.Fatalf("no picture %s among %d", name, len(list))
	return picture.Chart{}
}
