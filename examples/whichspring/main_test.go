package main

import (
	"bytes"
	"encoding/json"
	"math"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/program/programtest"
	"example.com/wheelrate/units/unitstest"
)

func call(stdin string, args ...string) (stdout, stderr string, status int) {
	var out, errs bytes.Buffer
	status = newWhich().Run(args, strings.NewReader(stdin), &out, &errs)
	return out.String(), errs.String(), status
}

// By hand: D = 51.2 − 8.02 = 43.18 mm, k = 79 500·8.02⁴/(8·43.18³·6.5) N/mm;
// the wire counts 4/d + 3/D, the diameter 3/D, coils and modulus as they are.
// Each shelf spring's label adds (0.03·r)²/3 to the variance.
func TestDemonstration(t *testing.T) {
	out, _, status := call("", "-json")
	if status != 0 {
		t.Fatal(status)
	}
	var a answer
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	k := 79500 * math.Pow(8.02, 4) / (8 * math.Pow(43.18, 3) * 6.5)
	parts := []float64{(4/8.02 + 3/43.18) * 0.02, 3 / 43.18 * 0.08, 0.06 / 6.5, 500.0 / 79500}
	sum := 0.0
	for _, p := range parts {
		sum += p * p
	}
	u := k * math.Sqrt(sum)
	unitstest.Near(t, "rate", a.Rate.NewtonsPerMillimetre(), k, unitstest.Rel(1e-12))
	unitstest.Near(t, "uncertainty", a.Uncertainty.NewtonsPerMillimetre(), u, unitstest.Rel(1e-12))
	for i, p := range parts {
		unitstest.Near(t, a.Shares[i].Input, a.Shares[i].Share, p*p/sum, unitstest.Rel(1e-12))
	}
	const lbfPerInch = 4.4482216152605 / 25.4
	weights, total := map[float64]float64{}, 0.0
	for _, label := range []float64{400, 425, 450, 475} {
		r := label * lbfPerInch
		s := math.Sqrt(u*u + 0.03*0.03*r*r/3)
		weights[label] = math.Exp(-(k-r)*(k-r)/(2*s*s)) / s
		total += weights[label]
	}
	for _, c := range a.Candidates {
		unitstest.Near(t, "probability", c.Probability, weights[math.Round(c.Rate.PoundsForcePerInch())]/total, unitstest.Rel(1e-9))
	}
	text, errs, status := call("")
	if status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	for _, want := range []string{"Invented", "most likely   450 lbf/in (78.81 N/mm), 87 %", "know the wire better", "On the shelf, if it is one of these", "told by its rate", "compressed spring stores"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q in\n%s", want, text)
		}
	}
}

// A spring that is none of the shelf's is not passed off as one.
func TestNoneOfThem(t *testing.T) {
	text, _, status := call(strings.Replace(string(demo), `"8.02 mm"`, `"7.4 mm"`, 1), "-job", "-")
	if status != 0 || !strings.Contains(text, "Nothing on the shelf matches") || strings.Contains(text, "100.0 %") || !strings.Contains(text, "most likely   none of the shelf") {
		t.Errorf("status %d\n%s", status, text)
	}
}

// A material stands for the modulus that the reference data gives it.
func TestMaterial(t *testing.T) {
	job := strings.Replace(string(demo), `"shear_modulus": "79500 MPa"`, `"material": "EN 10270-1 SH"`, 1)
	text, errs, status := call(job, "-job", "-")
	if status != 0 || !strings.Contains(text, "G = 81500 MPa") {
		t.Errorf("status %d %s\n%s", status, errs, text)
	}
}

