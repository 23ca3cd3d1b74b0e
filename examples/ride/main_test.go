package main

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/program/programtest"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/law"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

func call(stdin string, args ...string) (stdout, stderr string, status int) {
	var out, errs bytes.Buffer
	status = newRide().Run(args, strings.NewReader(stdin), &out, &errs)
	return out.String(), errs.String(), status
}

func solved(t *testing.T, change func(*job)) *answer {
	t.Helper()
	var j job
	if err := json.Unmarshal(demo, &j); err != nil {
		t.Fatal(err)
	}
	change(&j)
	a, err := solve(j)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

func near(t testing.TB, what string, got, want, rel float64) {
	t.Helper()
	unitstest.Near(t, what, got, want, unitstest.Rel(rel))
}

// By hand: of 95 kg 42 % are in front, of which the fork carries all but 3.2 kg: 36.7 kg. Along the
// stanchions that is 36.7·g·sin 64°, which 7 N/mm carry with 5 mm of preload. The rear carries 51.0 kg.
// The mass centre divides the wheelbase as the loads do.
func TestDemonstrationAtRest(t *testing.T) {
	out, errs, status := call("", "-json")
	if status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	var a answer
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	sin := math.Sin(64 * math.Pi / 180)
	stroke := 36.7*9.80665*sin/7e3 - 0.005
	near(t, "front rest", float64(a.Rides[0].Front.Rest), stroke*sin, 1e-9)
	near(t, "front sag", a.Rides[0].Front.Sag, stroke/0.170, 1e-9)
	near(t, "behind", float64(a.Behind), 1.2*36.7/87.7, 1e-12)
	near(t, "ahead", float64(a.Ahead), 1.2*51.0/87.7, 1e-12)
	if len(a.Rides) != 3 || len(a.Granted) != 0 {
		t.Errorf("%d rides, %v", len(a.Rides), a.Granted)
	}
	// More damping shakes more on a bump, and takes more of its travel from the wheels.
	soft, hard := a.Rides[0], a.Rides[1]
	if !(hard.Shaking > soft.Shaking && hard.Front.Travel < soft.Front.Travel && hard.Rear.Light > 0) {
		t.Errorf("%+v and %+v", soft.Front, hard.Front)
	}
	// Slow waves carry the bike along, fast ones leave it alone.
	first, last := soft.Response[0], soft.Response[len(soft.Response)-1]
	if !(math.Abs(first.Front-1) < 0.3 && last.Front < 0.3 && last.Rear < 0.3) {
		t.Errorf("%+v to %+v", first, last)
	}
}

// On flat ground it stands still, with the loads of the statics.
func TestStandsOnFlatGround(t *testing.T) {
	a := solved(t, func(j *job) { j.Ground.Bump.Height = 0 })
	for _, r := range a.Rides {
		near(t, "front", float64(r.Front.Ground), 95*0.42*9.80665, 2e-5)
		near(t, "rear", float64(r.Rear.Ground), 95*0.58*9.80665, 2e-5)
		near(t, "travel", float64(r.Front.Travel), float64(r.Front.Rest), 1e-6)
		if !(r.Acceleration < 1e-4 && r.Shaking < 1e-4 && r.PitchHigh < 1e-5 && math.Abs(float64(r.Front.DamperWork)) < 1e-6 && r.Front.Light == 0) {
			t.Errorf("%s moves: %+v", r.Name, r)
		}
	}
}

// A drop on hard, light wheels is a landing of each end by itself, [sag.End.Land], where the radius of
// gyration is such that neither end feels the other. The tyres are 10 kN/mm and the wheels 20 g.
func TestDropIsTheLandingOfEachEnd(t *testing.T) {
	light := units.Mass(0.02)
	a := solved(t, func(j *job) {
		j.UnsprungFront, j.UnsprungRear, j.Gyration = &light, &light, 0
		j.Front.Tyre, j.Rear.Tyre = 1e7, 1e7
		j.Ground = ground{Duration: 0.4, Drop: &drop{Height: 0.3}}
		j.Settings = j.Settings[1:2]
		j.Settings[0].Front.Spring = law.Spec{Linear: &spring.Linear{Rate: 7e3}}
		j.Settings[0].Rear.Spring = law.Spec{Linear: &spring.Linear{Rate: 80e3}}
		j.Rear.Curve = linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 2.7, Travel: 0.162}}
		j.Front.Curve = linkage.Spec{ConstantRatio: &linkage.ConstantRatio{Ratio: 1, Travel: 0.17}}
	})
	if len(a.Granted) != 1 || !strings.Contains(a.Granted[0], "gyration") {
		t.Errorf("%v", a.Granted)
	}
	for _, end := range []struct {
		result  endResult
		ratio   float64
		rate    units.Stiffness
		travel  units.Length
		mass    float64
		damping units.Damping
	}{{a.Rides[0].Front, 1, 7e3, 0.17, 95*0.42 - 0.02, 750}, {a.Rides[0].Rear, 2.7, 80e3, 0.162, 95*0.58 - 0.02, 6000 / (2.7 * 2.7)}} {
		curve, err := linkage.NewConstant(linkage.ConstantRatio{Ratio: end.ratio, Travel: end.travel})
		if err != nil {
			t.Fatal(err)
		}
		made, err := spring.NewLinear(spring.Linear{Rate: end.rate, Travel: curve.Stroke()})
		if err != nil {
			t.Fatal(err)
		}
		l, err := sag.End{Curve: curve, Law: made}.Land(units.Force(end.mass*9.80665), sag.Drop{Height: 0.3, Damping: end.damping})
		if err != nil || l.Bottoms {
			t.Fatal(l, err)
		}
		near(t, "deepest", float64(end.result.Travel), float64(l.Travel), 2e-3)
		if end.result.Bottoms || end.result.Used > 1 {
			t.Errorf("%+v", end.result)
		}
	}
}

