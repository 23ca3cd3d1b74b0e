package answer_test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"strings"
	"testing"

	"example.com/wheelrate/examples/webpage/answer"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// mechanismOf is the rear's of a demonstration.
func mechanismOf(t *testing.T, demo string) string {
	t.Helper()
	text, err := os.ReadFile("../demo/" + demo + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var job struct {
		Rear struct {
			Curve struct{ Mechanism json.RawMessage }
		}
	}
	if err := json.Unmarshal(text, &job); err != nil {
		t.Fatal(err)
	}
	return string(job.Rear.Curve.Mechanism)
}

// The swingarm turns about its pivot: the axle keeps its distance, and by the law of cosines the shock's
// shortening says by how much it turns.
func TestLinkageMovesAsAnArmDoes(t *testing.T) {
	l := answer.WorkLinkage([]byte(mechanismOf(t, "pivots")), "")
	if len(l.Faults) > 0 || len(l.Path) != 61 || len(l.LeverRatio) != 61 || len(l.Travel) != 61 {
		t.Fatalf("%+v", l)
	}
	apart := func(a, b [2]float64) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }
	pivot, upper := l.Points["pivot"], l.Points["upper eye"]
	near := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	for _, p := range l.Path {
		near("arm", apart(p, pivot), apart(l.Points["axle"], pivot))
	}
	near("shock", apart(l.Full["lower eye"], upper), apart(l.Points["lower eye"], upper)-62)
	near("travel", l.Travel[60], l.Full["axle"][1]-l.Points["axle"][1])
	a, d := apart(l.Points["lower eye"], pivot), apart(upper, pivot)
	angle := func(length float64) float64 { return math.Acos((a*a + d*d - length*length) / (2 * a * d)) }
	turn := angle(apart(l.Points["lower eye"], upper)) - angle(apart(l.Full["lower eye"], upper))
	near("chord", apart(l.Full["axle"], l.Points["axle"]), 2*apart(l.Points["axle"], pivot)*math.Sin(math.Abs(turn)/2))
	if !strings.HasPrefix(l.Says, "Travel 153.3 mm. Lever ratio 2.538 to 2.394, a progression of 5.7 %. Shock 215.7 mm") {
		t.Errorf("says %q", l.Says)
	}
}

func TestLinkageNamesItsFaults(t *testing.T) {
	good := mechanismOf(t, "pivots")
	for _, test := range []struct{ from, to, field string }{
		{`"62 mm"`, `"62"`, "stroke"}, {`"62 mm"`, `"190 mm"`, "stroke"}, {`"axle": "axle"`, `"axle": "saddle"`, "axle"}, {`{`, `[`, ""},
	} {
		l := answer.WorkLinkage([]byte(strings.Replace(good, test.from, test.to, 1)), "")
		if len(l.Faults) == 0 || l.Faults[0].Field != test.field || l.Points != nil {
			t.Errorf("%s: %+v", test.to, l)
		}
	}
}

// Budget: 4 ms for a step of the pointer, of the 16 ms that a picture of the screen has; the browser's
// program takes some times as long as this one. It allocates the answer.
func BenchmarkLinkage(b *testing.B) {
	text, err := os.ReadFile("../demo/pivots.json")
	if err != nil {
		b.Fatal(err)
	}
	from := strings.Index(string(text), `"mechanism": `) + len(`"mechanism": `)
	part := string(text)[from:]
	part = part[:strings.Index(part, `"62 mm"`)+len(`"62 mm"`)] + "}"
	b.ReportAllocs()
	for b.Loop() {
		if l := answer.WorkLinkage([]byte(part), ""); len(l.Faults) > 0 {
			b.Fatal(l.Faults)
		}
	}
}