func TestRefuses(t *testing.T) {
	for _, test := range []struct{ from, to, want string }{
		{`"wire_diameter": "8.02 mm"`, `"wire_diameter": "60 mm"`, "wire_diameter"},
		{`"shear_modulus": "79500 MPa",`, `"shear_modulus": "79500 MPa", "material": "EN 10270-1 SH",`, "either a material or a shear_modulus"},
		{`"shear_modulus": "79500 MPa"`, `"material": "cheese"`, "material"},
		{`"shear_modulus": "79500 MPa",`, ``, "shear_modulus"},
		{`"tolerance": 0.03`, `"tolerance": 3`, "shelf"},
		{`"active_coils": 6.5`, `"active_coils": "six"`, "active_coils"},
		{`"active_coils": 6.5`, `"total_coils": 1.5`, "total_coils is 1.5"},
		{`"active_coils": 6.5`, `"total_coils": 8.5, "ends": "open"`, `ends is "open"`},
		{`"active_coils": 6.5`, `"active_coils": 6.5, "total_coils": 8.5`, "coils"},
		{`"active_coils": 6.5`, `"active_coils": 6.5, "ends": "plain"`, "left out, or given with total_coils"},
		{`"active_coils": 6.5`, `"total_coils": 8.5, "inner_diameter": "3 mm"`, "1 fault:\n  inner_diameter"},
	} {
		out, errs, status := call(strings.Replace(string(demo), test.from, test.to, 1), "-job", "-")
		if status != 2 || out != "" || !strings.Contains(errs, test.want) {
			t.Errorf("%s: status %d, %q", test.to, status, errs)
		}
	}
}

func FuzzJob(f *testing.F) { programtest.Fuzz(f, newWhich) }

func TestHostileJobs(t *testing.T) { programtest.Try(t, newWhich, "points", "bodies") }

// The working ends in the numbers of the answer.
func TestExplain(t *testing.T) {
	text, _, status := call("", "-explain")
	_, working, ok := strings.Cut(text, "THE WORKING")
	for _, want := range []string{"k = G·d⁴/(8·D³·n)", "D = 43.18 mm", "→ k = 78.562", "Shigley"} {
		if status != 0 || !ok || !strings.Contains(working, want) {
			t.Errorf("status %d, lacks %q in\n%s", status, want, working)
		}
	}
}

// Coils counted from tip to tip: closed ends keep two of them out (Machinery's
// Handbook, 31st ed., table 3 on p. 318), so 8.5 are 6.5 and give the same rate;
// plain ground ones keep one.
func TestTotalCoils(t *testing.T) {
	active, _, _ := call("", "-json")
	for given, want := range map[string]string{`"total_coils": 8.5`: active, `"total_coils": 7.5, "ends": "plain_ground"`: active} {
		out, errs, status := call(strings.Replace(string(demo), `"active_coils": 6.5`, given, 1), "-job", "-", "-json")
		if status != 0 || out != want {
			t.Errorf("%s: status %d %s\n%s", given, status, errs, out)
		}
	}
	text, _, _ := call(strings.Replace(string(demo), `"active_coils": 6.5`, `"total_coils": 8.5`, 1), "-job", "-", "-explain")
	if !strings.Contains(text, "N = 8.5; N_dead = 2\n        → n = 6.5") {
		t.Error(text)
	}
}

// -rates stands in for the shelf. By hand, with labels that are exact: the
// chances are as exp(−(k − r)²/(2u²)), with k and u as above.
func TestRates(t *testing.T) {
	out, errs, status := call("", "-json", "-rates", "78 N/mm, 450 lbf/in")
	var a answer
	if err := json.Unmarshal([]byte(out), &a); err != nil || status != 0 || len(a.Candidates) != 2 {
		t.Fatal(status, errs, err)
	}
	k, u := a.Rate.NewtonsPerMillimetre(), a.Uncertainty.NewtonsPerMillimetre()
	weight := func(r float64) float64 { return math.Exp(-(k - r) * (k - r) / (2 * u * u)) }
	hard := 450 * 4.4482216152605 / 25.4
	for _, c := range a.Candidates {
		unitstest.Near(t, "probability", c.Probability, weight(c.Rate.NewtonsPerMillimetre())/(weight(78)+weight(hard)), unitstest.Rel(1e-9))
	}
	for list, want := range map[string]string{"450": "-rates[0]", "450 lbf/in,,x": "2 faults:\n  -rates[1]", "-3 N/mm": "shelf[0].rate"} {
		if out, errs, status := call("", "-rates", list); status != 2 || out != "" || !strings.Contains(errs, want) {
			t.Errorf("%s: status %d, %q", list, status, errs)
		}
	}
}

// A page of 80 columns, whatever is found.
func TestWidth(t *testing.T) {
	for _, wire := range []string{"8.02 mm", "7.4 mm", "12 mm"} {
		text, errs, status := call(strings.Replace(string(demo), `"8.02 mm"`, `"`+wire+`"`, 1), "-job", "-", "-explain")
		if status != 0 {
			t.Errorf("%s: status %d, %s", wire, status, errs)
		}
		programtest.Page(t, text, 80)
	}
}
