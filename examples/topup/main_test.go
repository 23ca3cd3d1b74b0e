package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/program/programtest"
	"example.com/wheelrate/units/unitstest"
)

func call(stdin string, args ...string) (stdout, stderr string, status int) {
	var out, errs bytes.Buffer
	status = newTopup().Run(args, strings.NewReader(stdin), &out, &errs)
	return out.String(), errs.String(), status
}

// By hand, all slow: at the port, 8 mm on, the chambers are 220 − 7.2634 and
// 50 + 6.6351 cm³; of the 7.5 psi that are added the negative chamber takes the
// share 56.635/269.37 = 0.21025, so 1.577 psi are missing after one cycle and
// 0.3315 after two. A hose of 4 cm³ shows 220/224 of what is there.
func TestDemonstration(t *testing.T) {
	out, _, status := call("", "-json")
	if status != 0 {
		t.Fatal(status)
	}
	var a answer
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	if a.Cycles != 2 || len(a.Steps) != 4 {
		t.Fatalf("%d cycles, %d steps", a.Cycles, len(a.Steps))
	}
	unitstest.Near(t, "after one", a.Steps[1].After.PSI(), 72-1.577, unitstest.Abs(0.001))
	unitstest.Near(t, "after two", a.Steps[3].After.PSI(), 72-0.3315, unitstest.Abs(0.0005))
	unitstest.Near(t, "on the hose", a.Steps[1].Connected.PSI(), (72-1.577)*220/224, unitstest.Abs(0.001))
	text, errs, status := call("")
	if status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	for _, want := range []string{
		"Invented", "Never fill above the marking on the part, 8.27 bar (120.0 psi)", "Done after 2 rounds",
		"1. Pump up to 4.96 bar (72.0 psi).", "holds 4.86 bar (70.4 psi)", "Screwed on, the pump shows 4.77 bar (69.2 psi)", "is opened. The maker's manual wins",
	} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q in\n%s", want, text)
		}
	}
	programtest.Page(t, text, 80)
}

// Lowering lets air out in rounds, and every gauge is read where the spring stands.
// By hand, of the first one: cycled at 80 psi the chambers had 675.17 kPa at the port;
// let out to where the spring stands 7.02 mm in, the negative one has 56.635/55.822 of
// that, and (829.38·685.0 + 78.54·101.3)/907.92 kPa are left in the positive one, 77.3
// psi on the gauge. Without a hose nothing is said of one.
func TestLowering(t *testing.T) {
	job := strings.NewReplacer(`"old_fill": "64.5 psi"`, `"old_fill": "80 psi"`, `,
  "hose_volume": "4 cm³"`, "").Replace(string(demo))
	text, _, status := call(job, "-job", "-")
	flat := strings.Join(strings.Fields(text), " ")
	for _, want := range []string{"1. Let air out slowly, with no load on the spring, down to 5.33 bar (77.3 psi)", "The spring stands 7.0 mm in.",
		"cycle slowly about an inch, past the port at 8.0 mm", "would stay down", "where it stands, and", "pulled out to full extension, within"} {
		if status != 0 || !strings.Contains(flat, want) || strings.Contains(text, "Screwed on") {
			t.Errorf("status %d, lacks %q in\n%s", status, want, text)
		}
	}
	programtest.Page(t, text, 80)
}

// A reading on the hose is of the chamber where the spring stands, which is smaller.
func TestLoweringOnTheHose(t *testing.T) {
	out, errs, status := call(strings.Replace(string(demo), `"old_fill": "64.5 psi"`, `"old_fill": "80 psi"`, 1), "-job", "-", "-json")
	var a answer
	if err := json.Unmarshal([]byte(out), &a); err != nil || status != 0 {
		t.Fatal(err, errs)
	}
	one := a.Steps[1]
	chamber := 220 - 0.90792*one.Stands.Millimetres()
	unitstest.Near(t, "on the hose", one.Connected.PSI(), one.After.PSI()*chamber/(chamber+4), unitstest.Rel(1e-6))
	if one.Stands == 0 || a.PullIn == 0 || a.Extended >= a.Steps[len(a.Steps)-1].After {
		t.Errorf("%+v", a)
	}
}

// A spring just assembled starts from nothing, and its negative chamber from the
// air around: of 72 psi and of the air in both, by hand, (597 748·220 + 101 325·50)
// Pa·cm³ are left in 269.372 cm³ at the port, which at full extension of the
// positive chamber is 388.93 kPa or 56.41 psi.
func TestJustAssembled(t *testing.T) {
	job := strings.NewReplacer(`"old_fill": "64.5 psi"`, `"old_fill": "0 psi"`, `"101.3 kPa(a)"`, `"101.325 kPa(a)"`).Replace(string(demo))
	text, errs, status := call(job, "-job", "-", "-explain")
	for _, want := range []string{"just assembled", "The chamber then holds 3.89 bar (56.4 psi)", "p_n = p_a", "→ g1 = 388.93"} {
		if status != 0 || !strings.Contains(text, want) {
			t.Errorf("status %d %s, lacks %q in\n%s", status, errs, want, text)
		}
	}
}

func TestRefuses(t *testing.T) {
	for _, test := range []struct{ from, to, want string }{
		{`"fill": "72 psi"`, `"fill": "130 psi"`, "fill is 896.3 kPa(g)"},
		{`"max_fill": "120 psi",`, ``, "max_fill"},
		{`"bore": "34 mm"`, `"bore": "34"`, "bore"},
		{`"bore": "34 mm"`, `"boar": "34 mm"`, "boar"},
		{`"hose_volume": "4 cm³"`, `"hose_volume": "-4 cm³"`, "hose_volume"},
		{`"within": "0.5 psi"`, `"within": "0 psi"`, "within"},
	} {
		job := strings.Replace(string(demo), test.from, test.to, 1)
		out, errs, status := call(job, "-job", "-")
		if status != 2 || out != "" || !strings.Contains(errs, test.want) {
			t.Errorf("%s: status %d, %q", test.to, status, errs)
		}
	}
}

func FuzzJob(f *testing.F) { programtest.Fuzz(f, newTopup, `{"fill": "1 bar", "bore": 3}`) }

func TestHostileJobs(t *testing.T) { programtest.Try(t, newTopup, "points", "bodies") }

// The working ends in the numbers of the answer.
func TestExplain(t *testing.T) {
	text, _, status := call("", "-explain")
	_, working, ok := strings.Cut(text, "THE WORKING")
	for _, want := range []string{"β = V_n/(V_p + V_n)", "β = 0.210249", "g1 = 485.5", "g2 = 494.1"} {
		if status != 0 || !ok || !strings.Contains(working, want) {
			t.Errorf("status %d, lacks %q in\n%s", status, want, working)
		}
	}
}
