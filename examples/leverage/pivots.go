package main

import (
	"fmt"
	"strconv"
	"strings"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/linkage/pivots"
	"example.com/wheelrate/units"
)

// found is the answer to the command pivots, and what -json prints.
type found struct {
	Schema string `json:"schema"`
	Note   string `json:"note,omitempty"`
	// Wanted lists every value that a target asks for, with what the linkage given and that found have.
	Wanted []wantedValue `json:"wanted"`
	*pivots.Solution
	Comparison *comparison `json:"comparison"` // of the linkage found with that given
}

// wantedValue is one value of a target. Lengths are in mm, angles in degrees and shares in percent.
type wantedValue struct {
	Of     string  `json:"of"`
	Unit   string  `json:"unit,omitempty"`
	At     float64 `json:"at"` // share of the stroke
	Wanted float64 `json:"wanted"`
	Given  float64 `json:"given"`
	Found  float64 `json:"found"`

	decimals int
}

// pivots is the command of that name.
func (o *options) pivots(b *bench) (*result, error) {
	if err := b.needsMechanism(); err != nil {
		return nil, err
	}
	c := units.Checker{Package: "leverage"}
	if b.in.Search == nil {
		c.Fail("search", nil, "what to look for, as -example shows", units.ErrMissing)
		return nil, c.Err()
	}
	ask := *b.in.Search
	if len(ask.Mechanism.Points) > 0 || ask.Drive != nil {
		c.Fail("search", nil, "no mechanism and no drive of its own: those of the job are searched", units.ErrConflict)
		return nil, c.Err()
	}
	ask.Mechanism, ask.Drive = *b.in.Mechanism, b.in.Drive
	fit, err := pivots.Find(ask)
	if err != nil {
		c.Add("search", err)
		return nil, c.Err()
	}
	changed := *b.in
	changed.Mechanism = &fit.Mechanism
	with, err := changed.build()
	if err != nil {
		return nil, err
	}
	b.name, with.name = "given", "found"
	compared, r := compareBenches(b, with, o.n)
	f := &found{Schema: "wheelrate/leverage-pivots/1", Note: b.in.Note, Solution: fit, Comparison: compared, Wanted: values(&ask.Targets, b, with)}
	r.data, r.text = f, func(p page) { p.found(f) }
	return r, nil
}

// values lists what the targets want, and what both linkages have.
func values(t *pivots.Targets, given, found *bench) (list []wantedValue) {
	list = append(list, listed(t.LeverRatio, "lever ratio", "", 3, 1, given, found, func(p mechanism.Pose, _ drivetrain.Pose) float64 { return p.LeverRatio })...)
	if p := t.Progression; p != nil {
		list = append(list, wantedValue{"progression", "%", 1, 100 * p.Value[0], 100 * given.curve.Progression().Value, 100 * found.curve.Progression().Value, 1})
	}
	list = append(list, listed(t.Travel, "travel", "mm", 1, 1e3, given, found, func(p mechanism.Pose, _ drivetrain.Pose) float64 { return float64(p.Travel) })...)
	list = append(list, listed(t.WheelbaseGrowth, "axle backward", "mm", 1, 1e3, given, found, func(p mechanism.Pose, _ drivetrain.Pose) float64 { return float64(p.WheelbaseGrowth) })...)
	list = append(list, listed(t.AntiSquat, "anti-squat", "%", 1, 100, given, found, func(_ mechanism.Pose, d drivetrain.Pose) float64 { return d.AntiSquat })...)
	list = append(list, listed(t.AntiRise, "anti-rise", "%", 1, 100, given, found, func(_ mechanism.Pose, d drivetrain.Pose) float64 { return d.AntiRise })...)
	list = append(list, listed(t.ChainGrowth, "chain growth", "mm", 1, 1e3, given, found, func(_ mechanism.Pose, d drivetrain.Pose) float64 { return float64(d.ChainGrowth) })...)
	degrees := 1 / float64(units.Degree)
	list = append(list, listed(t.KickbackWheelFixed, "kickback, held", "°", 2, degrees, given, found, func(_ mechanism.Pose, d drivetrain.Pose) float64 { return float64(d.KickbackWheelFixed) })...)
	return append(list, listed(t.KickbackWheelRolling, "kickback, rolling", "°", 2, degrees, given, found, func(_ mechanism.Pose, d drivetrain.Pose) float64 { return float64(d.KickbackWheelRolling) })...)
}

// listed are the values of one target, in a unit of which an SI unit has scale.
func listed[V ~float64](t *pivots.Target[V], of, unit string, decimals int, scale float64, given, found *bench, read func(mechanism.Pose, drivetrain.Pose) float64) (list []wantedValue) {
	if t == nil {
		return nil
	}
	at := func(b *bench, share float64) float64 {
		stroke, chain := b.curve.Stroke()*units.Length(share), drivetrain.Pose{}
		if b.drive != nil {
			chain = b.drive.At(stroke)
		}
		return scale * read(b.kin.Pose(stroke), chain)
	}
	for i, share := range t.At {
		list = append(list, wantedValue{of, unit, share, scale * float64(t.Value[i]), at(given, share), at(found, share), decimals})
	}
	return list
}

func (p page) found(f *found) {
	p.title("PIVOTS", f.Note)
	p.heading("WHAT WAS WANTED")
	row := func(cells ...string) {
		p.line("  " + left(cells[0], 24) + right(cells[1], 10) + right(cells[2], 13) + right(cells[3], 13) + right(cells[4], 13))
	}
	row("", "at stroke", "wanted", "given", "found")
	for _, v := range f.Wanted {
		text := func(x float64) string { return fact{unit: v.Unit, decimals: v.decimals}.of(x) }
		row(v.Of, strconv.Itoa(int(100*v.At+0.5))+" %", text(v.Wanted), text(v.Given), text(v.Found))
	}
	p.line("")
	p.line("  Root mean square of what each target is missed by, as a part of its within:")
	for _, m := range f.Misses {
		row(strings.NewReplacer("anti_", "anti-", "_", " ").Replace(m.Of), "", "1 or less", fixed(m.StartRMS, 2), fixed(m.RMS, 2))
	}
	p.heading("WHERE THE PIVOTS GO")
	line := func(cells ...string) {
		p.line("  " + left(cells[0], 16) + right(cells[1], 12) + right(cells[2], 12) + right(cells[3], 14) + right(cells[4], 12))
	}
	line("point", "x mm", "y mm", "moved by x", "y")
	for _, m := range f.Moved {
		at := f.Mechanism.Points[m.Point]
		line(clip(m.Point, 15), fixed(at[0].Millimetres(), 2), fixed(at[1].Millimetres(), 2), fixed(m.X.Millimetres(), 2), fixed(m.Y.Millimetres(), 2))
	}
	p.line("")
	p.length("shock, eye to eye", f.ShockLength, "stroke "+mm(f.Mechanism.Stroke)+" mm")
	for _, a := range f.ActiveBounds {
		p.paragraph("  * ", fmt.Sprintf("%s lies at its bound along %s, %s: with more room there it would come nearer.", a.Point, a.Axis, a.Bound))
	}
	for _, v := range f.Violations {
		p.paragraph("  ! ", fmt.Sprintf("%s %s is not kept, by %s mm: the bounds leave no way to.", v.Field, v.Point, fixed(v.By.Millimetres(), 2)))
	}
	p.paragraph("  ", fmt.Sprintf("%d linkages were solved, of which %d lock. There may be a better one that the search does not come to. With -json the linkage found is printed as a job has it.", f.Tried, f.Locked))
	p.sideBySide(f.Comparison)
}
