package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

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
	var c sag.Comparison
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
	if err != nil || !strings.Contains(string(svg), "air, small") || !strings.Contains(string(svg), "sag, coil") || !strings.Contains(text, "springs.png") {
		t.Error(err)
	}
	if _, errs, status := call("", "-out", "/dev/null/x"); status == 0 || errs == "" {
		t.Errorf("a directory that can't be: status %d", status)
	}
}

func TestRefuses(t *testing.T) {
	for _, test := range []struct{ from, to, want string }{
		{`"load": "520 N"`, `"load": "-520 N"`, "load"},
		{`"rate": "450 lbf/in"`, `"rate": "0 lbf/in"`, "springs[0].linear.rate"},
		{`"bore": "38 mm"`, `"bore": "0 mm"`, "springs[1].air.bore"},
		{`"air": {`, `"gas": {`, "springs[1].gas"},
		{`"name": "air, large",`, `"name": "coil",`, "springs[1].name"},
		{`"name": "coil",`, `"name": "coil", "air": {},`, "either linear or air"},
		{`"constant": 2.6`, `"constant": 0`, "curve.constant"},
	} {
		out, errs, status := call(strings.Replace(string(demo), test.from, test.to, 1), "-job", "-")
		if status != 2 || out != "" || !strings.Contains(errs, test.want) {
			t.Errorf("%s: status %d, %q", test.to, status, errs)
		}
	}
}

func FuzzJob(f *testing.F) {
	f.Add(demo)
	f.Fuzz(func(t *testing.T, text []byte) {
		var out bytes.Buffer
		if err := newCompare().Answer(text, false, &out); err != nil {
			if len(units.Fields(err)) == 0 {
				t.Fatal(err)
			}
			return
		}
		// What a user calls things may say anything.
		if said := out.String(); strings.Contains(said, "NaN") && !bytes.Contains(text, []byte("NaN")) || strings.Contains(said, "Inf") && !bytes.Contains(text, []byte("Inf")) {
			t.Fatal(said)
		}
	})
}
