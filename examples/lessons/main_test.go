package main

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"image/png"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"example.com/wheelrate/examples/internal/lesson"
	"example.com/wheelrate/examples/internal/program/programtest"
)

func call(args ...string) (stdout, stderr string, status int) {
	var out, errs bytes.Buffer
	status = run(args, &out, &errs)
	return out.String(), errs.String(), status
}

// lessonText is a lesson with its answers, each run of white space as one space.
func lessonText(t *testing.T, n int) string {
	t.Helper()
	text, errs, status := call("-answers", fmt.Sprint(n))
	if status != 0 || errs != "" {
		t.Fatalf("lesson %d: status %d, %s", n, status, errs)
	}
	return strings.Join(strings.Fields(text), " ")
}

// says holds that a lesson says all of this.
func says(t *testing.T, n int, wants ...string) {
	t.Helper()
	text := lessonText(t, n)
	for _, want := range wants {
		if !strings.Contains(text, want) {
			t.Errorf("lesson %d lacks %q in\n%s", n, want, text)
		}
	}
}

// By hand: G·d⁴/(8·D³·n), and J, wire and twist from it one after the other.
// M = 1000·43/2 = 21 500 N·mm; J = π·4096/32 = 402.12 mm⁴; L = π·43·6.5 =
// 878.08 mm; twist = 21 500·878.08/(79 500·402.12) = 0.59052; times 21.5.
func TestWire(t *testing.T) {
	k := func(d, mean float64) float64 { return 79500 * d * d * d * d / (8 * mean * mean * mean * 6.5) }
	says(t, 1,
		"21.5 N·m", "402.1 mm⁴", "878.1 mm", "0.5905 rad, or 33.8°", "12.696 mm", "are 78.76 N/mm", "is 78.76 N/mm (450 lbf/in)",
		fmt.Sprintf("4 mm %.1f N/mm 0.0625", k(4, 43)),
		fmt.Sprintf("9 mm %.1f N/mm 1.6018", k(9, 43)), // (9/8)⁴ = 6561/4096
		fmt.Sprintf("12 mm %.1f N/mm 5.0625", k(12, 43)),
		fmt.Sprintf("16 mm %.1f N/mm 16.0000", k(16, 43)),
		"Twice the wire, 16 times the rate",
		"5.1 % too high",  // 1.0125⁴ = 1.0509
		"falls by 24.9 %", // 1 − 1/1.331
		"10.4 % too high", // 1.025⁴ = 1.1038
	)
}

// By hand: p·Vⁿ stays the same, F = A·(p − p_outside), and so n·A²·p/V.
func TestGas(t *testing.T) {
	const area, outside, start = math.Pi / 4 * 0.036 * 0.036, 101325.0, 85e-6
	room := func(x float64) float64 { return start - area*x/1000 }
	pressure := func(x, n float64) float64 { return (10e5 + outside) * math.Pow(start/room(x), n) }
	force := func(x, n float64) float64 { return area * (pressure(x, n) - outside) }
	rate := func(x, less float64) float64 {
		return area * area * (10e5 + outside) * (start - less) / math.Pow(room(x)-less, 2) / 1000
	}
	wants := []string{
		fmt.Sprintf("At %.2f mm of stroke half", 1000*start/2/area),
		fmt.Sprintf("show %.2f bar there, not 20, for 11.01 bar have become 22.03", 2*11.01325-1.01325),
		fmt.Sprintf("At 29 mm the force is %.1f N and at 31 mm it is %.1f N: %.2f N", force(29, 1), force(31, 1), (force(31, 1)-force(29, 1))/2),
		fmt.Sprintf("ends at %.0f N instead of %.0f N, which is %.0f %% more", force(60, 1.3), force(60, 1), 100*(force(60, 1.3)/force(60, 1)-1)),
		fmt.Sprintf("from %.1f to %.1f N/mm, at the end from %.0f to %.0f N/mm", rate(0, 0), rate(0, 1e-5), rate(60, 0), rate(60, 1e-5)),
		"never fill above the marking",
	}
	for _, x := range []float64{0, 15, 30, 45, 60} {
		wants = append(wants, fmt.Sprintf("%.0f mm %.1f cm³ %.2f bar %.0f N %.1f N/mm", x, 1e6*room(x), pressure(x, 1)/1e5, force(x, 1), rate(x, 0)))
	}
	// The U.S. Standard Atmosphere has 79 495 Pa at 2000 m (the table from memory).
	high := area * ((10e5+79495)*start/room(60) - 79495)
	wants = append(wants, fmt.Sprintf("it is %.0f N instead of %.0f N: there is less gas in it, 10.79 bar", high, force(60, 1)))
	says(t, 2, wants...)
}

