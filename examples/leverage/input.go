package main

import (
	"embed"
	"encoding/json"
	"slices"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/linkage/pivots"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

//go:embed demo/*.json
var demoFiles embed.FS

// demos are the names of the demonstrations; the first is run if none is named.
var demos = []string{"four-bar", "single-pivot"}

func demoFile(name string) ([]byte, error) { return demoFiles.ReadFile("demo/" + name + ".json") }

// schema is the name that every file carries.
const schema = "wheelrate/leverage/1"

// limit is the largest input in bytes.
const limit = 1 << 20

// input is what a file says. Its curve is of one of the kinds that package linkage
// has, whose fields stand beside the others.
type input struct {
	Schema string `json:"schema"`         // [schema]
	Note   string `json:"note,omitempty"` // for people; echoed
	linkage.Spec
	// Drive, if given, is what chain and brake need; with a mechanism only.
	Drive *drivetrain.Spec `json:"drive,omitempty"`
	// Spring, if given, is seen through the geometry.
	Spring *springSpec `json:"spring,omitempty"`
	// Sag, if given, is marked in tables and pictures: a fraction of the
	// wheel's full travel.
	Sag float64 `json:"sag,omitempty"`
	// Gears, if given, are swept by the command gears.
	Gears *gears `json:"gears,omitempty"`
	// Bike, if given, is what stands around the suspension, for the command geometry.
	Bike *bikeSpec `json:"bike,omitempty"`
	// Tolerances, if given, are those of the holes for the command tolerance.
	Tolerances *mechanism.Tolerances `json:"tolerances,omitempty"`
	// Search, if given, is answered by the command pivots, with the mechanism and the drive above.
	Search *pivots.Search `json:"search,omitempty"`
}

// springSpec is one of the springs that can be seen through a geometry. A
// travel that is left out is the shock's stroke.
type springSpec struct {
	Linear *spring.Linear  `json:"linear,omitempty"`
	Air    *airspring.Spec `json:"air,omitempty"`
}

// bench is everything that was built from an input.
type bench struct {
	in    *input
	name  string // what to call it beside another
	curve *linkage.Curve
	fit   *linkage.Fit         // where the table is of readings
	kin   *mechanism.Mechanism // nil for a table
	drive *drivetrain.Drive    // nil if not asked for
	wheel *linkage.WheelLaw    // nil without a spring
	bike  *sag.Bike            // of two curves; nil if not given
}

// change makes the changes that the flags ask for.
func (in *input) change(o *options) error {
	c := units.Checker{}
	if o.rate != "" {
		linear, err := o.spring()
		c.Add("", err)
		in.Spring = &springSpec{Linear: linear}
	}
	if o.method != "" {
		if in.Table == nil {
			c.Fail("-method", o.method, "a table to go through; a mechanism needs no method", units.ErrConflict)
			return c.Err()
		}
		in.Table.Method = linkage.Method(o.method)
	}
	return c.Err()
}

// spring reads the spring that the flags describe, as a file would be read.
func (o *options) spring() (*spring.Linear, error) {
	texts := map[string]string{"-rate": o.rate}
	if o.preload != "" {
		texts["-preload"] = o.preload
	}
	data, err := json.Marshal(texts)
	if err != nil {
		return nil, err
	}
	var flags struct {
		Rate    units.Stiffness `json:"-rate"`
		Preload units.Length    `json:"-preload"`
	}
	err = strictjson.Unmarshal("leverage", data, &flags)
	return &spring.Linear{Rate: flags.Rate, Preload: flags.Preload}, err
}

// build makes everything, or names every field at fault.
func (in *input) build() (*bench, error) {
	c := units.Checker{Package: "leverage"}
	b := &bench{in: in}
	if in.Schema != schema {
		c.Fail("schema", in.Schema, units.OneOf(schema), units.ErrUnknown)
	}
	b.buildCurve(&c)
	if in.Sag != 0 {
		units.Inside(&c, "sag", in.Sag, 0, 1)
	}
	b.buildDrive(&c)
	b.buildSpring(&c)
	b.buildBike(&c)
	if in.Gears != nil {
		in.Gears.check(&c)
	}
	return b, c.Err()
}

func (b *bench) buildCurve(c *units.Checker) {
	given := 0
	for _, kind := range linkage.Kinds() {
		if kind.Given(b.in.Spec) {
			given++
		}
	}
	if m := b.in.Mechanism; m != nil && given == 1 {
		kin, err := mechanism.New(*m)
		if err == nil {
			b.kin = kin
			b.curve, err = linkage.Compile(kin)
		}
		c.Add("mechanism", err)
		return
	}
	curve, err := linkage.New(b.in.Spec)
	if err != nil {
		c.Add("", err)
		return
	}
	b.curve = curve
	if t := b.in.Table; t != nil && t.Method == linkage.Measured {
		b.fit, err = linkage.FitReadings(*t)
		c.Add("table", err)
	}
}

func (b *bench) buildDrive(c *units.Checker) {
	spec := b.in.Drive
	switch {
	case spec == nil:
	case b.kin != nil:
		drive, err := drivetrain.New(b.kin, *spec)
		if err == nil {
			b.drive = drive
		}
		c.Add("drive", err)
	case b.in.Mechanism == nil && b.curve != nil:
		c.Fail("drive", nil, "a mechanism beside it: a curve alone does not say where the axle goes", units.ErrConflict)
	default:
		drive := c.Child("drive")
		spec.Check(&drive)
	}
}

// buildSpring puts the spring behind the curve. Without a curve it still finds
// what is wrong with the spring itself.
func (b *bench) buildSpring(c *units.Checker) {
	spec := b.in.Spring
	if spec == nil {
		return
	}
	stroke := units.Length(0)
	if b.curve != nil {
		stroke = b.curve.Stroke()
	}
	var law spring.Law
	var err error
	field := ""
	switch {
	case (spec.Linear == nil) == (spec.Air == nil):
		c.Fail("spring", nil, "exactly one of linear and air", units.ErrConflict)
		return
	case spec.Linear != nil:
		linear := *spec.Linear
		linear.Travel = or(linear.Travel, stroke)
		field = "spring.linear"
		law, err = spring.NewLinear(linear)
	default:
		air := *spec.Air
		air.Travel = or(air.Travel, stroke)
		field = "spring.air"
		law, err = airspring.New(air)
	}
	if err != nil {
		if stroke == 0 { // the travel may only be missing because the curve is
			err = without(err, "travel")
		}
		c.Add(field, err)
		return
	}
	if b.curve == nil {
		return
	}
	if law.Travel() < stroke {
		c.Fail(field+".travel", law.Travel(), units.AtLeast(stroke).Of("stroke"), units.ErrConflict)
		return
	}
	b.wheel, err = linkage.AtWheel(b.curve, law)
	c.Add("spring", err)
}

func or(l, other units.Length) units.Length {
	if l == 0 {
		return other
	}
	return l
}

// without leaves the faults of some fields out of an error.
func without(err error, fields ...string) error {
	c := units.Checker{}
	for _, f := range units.Fields(err) {
		if !slices.Contains(fields, f.Field) {
			c.Add("", f)
		}
	}
	return c.Err()
}
