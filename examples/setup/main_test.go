package main

import (
	"bytes"
	"encoding/json"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"
)

// call runs the program and returns what it printed and its exit status.
func call(t *testing.T, stdin string, args ...string) (stdout, stderr string, status int) {
	t.Helper()
	var out, errs bytes.Buffer
	status = run(args, strings.NewReader(stdin), &out, &errs)
	return out.String(), errs.String(), status
}

func TestDemonstration(t *testing.T) {
	out, errs, status := call(t, "")
	if status != 0 || errs != "" {
		t.Fatalf("status %d, standard error %q", status, errs)
	}
	// By hand: (82 + 16.8) kg · 9.80665 m/s² = 968.897 N, of which 58 % are
	// 561.96 N on the rear wheel and 42 % are 406.94 N on the front wheel; the
	// unsprung 3.2 kg and 2.4 kg take 31.38 N and 23.54 N off.
	for _, want := range []string{
		"Invented for this demonstration",
		"rear wheel on the ground  562 N            126.3 lbf",
		"  of it on the spring     531 N            119.3 lbf",
		"front wheel on the ground 407 N            91.5 lbf",
		"  of it on the spring     383 N            86.2 lbf",
		"Each spacer more lowers the fill for the same sag by ",
		"FRONT: air spring", "REAR: coil spring", "friction may hold it at",
		"lbf/in", "N/mm", "bar", "psi", " Hz", "Measure to confirm", "CAUTIONS",
		"The marking on the part and the maker's manual win",
	} {
		if !strings.Contains(out, want) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
	for _, line := range strings.Split(out, "\n") {
		if utf8.RuneCountInString(line) > 100 {
			t.Errorf("a line of %d columns does not print on a page: %q", utf8.RuneCountInString(line), line)
		}
	}
	if strings.Contains(out, "NaN") || strings.Contains(out, "Inf") || strings.Contains(out, "%!") {
		t.Errorf("not a number in\n%s", out)
	}
}

// number finds the first number after a label.
func number(t *testing.T, text, label string) float64 {
	t.Helper()
	m := regexp.MustCompile(regexp.QuoteMeta(label) + `\D*([0-9.]+)`).FindStringSubmatch(text)
	if m == nil {
		t.Fatalf("no %q in\n%s", label, text)
	}
	v, err := strconv.ParseFloat(m[1], 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// A copied job with a heavier rider wants more air, a harder spring, the same sag.
func TestHeavierRider(t *testing.T) {
	job, _, status := call(t, "", "-example")
	if status != 0 || !strings.Contains(job, `"82 kg"`) {
		t.Fatalf("the example job: status %d\n%s", status, job)
	}
	light, _, _ := call(t, job, "-job", "-")
	path := filepath.Join(t.TempDir(), "heavy.json")
	if err := os.WriteFile(path, []byte(strings.Replace(job, `"82 kg"`, `"98 kg"`, 1)), 0o600); err != nil {
		t.Fatal(err)
	}
	heavy, errs, status := call(t, "", "-job", path)
	if status != 0 {
		t.Fatalf("status %d: %s", status, errs)
	}
	for _, label := range []string{"fill at full extension", "  exactly on target", "force at the wheel", "rear wheel on the ground"} {
		a, b := number(t, light, label), number(t, heavy, label)
		if !(b > a*1.05) {
			t.Errorf("%s: %v for the light rider, %v for the heavy one", label, a, b)
		}
	}
}

func TestOtherDemonstration(t *testing.T) {
	out, errs, status := call(t, "", "-job", filepath.Join("demo", "coil-fork.json"))
	if status != 0 {
		t.Fatalf("status %d: %s", status, errs)
	}
	for _, want := range []string{"FRONT: coil spring", "REAR: air spring", "not stated"} {
		if !strings.Contains(out, want) {
			t.Errorf("the sheet lacks %q:\n%s", want, out)
		}
	}
	for _, line := range strings.Split(out, "\n") {
		if utf8.RuneCountInString(line) > 100 {
			t.Errorf("a line of %d columns does not print on a page: %q", utf8.RuneCountInString(line), line)
		}
	}
}

// One end is enough: a hardtail, a fork or a shock by itself. What needs both ends says so, and the
// working is that of the end that is there.
func TestOneEnd(t *testing.T) {
	demo, err := os.ReadFile(filepath.Join("demo", "hardtail.json"))
	if err != nil {
		t.Fatal(err)
	}
	var shock map[string]any
	if err := json.Unmarshal(demo, &shock); err != nil {
		t.Fatal(err)
	}
	front := shock["front"].(map[string]any)
	front["curve"] = map[string]any{"constant": 2.5, "travel": "110 mm"}
	shock["rear"] = front
	delete(shock, "front")
	masses := shock["masses"].(map[string]any)
	masses["unsprung_rear"] = masses["unsprung_front"]
	delete(masses, "unsprung_front")
	alone, err := json.Marshal(shock)
	if err != nil {
		t.Fatal(err)
	}
	for end, job := range map[string][]byte{"front": demo, "rear": alone} {
		text, errs, status := call(t, string(job), "-explain", "-job", "-")
		if status != 0 {
			t.Fatalf("%s: status %d: %s", end, status, errs)
		}
		other := map[string]string{"front": "rear", "rear": "front"}[end]
		for _, want := range []string{strings.ToUpper(end) + ": air spring", "the job has one end", "THE WORKING, " + strings.ToUpper(end), other + " wheel on the ground", "RIDERS OF OTHER MASSES", "At the pump"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the sheet lacks %q", end, want)
			}
		}
		for _, none := range []string{"THE WORKING, " + strings.ToUpper(other), strings.ToUpper(other) + ":", "settled together,", "frequency ratio", "NaN"} {
			if strings.Contains(text, none) {
				t.Errorf("%s: the sheet has %q", end, none)
			}
		}
		for _, args := range [][]string{{"-json"}, {"-html"}} {
			if out, errs, status := call(t, string(job), append(args, "-job", "-")...); status != 0 || out == "" {
				t.Errorf("%s %v: status %d: %s", end, args, status, errs)
			}
		}
		for _, line := range strings.Split(text, "\n") {
			if utf8.RuneCountInString(line) > 100 {
				t.Errorf("%s: a line of %d columns: %q", end, utf8.RuneCountInString(line), line)
			}
		}
	}
}

// What is taken for granted and what is implausible is on the sheet, with the field that it is about.
func TestTakenForGrantedAndImplausible(t *testing.T) {
	text, _, _ := call(t, strings.Replace(string(demo), `"82 kg"`, `"820 kg"`, 1), "-job", "-")
	for _, want := range []string{"LEFT OUT AND TAKEN FOR GRANTED", "! masses.rider_mass: 820.0 kg (1807.8 lb) is stated"} {
		if !strings.Contains(text, want) {
			t.Errorf("the sheet lacks %q", want)
		}
	}
	text, _, _ = call(t, "", "-job", "demo/coil-fork.json")
	if flat := strings.Join(strings.Fields(text), " "); !strings.Contains(flat, "taken to hold no oil. With 5.7 cm³ (0.35 in³) the exact fill is 0.22 bar (3.3 psi) lower.") {
		t.Errorf("lacks the effect of oil:\n%s", text)
	}
}

func TestBadJobPrintsNoSheet(t *testing.T) {
	good, _, _ := call(t, "", "-example")
	for _, test := range []struct {
		name string
		job  string
		want []string // on standard error
	}{
		{"what can't be read", strings.NewReplacer(`"82 kg"`, `"82"`, `"37 mm"`, `"35 furlongs"`, `"sag": 0.29`, `"sag": "29"`).Replace(good),
			[]string{`masses.rider_mass is "82"`, `front.air.bore is "35 furlongs"`, "rear.sag", "3 faults", "want"}},
		{"what can't be", strings.NewReplacer(`"82 kg"`, `"-82 kg"`, `"37 mm"`, `"0 mm"`, `"sag": 0.29`, `"sag": 1.29`).Replace(good),
			[]string{"masses.rider_mass is -82 kg: want", "front.air.bore is 0 mm: want", "rear.sag is 1.29: want"}},
		{"no JSON", "what?", []string{"setup:"}},
		{"nothing", "", []string{"setup:"}},
		{"an unknown field", strings.Replace(good, `"ambient"`, `"ambiant"`, 1), []string{"ambiant"}},
	} {
		t.Run(test.name, func(t *testing.T) {
			out, errs, status := call(t, test.job, "-job", "-")
			if status != 2 || out != "" {
				t.Errorf("status %d and %d bytes of sheet, want 2 and none", status, len(out))
			}
			for _, want := range test.want {
				if !strings.Contains(errs, want) {
					t.Errorf("standard error lacks %q:\n%s", want, errs)
				}
			}
		})
	}
}

func TestJSON(t *testing.T) {
	out, errs, status := call(t, "", "-json")
	if status != 0 {
		t.Fatalf("status %d: %s", status, errs)
	}
	var answer struct {
		Loads struct {
			RearLoad string `json:"rear_load"`
		} `json:"loads"`
		Front struct {
			Air struct {
				Options []struct {
					Fill string `json:"fill"`
				} `json:"options"`
			} `json:"air"`
			Rest struct {
				Sag float64 `json:"sag"`
			} `json:"rest"`
		} `json:"front"`
		Cautions []struct{ Code, Text string } `json:"cautions"`
	}
	if err := json.Unmarshal([]byte(out), &answer); err != nil {
		t.Fatal(err)
	}
	if !strings.HasSuffix(answer.Loads.RearLoad, " N") || len(answer.Front.Air.Options) == 0 ||
		!strings.HasSuffix(answer.Front.Air.Options[0].Fill, "kPa(g)") || answer.Front.Rest.Sag != 0.2 && (answer.Front.Rest.Sag < 0.19999 || answer.Front.Rest.Sag > 0.20001) || len(answer.Cautions) == 0 {
		t.Errorf("answer %+v", answer)
	}
}

func TestCalls(t *testing.T) {
	for _, test := range []struct {
		name   string
		args   []string
		status int
		stderr string
	}{
		{"help", []string{"-h"}, 0, "example:"},
		{"an unknown flag", []string{"-sheet"}, 2, "usage"},
		{"a stray word", []string{"job.json"}, 2, "unexpected"},
		{"no such file", []string{"-job", "nowhere.json"}, 2, "nowhere.json"},
		{"a folder", []string{"-job", t.TempDir()}, 2, "setup:"},
	} {
		out, errs, status := call(t, "", test.args...)
		if status != test.status || out != "" || !strings.Contains(errs, test.stderr) {
			t.Errorf("%s: status %d, %q, %q", test.name, status, out, errs)
		}
	}
}

type broken struct{}

func (broken) Write([]byte) (int, error) { return 0, io.ErrClosedPipe }

func TestBrokenOutput(t *testing.T) {
	var errs bytes.Buffer
	if status := run(nil, strings.NewReader(""), broken{}, &errs); status != 1 || errs.Len() == 0 {
		t.Errorf("status %d, standard error %q", status, errs.String())
	}
}

// A rider who knows no chambers enters eight values, and has the fill to set next.
func TestGaugeDemonstration(t *testing.T) {
	path := filepath.Join("demo", "gauge.json")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	var job map[string]any
	if err := json.Unmarshal(text, &job); err != nil {
		t.Fatal(err)
	}
	delete(job, "schema")
	delete(job, "note")
	var count func(v any) int
	count = func(v any) (n int) {
		switch v := v.(type) {
		case map[string]any:
			for _, inner := range v {
				n += count(inner)
			}
		case []any:
			for _, inner := range v {
				n += count(inner)
			}
		default:
			n = 1
		}
		return n
	}
	if n := count(job); n > 8 {
		t.Errorf("%d values to enter", n)
	}
	out, errs, status := call(t, "", "-job", path)
	if status != 0 {
		t.Fatalf("status %d: %s", status, errs)
	}
	// On the line through 70 psi at 46 mm and 95 psi at 24 mm, at a fifth of 160 mm.
	for _, want := range []string{"next fill 5.92 bar (85.9 psi), a step and not the answer", "sag 20.0 % = 32.0 mm (1.26 in)", "FRONT: air spring", "is taken as 16 kg"} {
		if !strings.Contains(strings.Join(strings.Fields(out), " "), want) {
			t.Errorf("the sheet lacks %q:\n%s", want, out)
		}
	}
	if page, _, status := call(t, "", "-html", "-job", path); status != 0 || !strings.Contains(page, "85.9 psi") {
		t.Errorf("status %d", status)
	}
}

// A reading from the command line leads to the next step, and the job that is kept has it.
func TestReadings(t *testing.T) {
	demo, kept := filepath.Join("demo", "gauge.json"), filepath.Join(t.TempDir(), "next.json")
	out, errs, status := call(t, "", "-job", demo, "-read", "85.9 psi, 33.5 mm", "-out", kept)
	if status != 0 || !strings.Contains(out, "next fill 6.02 bar (87.3 psi)") {
		t.Fatalf("status %d, %s\n%s", status, errs, out)
	}
	again, _, _ := call(t, "", "-job", kept)
	both, _, _ := call(t, "", "-job", demo, "-read", "front,85.9 psi,33.5 mm")
	if again != out || both != out {
		t.Errorf("the kept job gives another sheet:\n%s\n%s", again, out)
	}
	for _, test := range []struct {
		args []string
		want string
	}{
		{[]string{"-job", demo, "-read", "85 psi, 33 mm", "-out", kept}, "a new file"},
		{[]string{"-job", demo, "-read", "85 psi"}, "want FILL,RING"},
		{[]string{"-job", demo, "-read", "85,33 mm"}, "-read"},
		{[]string{"-job", demo, "-read", "rear,85 psi,33 mm"}, "rear: want"},
		{[]string{"-read", "85 psi,33 mm"}, "rear: want"},
		{[]string{"-job", demo, "-read", "85 psi,330 mm"}, "front.gauge.readings[2].stroke"},
	} {
		if out, errs, status := call(t, "", test.args...); status != 2 || out != "" || !strings.Contains(errs, test.want) {
			t.Errorf("%v: status %d, %q", test.args, status, errs)
		}
	}
}

// A curve from a spreadsheet takes the place of the job's, and the job's method for a table stays.
func TestCurveFromCSV(t *testing.T) {
	dir := t.TempDir()
	file := func(name, text string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	good := file("good.csv", "sep=;\nShock stroke (mm);Wheel travel (cm)\n0;0\n20;5,6\n40;10,7\n65;16,4\n")
	job := strings.Replace(string(demo), `"method": "smooth"`, `"degree": 3, "method": "measured"`, 1)
	kept := filepath.Join(dir, "kept.json")
	got, errs, status := call(t, string(demo), "-job", "-", "-rear-curve", good, "-out", kept)
	if status != 0 || !strings.Contains(got, "164.0 mm") {
		t.Fatalf("status %d: %s\n%s", status, errs, got)
	}
	written, err := os.ReadFile(kept)
	if err != nil || !strings.Contains(string(written), `"smooth"`) || !strings.Contains(string(written), `"107 mm"`) {
		t.Errorf("%v, the job kept:\n%s", err, written)
	}
	if again, _, _ := call(t, "", "-job", kept); again != got {
		t.Error("the job kept gives another sheet")
	}
	front, _, status := call(t, "", "-front-curve", file("fork.csv", "travel (mm),lever ratio\n0,0.9\n150,0.9\n"))
	if status != 0 || !strings.Contains(front, "150.0 mm") {
		t.Errorf("a fork's curve: status %d\n%s", status, front)
	}
	for _, test := range []struct {
		job, flag, file, want string
	}{
		{string(demo), "-rear-curve", file("bad.csv", "stroke (mm),travel (mm)\n0,0\nfive,13\n"), `rear.curve.table.stroke[1] is "five": want a number, in line 3`},
		{job, "-rear-curve", good, "rear.curve.table.stroke is 4: want from 5"},
		{string(demo), "-front-curve", filepath.Join(dir, "none.csv"), "no such file"},
		{`{"schema": "wheelrate/job/1", "masses": {"rider_mass": "71 kg"}}`, "-front-curve", good, "-front-curve is"},
	} {
		out, errs, status := call(t, test.job, "-job", "-", test.flag, test.file)
		if status != 2 || out != "" || !strings.Contains(errs, test.want) {
			t.Errorf("%s %s: status %d, %q, want %q", test.flag, test.file, status, errs, test.want)
		}
	}
}