// Computed with mpmath 1.2.1 at 40 digits by testdata/lessons.py, which solves
// the pivots and differentiates by itself.
func TestLevers(t *testing.T) {
	says(t, 3,
		"80 N/mm behind 2.90 gives 9.51 N/mm",
		"0.0 mm 2.900 -20.4 /m 9.51 0.00 9.51 N/mm",
		"17.7 mm 2.781 -17.9 /m 10.34 0.42 10.76 N/mm",
		"34.8 mm 2.675 -15.9 /m 11.18 0.83 12.01 N/mm",
		"51.2 mm 2.582 -14.0 /m 12.00 1.22 13.22 N/mm",
		"67.1 mm 2.500 -12.3 /m 12.80 1.57 14.38 N/mm",
		"82.5 mm 2.428 -10.6 /m 13.57 1.86 15.42 N/mm",
		"97.5 mm 2.367 -8.9 /m 14.28 2.02 16.30 N/mm",
		"112.1 mm 2.317 -7.1 /m 14.90 1.99 16.90 N/mm",
		"126.5 mm 2.279 -5.0 /m 15.40 1.68 17.08 N/mm",
		"140.6 mm 2.256 -2.4 /m 15.72 0.92 16.64 N/mm",
		"154.7 mm 2.251 1.1 /m 15.78 -0.50 15.28 N/mm",
		"at 82.5 mm of travel", "is 1021.87 N, half a millimetre after it 1037.29 N: 15.42 N", "say 15.42, the rule of thumb 13.57",
		"12 % too low",          // 1 − 13.568236/15.424203 = 0.1203
		"6 % too slow",          // 1 − √(13.568236/15.424203) = 0.0621
		"At 150.6 mm", "2.2504", // where the slope is 0
	)
}

// By hand, for the air shock behind w = 2.5·s + 20 m⁻¹·s² at full extension:
// A²·p/V/LR² − F·LR′/LR³.
func TestSoftening(t *testing.T) {
	const area = math.Pi / 4 * 36 * 36 // mm²
	k := area * area * 1.101325 / 85e3 // N/mm
	f := area * 1.0                    // N
	says(t, 3,
		fmt.Sprintf("starts with %.0f N and only %.1f N/mm", f, k),
		fmt.Sprintf("k·LR/F = %.1f for each metre", 1000*k*2.5/f),
		fmt.Sprintf("finds %.2f N/mm", k/2.5/2.5-f*0.040/2.5/2.5/2.5),
	)
}