// A step up and the same as a profile with a steep edge ride alike, and a profile is read from CSV in
// its own units.
func TestProfiles(t *testing.T) {
	by := func(g ground) *answer { return solved(t, func(j *job) { j.Ground = g; j.Settings = j.Settings[:1] }) }
	up := by(ground{Speed: 5, Duration: 1, Step: &step{Height: 0.05, At: 1}})
	points, err := parseProfile(strings.NewReader("along (m), height (mm)\n# the edge\n0,0\n1,0\n1.00001,50\n3,50\n"))
	if err != nil {
		t.Fatal(err)
	}
	steep := by(ground{Speed: 5, Duration: 1, Points: points})
	near(t, "travel", float64(steep.Rides[0].Front.Travel), float64(up.Rides[0].Front.Travel), 1e-3)
	near(t, "ground", float64(steep.Rides[0].Rear.Ground), float64(up.Rides[0].Rear.Ground), 1e-2)
	near(t, "shaking", steep.Rides[0].Shaking, up.Rides[0].Shaking, 1e-3)
	// A bump as points.
	half := ground{Speed: 5, Duration: 1, Points: []point{}}
	for i := range 201 {
		x := float64(i) / 200
		half.Points = append(half.Points, point{units.Length(0.5 + x), units.Length(0.06 * math.Sin(math.Pi*x))})
	}
	near(t, "bump", by(half).Rides[0].Shaking, by(ground{Speed: 5, Duration: 1, Bump: &bump{Height: 0.06, Length: 1, At: 0.5}}).Rides[0].Shaking, 1e-3)

	path := filepath.Join(t.TempDir(), "track.csv")
	if err := os.WriteFile(path, []byte("x (ft),y (in)\n0,0\n3,0\n4,2\n5,0\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	out, errs, status := call("", "-profile", path)
	if status != 0 || !strings.Contains(out, "a profile of 4 points") {
		t.Errorf("status %d, %s%s", status, out, errs)
	}
	for _, bad := range []string{"", "a,b\n0,0\n", "a (m),b (kg)\n", "a (m),b (m)\n", "a (m),b (m)\n0,x\n", "a (m),b (m)\n0,NaN\n", "a (m),b (m)\n0,0,0\n", "a (m)\n0\n",
		"a (m),b (m)\n" + strings.Repeat("0,0\n", mostPoints+1)} {
		if p, err := parseProfile(strings.NewReader(bad)); err == nil {
			t.Errorf("%.40q is read as %v", bad, p)
		}
	}
	if _, errs, status := call("", "-profile", "no-such-file"); status != 2 || errs == "" {
		t.Errorf("no file: status %d, %q", status, errs)
	}
}

// The pictures are written, and the page has them; a text has 80 columns.
func TestShown(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "new")
	drawn, errs, status := call("", "-out", dir)
	if status != 0 || errs != "" || !strings.Contains(drawn, "wrote "+dir) {
		t.Fatal(status, errs)
	}
	for _, name := range []string{"front.svg", "rear.png", "body.svg", "front-frequency.svg", "rear-frequency.png"} {
		if info, err := os.Stat(filepath.Join(dir, name)); err != nil || info.Size() < 1000 {
			t.Errorf("%s: %v", name, err)
		}
	}
	text, errs, _ := call("")
	for _, want := range []string{"Invented", "as it came", "more damping", "softer, air", "37 mm, 24 %", "It promises no safety"} {
		if !strings.Contains(strings.Join(strings.Fields(text), " "), want) {
			t.Errorf("lacks %q in\n%s%s", want, text, errs)
		}
	}
	programtest.Page(t, text, 80)
	html, errs, status := call("", "-html")
	if status != 0 || errs != "" || strings.Count(html, "<svg") != 5 || !strings.Contains(html, "promises no safety") {
		t.Errorf("status %d, %s", status, errs)
	}
	if _, errs, status := call("", "-html", "-json"); status != 2 || errs == "" {
		t.Errorf("both: status %d", status)
	}
	if _, _, status := call("", "-out", "/dev/null/x"); status == 0 {
		t.Error("a directory that can't be")
	}
}

// A step up is said to be too hard on a wheel that is a point, and a damper that is left out is named.
func TestSaysWhatHurts(t *testing.T) {
	a := solved(t, func(j *job) {
		j.Ground = ground{Speed: 5, Duration: 0.5, Step: &step{Height: 0.05, At: 1}}
		j.Settings[1].Rear.Damper = damperSpec{}
	})
	granted := strings.Join(a.Granted, "\n")
	if len(a.Granted) != 2 || !strings.Contains(granted, "is a point") || !strings.Contains(granted, "more damping: no damper is stated for the rear") {
		t.Error(granted)
	}
	a = solved(t, func(j *job) { j.Ground = ground{Speed: 5, Duration: 0.5, Step: &step{Height: -0.05, At: 1}} })
	if text := (ground{Speed: 5, Duration: 1, Step: &step{Height: -0.05, At: 1}}).String(); len(a.Granted) != 0 || !strings.HasPrefix(text, "Over a step of 50 mm down at 5.0 m/s") {
		t.Error(text, a.Granted)
	}
}

// What is taken for granted is said, and the states of a rest out of the travel.
func TestSaysWhatIsTakenForGranted(t *testing.T) {
	text, _, status := call(strings.NewReplacer(`"gyration": "430 mm",`, "", `"tyre": "90 N/mm",`, "", `"110 N/mm",
    "stops": "120 N/mm"`, `"110 N/mm"`, `"7 N/mm", "preload": "5 mm"`, `"7 N/mm", "preload": "80 mm"`).Replace(string(demo)), "-job", "-")
	text = strings.Join(strings.Fields(text), " ")
	for _, want := range []string{"radius of gyration is not stated", "front wheel has no tyre", "rear stops is not stated", "topped out"} {
		if status != 0 || !strings.Contains(text, want) {
			t.Errorf("status %d, lacks %q in\n%s", status, want, text)
		}
	}
}

func TestRefuses(t *testing.T) {
	for _, test := range []struct{ old, new, want string }{
		{`"rear_share": 0.58`, `"rear_share": 1.58`, "rear_share"},
		{`"unsprung_front": "3.2 kg",`, ``, "unsprung_front"},
		{`"wheelbase": "1.2 m",`, ``, "wheelbase"},
		{`"430 mm"`, `"-430 mm"`, "gyration"},
		{`"tyre": "90 N/mm"`, `"tyre": "-90 N/mm"`, "front.tyre"},
		{`"speed": "6 m/s",`, ``, "ground.speed"},
		{`"duration": "2 s"`, `"duration": "200 s"`, "ground.duration"},
		{`"height": "90 mm", "length"`, `"height": "90 m", "length"`, "ground.bump.height"},
		{`"bump": { "height": "90 mm", "length": "900 mm", "at": "600 mm" }`, `"drop": { "height": "90 mm" }`, "ground.speed"},
		{`"bump": { "height": "90 mm", "length": "900 mm", "at": "600 mm" }`, `"step": { "height": "9 m", "at": "0 m" }`, "ground.step.at"},
		{`"bump": { "height": "90 mm", "length": "900 mm", "at": "600 mm" }`, `"points": []`, "ground.points"},
		{`"bump": { "height": "90 mm", "length": "900 mm", "at": "600 mm" }`, `"points": [{"along": "1 m", "height": "0 m"}, {"along": "1 m", "height": "0 m"}]`, "ground.points[1].along"},
		{`"bump": {`, `"drop": {"height": "1 m"}, "bump": {`, "ground"},
		{`"linear": { "rate": "7 N/mm", "preload": "5 mm" }`, ``, "settings[0].front.spring"},
		{`"rate": "450 lbf/in"`, `"rate": "-450 lbf/in"`, "settings[0].rear.spring.linear.rate"},
		{`"bore": "36 mm"`, `"bore": "-36 mm"`, "settings[2].front.spring.air.bore"},
		{`"damping": "750 N·s/m"`, `"damping": "-750 N·s/m"`, "settings[1].front.damper.damping"},
		{`"settings": [`, `"settings": [], "x": [`, "settings"},
	} {
		if !strings.Contains(string(demo), test.old) {
			t.Fatalf("the demonstration lacks %s", test.old)
		}
		out, errs, status := call(strings.Replace(string(demo), test.old, test.new, 1), "-job", "-")
		if status != 2 || out != "" || !strings.Contains(errs, "  "+test.want) {
			t.Errorf("%s: status %d, %q", test.want, status, errs)
		}
	}
	// A drop on a rigid wheel, and settings beyond a picture's lines.
	out, errs, status := call(strings.NewReplacer(`"speed": "6 m/s",`, ``, `"bump": { "height": "90 mm", "length": "900 mm", "at": "600 mm" }`, `"drop": { "height": "90 mm" }`, `"tyre": "90 N/mm",`, ``).Replace(string(demo)), "-job", "-")
	if status != 2 || out != "" || !strings.Contains(errs, "tyre") {
		t.Errorf("status %d, %q", status, errs)
	}
}

func FuzzJob(f *testing.F) { programtest.Fuzz(f, newRide) }

func TestHostileJobs(t *testing.T) { programtest.Try(t, newRide, "points", "bodies") }

func TestUnwritten(t *testing.T) { programtest.TryUnwritten(t, newRide().Run, "-out") }