// CSV pasted as a curve gives the sheet of the same points in the job; a bad cell is told by its line.
func TestPastedTableIsThatOfAJob(t *testing.T) {
	const job = `{"schema": "wheelrate/job/1", "masses": {"rider_mass": "71 kg", "bike_mass": "14 kg", "rear_share": 0.6, "unsprung_rear": "3 kg"},
		"ambient": "1 bar(a)", "rear": {"sag": 0.3, "coil": {"shelf": [{"rate": "80 N/mm", "solid_travel": "70 mm"}]}, "curve": {"table": `
	pasted := answer.ReadTable("Shock stroke (mm);Wheel travel (mm)\n0;0\n20;56,5\n60;152\n")
	text, err := json.Marshal(pasted.Table)
	if err != nil || len(pasted.Faults) > 0 {
		t.Fatal(err, pasted.Faults)
	}
	got := answer.Work([]byte(job+string(text)+"}}}"), answer.Options{Width: 400})
	want := answer.Work([]byte(job+`{"stroke": ["0 mm", "20 mm", "60 mm"], "travel": ["0 mm", "56.5 mm", "152 mm"]}}}}`), answer.Options{Width: 400})
	if got.Rear == nil || got.Said != want.Said || got.Rear.Curves.Force[60] != want.Rear.Curves.Force[60] {
		t.Errorf("%v, want %v", got, want)
	}
	bad := answer.ReadTable("stroke (mm),travel (mm)\n0,0\nfive,13\n")
	if len(bad.Faults) != 1 || bad.Table != nil || bad.Faults[0].Field != "stroke[1]" || !strings.Contains(bad.Faults[0].Want.String(), "in line 3") {
		t.Errorf("%+v", bad)
	}
}

// The band is that of the mechanism's tolerance, at every fifth point of the curve and so in the table; it grows
// with the tolerance, and a tolerance that is no length is told.
func TestLinkageBand(t *testing.T) {
	text := []byte(mechanismOf(t, "pivots"))
	var spec mechanism.Spec
	if err := json.Unmarshal(text, &spec); err != nil {
		t.Fatal(err)
	}
	m, err := mechanism.New(spec)
	if err != nil {
		t.Fatal(err)
	}
	fine, coarse := answer.WorkLinkage(text, "0.1 mm"), answer.WorkLinkage(text, "0.3 mm")
	if len(fine.Band) != 13 || len(fine.Table.Rows) != 13 {
		t.Fatalf("%+v", fine)
	}
	// Moving the frame's pivot by a tenth of a millimetre is one of the ways in which its hole may be off.
	spec.Points["pivot"] = mechanism.Point{spec.Points["pivot"][0] + 0.1*units.Millimetre, spec.Points["pivot"][1]}
	moved, err := mechanism.New(spec)
	if err != nil {
		t.Fatal(err)
	}
	for i, off := range fine.Band {
		stroke := m.Stroke() * units.Length(i) / 12
		if by := math.Abs(moved.Pose(stroke).LeverRatio - m.Pose(stroke).LeverRatio); !(off > 0 && 2*off >= by) {
			t.Errorf("%d: %v, and a pivot moved changes %v", i, off, by)
		}
		if !(math.Abs(coarse.Band[i]-3*off) < 1e-9) {
			t.Errorf("%d: %v for three times the tolerance of %v", i, coarse.Band[i], off)
		}
		want := fmt.Sprintf("%.1f %.3f %.3f", m.Pose(stroke).Travel.Millimetres(), m.Pose(stroke).LeverRatio, off)
		if got := strings.Join(fine.Table.Rows[i], " "); got != want {
			t.Errorf("%d: %s, want %s", i, got, want)
		}
	}
	for within, want := range map[string]string{"0.1": "within", "-1 mm": "within.every"} {
		if l := answer.WorkLinkage(text, within); len(l.Faults) != 1 || l.Faults[0].Field != want {
			t.Errorf("%s: %+v", within, l.Faults)
		}
	}
	if l := answer.WorkLinkage(text, ""); l.Band != nil || len(l.Table.Head) != 2 || len(l.Table.Rows[0]) != 2 {
		t.Errorf("a band without a tolerance: %+v", l.Table)
	}
}