// By hand: each chamber keeps p·V past the port, where both have one pressure.
func TestChambers(t *testing.T) {
	const outside, bore, shaft, port = 0.101325, math.Pi / 4 * 36 * 36, math.Pi / 4 * 10 * 10, 7.0 // MPa, mm², mm
	one := func(x float64) float64 { return bore * ((0.5+outside)*250e3/(250e3-bore*x) - outside) }
	positive := func(x float64) float64 { return (0.5 + outside) * 250e3 / (250e3 - bore*x) }
	two := func(x, v float64) float64 {
		negative := positive(port) * (v + (bore-shaft)*port) / (v + (bore-shaft)*x)
		return bore*positive(x) - (bore-shaft)*negative - shaft*outside
	}
	rest := 0.0
	for step := 1.0; step > 1e-6; step /= 2 {
		for two(rest+step, 60e3) < 0 {
			rest += step
		}
	}
	// Of a change at the gauge the negative chamber takes its share of both at
	// the port, and again of what is left.
	carry := (60e3 + (bore-shaft)*port) / (60e3 + (bore-shaft)*port + 250e3 - bore*port)
	rounds := 1
	for left := 0.5 * carry; left > 0.02; left *= carry {
		rounds++
	}
	// Down from 5.5 bar: where the piston of the still full second chamber stands at
	// three quarters of the way to the port.
	far := rest + 0.75*(port-rest)
	pulls := (0.55 + outside) * 250e3 / (250e3 - bore*port) * (60e3 + (bore-shaft)*port) / (60e3 + (bore-shaft)*far)
	least := 10 * (((bore-shaft)*pulls+shaft*outside)/bore - outside)
	wants := []string{
		fmt.Sprintf("pushes itself out with %.0f N", one(0)),
		fmt.Sprintf("%.2f bar above vacuum", 10*positive(port)),
		fmt.Sprintf("78.54 mm² · %.4f N/mm² = %.1f N", positive(port)-outside, shaft*(positive(port)-outside)),
		fmt.Sprintf("force is %.0f N, below zero. It pulls itself in and rests at %.1f mm", two(0, 60e3), rest),
		fmt.Sprintf("now shows %.2f bar", 5.5-0.5*carry),
		fmt.Sprintf("takes %.0f %% of every change", 100*carry),
		fmt.Sprintf("After %d rounds", rounds),
		fmt.Sprintf("no more than to %.2f bar, where the fork stands %.1f mm in", least, far),
		fmt.Sprintf("force is %.0f N instead of %.0f N, and at 160 mm %.0f N instead of %.0f N", two(40, 90e3), two(40, 60e3), two(160, 90e3), two(160, 60e3)),
		"never fill above the marking",
	}
	for _, x := range []float64{0, 5, 7, 10, 20, 40, 80, 120, 160} {
		wants = append(wants, fmt.Sprintf("%.0f mm %.0f N %.0f N", x, one(x), two(x, 60e3)))
	}
	says(t, 4, wants...)
}

// The caliper by hand: d⁴/(D³·n) with D = outside − d, so that d counts 4/d + 3/D.
// The rest was computed with mpmath 1.2.1 at 40 digits by testdata/lessons.py:
// readings and fit, the exact spring with its effects, and where neighbours on
// the shelf change places.
func TestSure(t *testing.T) {
	k := 79500 * math.Pow(8, 4) / (8 * math.Pow(43, 3) * 6.5)
	wire, fine, outer, coils, steel := (4/8.0+3/43.0)*0.03, (4/8.0+3/43.0)*0.01, 3/43.0*0.1, 0.1/6.5, 500.0/79500
	root := func(parts ...float64) (u float64) {
		for _, p := range parts {
			u = math.Hypot(u, p)
		}
		return u
	}
	u := root(wire, outer, coils, steel)
	share := func(part float64) float64 { return 100 * part * part / u / u }
	says(t, 5,
		"√(3² + 4²) = 5 %", "3 % and 1 % make 3.16 %", "0.38 %, are 1.5 % of rate",
		fmt.Sprintf("makes %.1f ± %.1f N/mm", k, k*u),
		fmt.Sprintf("%.0f %% the wire %.0f %% the outer diameter %.0f %% the count of coils that move %.0f %% the shear modulus", share(wire), share(outer), share(coils), share(steel)),
		"So measure the wire better first", "enough energy to injure",
		"each 2.5 mm of stroke", "0.077 from neighbours", "0.007 from a curve near all",
		"480 ± 14 lbf/in", "+10.6 lbf/in 59 % the rider's mass", "+8.4 lbf/in 38 % how much", "+2.4 lbf/in 3 % the lever ratio",
		"scatter by ± 14 lbf/in", // 13.73, and 1000 draws tell that to 2.2 %
		"the sheet says 475", "12 % for 450 lbf/in", "33 % for 500 lbf/in", "56 % for 475 lbf/in", "find out the rider's mass",
		fmt.Sprintf("± %.1f N/mm, and it is the count of coils that move. If the count were exact, it would be ± %.1f.", k*root(fine, outer, coils, steel), k*root(fine, outer, steel)),
		"± 9.2 lbf/in instead of ± 13.7, and now it is how much of it stands on the rear wheel",
	)
}

