package main

import (
	"math"
	"strings"
	"testing"
)

// At full travel of one end alone the frame pitches about the other: by hand for the single pivot, whose
// axle is at (−438, 28) mm of the bottom bracket, 1218 mm behind the front one, on wheels of 370 mm. The
// fork takes the front axle 160·cos 64° back and 160·sin 64° up.
func TestGeometry(t *testing.T) {
	_, rows := cells(t, answer(t, "", "geometry", "-demo", "single-pivot", "-n", "3", "-csv"))
	if len(rows) != 9 {
		t.Fatalf("%d lines", len(rows))
	}
	sin, cos := math.Sincos(64 * math.Pi / 180)
	last := rows[8]
	near(t, "strokes", last["front stroke (mm)"]+last["rear stroke (mm)"], 160, 1e-12)
	along, up := 1218-160*cos, 160*sin
	near(t, "wheelbase", last["wheelbase (mm)"], math.Hypot(along, up), 1e-10)
	pitch := -math.Atan2(up, along)
	near(t, "pitch", last["pitch (deg)"], pitch*180/math.Pi, 1e-9)
	near(t, "head angle", last["head angle (°)"], 64-pitch*180/math.Pi, 1e-9)
	head := 64*math.Pi/180 - pitch
	near(t, "trail", last["trail (mm)"], (370*math.Cos(head)-44)/math.Sin(head), 1e-9)
	near(t, "bottom bracket", last["height of the bottom bracket (mm)"], 370+math.Cos(pitch)*-28+math.Sin(pitch)*438, 1e-9)
	near(t, "at first", rows[0]["height of the bottom bracket (mm)"], 342, 1e-12)
	near(t, "both", rows[2]["front stroke (mm)"], 160, 1e-12)
	near(t, "rear alone", rows[5]["rear stroke (mm)"], 57.5, 1e-12)
	near(t, "rear alone", rows[5]["front stroke (mm)"], 0, 0)
}

// What the bike does not tell is left out by name, its faults are named, and so is a bike that lacks.
func TestGeometryAsksForTheBike(t *testing.T) {
	curve := `{"schema": "wheelrate/leverage/1", "constant": 2.5, "travel": "150 mm"BIKE}`
	fork := `, "bike": {"fork": {"head_angle": "64°", "travel": "160 mm"}, "wheelbase": "1.2 m", "wheel_radius": "370 mm"MORE}`
	with := func(more string) string {
		return strings.Replace(curve, "BIKE", strings.Replace(fork, "MORE", more, 1), 1)
	}
	text := answer(t, with(""), "geometry", "-")
	for _, want := range []string{"No trail: give fork_offset", "No height of the bottom bracket"} {
		if !strings.Contains(text, want) {
			t.Errorf("lacks %q:\n%s", want, text)
		}
	}
	if strings.Contains(text, "bracket  ") || strings.Contains(text, "trail  ") {
		t.Error(text)
	}
	text = answer(t, with(`, "fork_offset": "40 mm", "bottom_bracket_height": "340 mm", "chainstay_length": "440 mm"`), "geometry", "-")
	if strings.Contains(text, "No ") || !strings.Contains(text, "bracket") {
		t.Error(text)
	}
	for _, test := range []struct{ job, want string }{
		{strings.Replace(curve, "BIKE", "", 1), "bike: want the bike around the suspension"},
		{strings.Replace(with(""), "64°", "14°", 1), "bike.fork.head_angle"},
		{strings.Replace(with(""), `"wheelbase": "1.2 m"`, `"wheelbase": "0.07 m"`, 1), "bike.wheelbase"},
		{with(`, "rear_wheel_radius": "-1 mm"`), "bike.rear_wheel_radius"},
	} {
		out, errs, status := call(t, test.job, "geometry", "-")
		if status != 2 || out != "" || !strings.Contains(errs, test.want) {
			t.Errorf("status %d, %q, want %q", status, errs, test.want)
		}
	}
}
