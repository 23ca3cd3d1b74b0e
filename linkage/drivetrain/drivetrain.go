package drivetrain

import (
	"fmt"
	"math"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Drive is a mechanism with a chain and a rear brake. It is made by [New] and never
// changes. Its methods can't fail or allocate; strokes are clamped to [0, Stroke].
//
// It is quasi-static and planar: all drive or brake force acts at the rear wheel, the
// other run of the chain is slack, and the tight one is straight, doesn't stretch, and
// touches pitch circles of radius 12.7 mm/(2·sin(π/teeth)). The definitions were derived
// in two ways, by the velocity of the tyre's contact point and by the construction with
// chain line and instant centre. No printed example with numbers was found.
type Drive struct {
	m        *mechanism.Mechanism
	ground   Ground
	axle     mechanism.Mark
	brake    mechanism.Mark // any point of the body that carries the caliper
	idlerAt  mechanism.Mark
	extended runs       // at full extension
	start    complex128 // the rear axle at full extension, in m

	chainring, sprocket, idler, wheel float64    // radii in m; of the idler 0 for none
	front, mass                       complex128 // front axle and mass centre
}

// Pose is what chain and brake do at one stroke.
type Pose struct {
	// AntiSquat is the share of the load transfer under acceleration that the chain's pull and the
	// drive force cancel: 1 for all of it, 0 for none, negative where they add to it.
	AntiSquat float64 `json:"anti_squat"`
	// AntiRise is the share of the load transfer under braking with the rear
	// brake alone that the brake's torque cancels.
	AntiRise float64 `json:"anti_rise"`
	// ChainGrowth is by how much the tight run has grown from full extension, its wrap on
	// the pulleys included.
	ChainGrowth units.Length `json:"chain_growth"`
	// Kickback is by how much the cranks are turned backward from full extension: if the
	// wheel doesn't turn against the front triangle, and if the front triangle doesn't move
	// forward and the tyre rolls on level ground without slip.
	KickbackWheelFixed   units.Angle `json:"kickback_wheel_fixed"`
	KickbackWheelRolling units.Angle `json:"kickback_wheel_rolling"`
}

// New joins a mechanism with chain and brake. The error names every bad field: what [Spec.Check]
// finds, an idler or a caliper on a body that there is none of (drivetrain.idler.on, brake_on),
// pulleys that touch at some stroke (drivetrain), a front axle not ahead of the rear axle's path by
// more than a wheel radius (front_axle_x), a mass centre that comes below the ground
// (mass_centre[1]).
func New(m *mechanism.Mechanism, spec Spec) (*Drive, error) {
	c := units.Checker{Package: "drivetrain"}
	if m == nil || !(m.Stroke() > 0) {
		c.Fail("mechanism", nil, "a mechanism", units.ErrMissing)
		return nil, c.Err()
	}
	spec.Check(&c)
	d := &Drive{
		m: m, ground: spec.Ground, axle: m.Axle(), brake: m.Axle(), wheel: float64(spec.WheelRadius),
		chainring: pitchRadius(spec.Drivetrain.Chainring), sprocket: pitchRadius(spec.Drivetrain.Sprocket),
	}
	mark := func(field, body string, at mechanism.Point) mechanism.Mark {
		p, ok := m.Mark(body, at)
		if !ok {
			c.Fail(field, body, "one of the mechanism's bodies", units.ErrUnknown)
		}
		return p
	}
	if idler := spec.Drivetrain.Idler; idler != nil {
		d.idler, d.idlerAt = pitchRadius(idler.Teeth), mark("drivetrain.idler.on", idler.On, idler.At)
	}
	if spec.BrakeOn != "" {
		d.brake = mark("brake_on", spec.BrakeOn, mechanism.Point{})
	}
	if !c.OK() {
		return nil, c.Err()
	}
	var at mechanism.Motion
	m.ReadMotion(0, &at)
	d.start = place(&at, d.axle)
	d.front = complex(float64(spec.FrontAxleX), imag(d.start))
	d.mass = complex(float64(spec.MassCentre[0]), imag(d.start)-d.wheel+float64(spec.MassCentre[1]))
	d.extended = d.runs(d.start, &at)
	d.checkStrokes(&c, spec)
	return units.Checked(&c, d)
}

// pitchRadius returns the radius in m of the circle that a chain of half an inch takes on a pulley.
func pitchRadius(teeth int) float64 { return 0.0127 / (2 * math.Sin(math.Pi/float64(teeth))) }

// checkStrokes checks, over the stroke, that pulleys stay apart, that the front
// axle stays ahead and the mass centre above the ground. Each fault is named once.
func (d *Drive) checkStrokes(c *units.Checker, spec Spec) {
	fail := func(field string, value any, want string, args ...any) {
		if !c.Bad(field) {
			c.Fail(field, value, fmt.Sprintf(want, args...), units.ErrConflict)
		}
	}
	var m mechanism.Motion
	for _, stroke := range d.m.Strokes() {
		d.m.ReadMotion(stroke, &m)
		axle := place(&m, d.axle)
		apart := abs(axle) > d.sprocket+d.chainring
		if d.idler > 0 {
			at := place(&m, d.idlerAt)
			apart = abs(axle-at) > d.sprocket+d.idler && abs(at) > d.idler+d.chainring
		}
		if !apart {
			fail("drivetrain", nil, "pulleys that stay apart; two touch at a stroke of %v", stroke)
		}
		if !(real(d.front)-real(axle) > d.wheel) {
			fail("front_axle_x", spec.FrontAxleX, "more than a wheel radius ahead of the rear axle at every stroke")
		} else if r := d.road(axle); !(dot(velocity(&m, d.axle), r.up) > 0) {
			fail("front_axle_x", spec.FrontAxleX, "a front axle so far ahead that the rear wheel moves away from the ground behind it at every stroke")
		} else if !(r.height > 0) {
			fail("mass_centre[1]", spec.MassCentre[1], "above the ground at every stroke; it is not at %v", stroke)
		}
	}
}

// road is the ground below the wheels at one stroke.
type road struct {
	along, up complex128 // forward and upward, of length 1
	base      float64    // the contacts' distance, the wheelbase
	height    float64    // of the mass centre
}

// road returns the ground for a place of the rear axle.
func (d *Drive) road(axle complex128) road {
	r := road{along: 1, base: real(d.front) - real(axle)}
	if d.ground == GroundFront {
		r.base = abs(d.front - axle)
		r.along = scale(1/r.base, d.front-axle)
	}
	r.up = turn(r.along)
	r.height = dot(d.mass-axle, r.up) + d.wheel
	return r
}

// runs are the straight parts of the chain's tight run at one stroke.
type runs struct {
	first, second complex128 // directions; second is 0 without an idler
	length        float64    // of both together
}

// runs returns the chain for a place of the rear axle, and of the idler in m.
func (d *Drive) runs(axle complex128, m *mechanism.Motion) runs {
	if d.idler == 0 {
		u, l := tangent(axle, 0, d.sprocket-d.chainring)
		return runs{first: u, length: l}
	}
	at := place(m, d.idlerAt)
	u, l := tangent(axle, at, d.sprocket-d.idler)
	v, n := tangent(at, 0, d.idler-d.chainring)
	return runs{first: u, second: v, length: l + n}
}

// tangent returns the direction and the length of a run of chain over the tops
// of two pulleys from a to b, the first larger in radius by more.
func tangent(a, b complex128, more float64) (complex128, float64) {
	d := b - a
	square := dot(d, d)
	l := math.Sqrt(max(square-more*more, 0))
	return d * scale(1/square, complex(l, -more)), l
}

// At returns what chain and brake do at a stroke.
//
// The tyre's contact point moves, per stroke, with U = v + R·ω·t relative to the front
// triangle: v the axle's velocity, t along the ground, and ω the wheel's turning, which
// the chain imposes with the cranks held (drive) or the caliper's body (brake). Virtual
// work gives anti-squat and anti-rise as −(U·t)/(U·n)·b/h, with n up from the ground, b
// the wheelbase and h the height of the mass centre.
func (d *Drive) At(stroke units.Length) Pose {
	if d.m == nil {
		return Pose{}
	}
	var m mechanism.Motion
	d.m.ReadMotion(stroke, &m)
	axle, v := place(&m, d.axle), velocity(&m, d.axle)
	r, c := d.road(axle), d.runs(axle, &m)

	pull := dot(v, c.first)
	growth := c.length - d.extended.length
	if d.idler == 0 {
		growth += (d.chainring - d.sprocket) * angle(d.extended.first, c.first)
	} else {
		pull -= dot(velocity(&m, d.idlerAt), c.first-c.second)
		growth += (d.idler-d.sprocket)*angle(d.extended.first, c.first) + (d.chainring-d.idler)*angle(d.extended.second, c.second)
	}
	rise, lever := dot(v, r.up), r.base/r.height
	anti := func(turning float64) float64 { return -(dot(v, r.along) + d.wheel*turning) / rise * lever }
	back, forward := growth/d.chainring, real(axle-d.start)
	return Pose{
		AntiSquat:            anti(pull / d.sprocket),
		AntiRise:             anti(m.Turning(d.brake)),
		ChainGrowth:          units.Length(growth),
		KickbackWheelFixed:   units.Angle(back),
		KickbackWheelRolling: units.Angle(back - forward*d.sprocket/(d.wheel*d.chainring)),
	}
}

// String gives anti-squat and anti-rise at both ends of the stroke.
func (d *Drive) String() string {
	if d.m == nil {
		return "no drive"
	}
	a, b := d.At(0), d.At(d.m.Stroke())
	return fmt.Sprintf("drive: anti-squat %.1f %% to %.1f %%, anti-rise %.1f %% to %.1f %%", 100*a.AntiSquat, 100*b.AntiSquat, 100*a.AntiRise, 100*b.AntiRise)
}

// place and velocity are of a point, as complex numbers in m and in m per m.
func place(m *mechanism.Motion, p mechanism.Mark) complex128 {
	at := m.Place(p)
	return complex(float64(at[0]), float64(at[1]))
}

func velocity(m *mechanism.Motion, p mechanism.Mark) complex128 {
	v := m.Velocity(p)
	return complex(v[0], v[1])
}

// angle returns by how much b is turned from a, counter-clockwise, both of length 1.
func angle(a, b complex128) float64 { return math.Atan2(cross(a, b), dot(a, b)) }

func abs(z complex128) float64                 { return math.Sqrt(dot(z, z)) }
func dot(a, b complex128) float64              { return real(a)*real(b) + imag(a)*imag(b) }
func cross(a, b complex128) float64            { return real(a)*imag(b) - imag(a)*real(b) }
func turn(a complex128) complex128             { return complex(-imag(a), real(a)) }
func scale(f float64, a complex128) complex128 { return complex(f*real(a), f*imag(a)) }