// By hand: 0.6 of the weight less the unsprung 3 kg on k/2.5².
func TestSag(t *testing.T) {
	const g = 9.80665
	load := func(rider float64) float64 { return (0.6*(rider+16) - 3) * g }
	wants := []string{
		fmt.Sprintf("load = (0.6 · 96 kg − 3 kg) · 9.80665 m/s² = %.0f N", load(80)),
		"90/2.5² = 14.40 N/mm", fmt.Sprintf("%.0f N / 14.40 N/mm = %.1f mm", load(80), load(80)/14.4), fmt.Sprintf("/ 150 mm = %.1f %% sag", load(80)/14.4/1.5),
		fmt.Sprintf("here %.1f mm on the shock", load(80)/14.4/2.5), "halfway between", "common practice",
		// 60 N at the shock are 24 N at the wheel.
		fmt.Sprintf("anywhere from %.1f to %.1f mm", (load(80)-24)/14.4, (load(80)+24)/14.4),
		fmt.Sprintf("%.1f N/mm: %.0f N over 0.28 · 150 mm", load(80)/42*6.25, load(80)), fmt.Sprintf("2.0 mm more: six tenths of the pack, %.1f N, over 14.40", 3*g),
		"Measure sag on the bike before it is ridden",
	}
	for _, rider := range []float64{60, 80, 100, 120} {
		wants = append(wants, fmt.Sprintf("%.0f kg %.0f N %.1f mm %.1f %%", rider, load(rider), load(rider)/14.4, load(rider)/14.4/1.5))
	}
	says(t, 6, wants...)
}

// By hand: k·(preload + s)/2.5 is the load.
func TestPreload(t *testing.T) {
	const g = 9.80665
	load := (0.6*96 - 3) * g
	heavy := load + 9*g // six tenths of 15 kg
	more := 2.5 * (heavy - load) / 90
	says(t, 7,
		fmt.Sprintf("%.0f N on its rear spring", load), "spring, fully out 0 N 270 N", "wheel, fully out 0 N 108 N",
		fmt.Sprintf("sag %.1f %% %.1f %%", load/14.4/1.5, (load-108)/14.4/1.5), "rate at the wheel 14.40 N/mm 14.40 N/mm", "all travel used 2160 N 2268 N",
		"here 108 N at the wheel", "keep face and fingers out",
		fmt.Sprintf("%.1f mm: the further %.0f N at the wheel are %.0f N at the spring, over 90 N/mm", more, heavy-load, 2.5*(heavy-load)),
		fmt.Sprintf("ends at %.0f N and the preloaded one at %.0f N", 110*60/2.5, 90*(60+more)/2.5),
		fmt.Sprintf("%.0f and %.0f mm", heavy/(110/6.25), (heavy-90*more/2.5)/14.4),
	)
}

// By hand: load·(h + x) is ½·k·x² without a damper, and √(2·g·h) the speed at the ground.
func TestDrop(t *testing.T) {
	const g, h = 9.80665, 0.12
	load := (0.6*96 - 3) * g
	deep := (load + math.Sqrt(load*load+2*14400*load*h)) / 14400
	speed := math.Sqrt(2 * g * h)
	all := 14400 * 0.15 * 0.15 / 2
	says(t, 8,
		fmt.Sprintf("the fall load·h %.1f J", load*h), "left at the end ½·m·v² 0.0 J",
		fmt.Sprintf("Without a damper it would come to %.0f mm, %.0f %% of the travel. With 400 N·s/m", 1000*deep, deep/0.0015),
		fmt.Sprintf("at %.2f m/s, and there the damper alone pushes with %.0f N", speed, 400*speed), fmt.Sprintf("without the damper the most is %.0f N", 14400*deep),
		fmt.Sprintf("%.0f %% of what would bring the bike back", 100*400/2/math.Sqrt(14400*load/g)),
		fmt.Sprintf("room for a fall of %.2f m, for the area under its whole curve is %.0f J", all/load-0.15, all),
		fmt.Sprintf("From %.3f m: %.1f J are %.0f N over %.3f m", all/load-0.15, all, load, all/load), "no promise that a landing ends well", "The marking on the part",
	)
	// Both sides of the balance, as printed.
	text := lessonText(t, 8)
	sum := 0.0
	for row, sign := range map[string]float64{"load·h ": 1, "load·x ": 1, "area to x ": -1, "turned to heat ": -1, "½·m·v² ": -1} {
		var joules float64
		_, rest, _ := strings.Cut(text, row)
		if _, err := fmt.Sscanf(rest, "%g J", &joules); err != nil {
			t.Fatal(row, err)
		}
		sum += sign * joules
	}
	if !(math.Abs(sum) < 0.26) {
		t.Errorf("%v J are nowhere", sum)
	}
}

// By hand: sines and cosines of the head angle.
func TestFork(t *testing.T) {
	sin, cos := math.Sincos(64 * math.Pi / 180)
	wants := []string{
		fmt.Sprintf("At 64.0° the wheel rises by %.1f mm when all of it is used, and comes back by %.1f mm", 160*sin, 160*cos),
		fmt.Sprintf("Of 350 N those are %.0f N along and %.0f N across", 350*sin, 350*cos),
		fmt.Sprintf("s = %.0f N / 9 N/mm = %.1f mm", 350*sin, 350*sin/9), fmt.Sprintf("/ 160 mm = %.1f %%", 350*sin/9/1.6),
		fmt.Sprintf("the ring shows %.1f mm, and the wheel is %.1f mm higher", 350*sin/9, 350*sin/9*sin), fmt.Sprintf("9/%.4f² = %.2f N/mm", sin, 9/sin/sin),
		fmt.Sprintf("%.1f mm instead of %.1f mm. Less of the load", 350*math.Sin(62*math.Pi/180)/9, 350*sin/9), "a loose crown can cost the rider the steering",
	}
	for _, a := range []float64{58, 62, 66, 70, 74, 90} {
		s := math.Sin(a * math.Pi / 180)
		wants = append(wants, fmt.Sprintf("%.0f° %.1f mm %.0f N %.1f %% %.2f N/mm", a, 160*s, 350*s, 350*s/9/1.6, 9/s/s))
	}
	says(t, 9, wants...)
}

// By hand what needs no rest of the whole bike; the rest is held against moments in
// package lesson.
func TestPitch(t *testing.T) {
	const weight = 96 * 9.80665
	says(t, 10,
		fmt.Sprintf("weigh %.0f N. Level, 60 %% of that stands on the rear wheel: %.0f N, and %.0f N on the front", weight, 0.6*weight, 0.4*weight),
		fmt.Sprintf("1250 mm apart each centimetre moves %.1f N", weight/125), "nose up",
		fmt.Sprintf("the formula says %.0f N", 0.3*weight*0.8), "Measure sag on the bike",
	)
	// Its axles lie on the ground line: the pitch is what one wheel is higher, over their distance.
	var front, rear, head float64
	text := lessonText(t, 10)
	_, travels, _ := strings.Cut(text, "wheel travel ")
	_, stands, _ := strings.Cut(text, "now stands at ")
	if _, err := fmt.Sscanf(travels, "%g mm %g mm", &front, &rear); err != nil {
		t.Fatal(err)
	}
	if _, err := fmt.Sscanf(stands, "%g°", &head); err != nil {
		t.Fatal(err)
	}
	if want := 64 - math.Atan((rear-front)/1234)*180/math.Pi; !(math.Abs(head-want) < 0.01) {
		t.Errorf("the fork stands at %v°, want %v°", head, want)
	}
}

func TestAllOfThem(t *testing.T) {
	plain, errs, status := call()
	if status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	answered, _, _ := call("-answers")
	for i, l := range lesson.All() {
		if !strings.Contains(plain, fmt.Sprintf("%d. %s\n===", i+1, l.Title)) {
			t.Errorf("no lesson %d", i+1)
		}
	}
	if n, a := strings.Count(plain, "To try:"), strings.Count(answered, "Answer:"); n != 20 || a != 20 || strings.Contains(plain, "Answer:") {
		t.Errorf("%d questions and %d answers, want two for each lesson", n, a)
	}
	if strings.Count(plain, "nvented") < 10 {
		t.Error("does not say that its numbers are invented")
	}
	for _, line := range strings.Split(answered, "\n") {
		if len([]rune(line)) > 80 {
			t.Errorf("a line of %d columns: %q", len([]rune(line)), line)
		}
	}
	if bad := regexp.MustCompile(`NaN|Inf|%!|-0\.0\b`).FindString(answered); bad != "" {
		t.Errorf("%q in\n%s", bad, answered)
	}
	again, _, _ := call("-answers")
	if again != answered {
		t.Error("says something else the second time")
	}
}

func TestPictures(t *testing.T) {
	dir := t.TempDir()
	text, errs, status := call("-out", dir)
	if status != 0 || errs != "" {
		t.Fatal(status, errs)
	}
	for i := 1; i <= 10; i++ {
		path := filepath.Join(dir, fmt.Sprintf("lesson-%d", i))
		for _, kind := range []string{".svg", ".png"} {
			if !strings.Contains(text, "drawn: "+path+kind+"\n") {
				t.Errorf("does not say where lesson %d%s is", i, kind)
			}
		}
		svg, err := os.ReadFile(path + ".svg")
		if err != nil {
			t.Fatal(err)
		}
		for d := xml.NewDecoder(bytes.NewReader(svg)); ; {
			if _, err := d.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("lesson %d: %v", i, err)
			}
		}
		data, err := os.ReadFile(path + ".png")
		if err != nil {
			t.Fatal(err)
		}
		drawn, err := png.Decode(bytes.NewReader(data))
		if err != nil {
			t.Fatalf("lesson %d: %v", i, err)
		}
		if ink, size := inked(drawn), drawn.Bounds().Size(); size.X < 1000 || size.Y < 500 || ink < 0.005 || ink > 0.3 {
			t.Errorf("lesson %d: %v pixels, %.1f %% of them dark", i, size, 100*ink)
		}
	}
}

// inked is the part of a picture that is dark. All of it must be grey.
func inked(drawn image.Image) float64 {
	dark, all := 0, 0
	for y := drawn.Bounds().Min.Y; y < drawn.Bounds().Max.Y; y++ {
		for x := drawn.Bounds().Min.X; x < drawn.Bounds().Max.X; x++ {
			r, g, b, _ := drawn.At(x, y).RGBA()
			if r != g || g != b {
				return math.Inf(1)
			}
			if all++; r < 0x8000 {
				dark++
			}
		}
	}
	return float64(dark) / float64(all)
}

func TestCalls(t *testing.T) {
	for _, c := range []struct {
		args []string
		want int
		says string
	}{
		{[]string{"-h"}, 0, "example:"},
		{[]string{"-what"}, 2, "what"},
		{[]string{"11"}, 2, `no lesson "11"`},
		{[]string{"0"}, 2, `no lesson "0"`},
		{[]string{"two"}, 2, `no lesson "two"`},
		{[]string{"1", "-answers"}, 2, `no lesson "-answers"`},
		{[]string{"-out", "/dev/null/x", "1"}, 1, "/dev/null"},
	} {
		out, errs, status := call(c.args...)
		if status != c.want || out != "" || !strings.Contains(errs, c.says) {
			t.Errorf("%v: status %d, want %d; %q", c.args, status, c.want, errs)
		}
	}
	// A call with a fault leaves nothing behind.
	dir := t.TempDir()
	if _, _, status := call("-out", dir, "1", "19"); status != 2 {
		t.Error(status)
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v %v", left, err)
	}
	var errs bytes.Buffer
	if status := run([]string{"1"}, full{}, &errs); status != 1 || errs.Len() == 0 {
		t.Errorf("a full disk: status %d", status)
	}
}

type full struct{}

func (full) Write([]byte) (int, error) { return 0, errors.New("full") }

func TestUnwritten(t *testing.T) {
	programtest.TryUnwritten(t, func(args []string, _ io.Reader, stdout, stderr io.Writer) int { return run(args, stdout, stderr) }, "-out")
}
