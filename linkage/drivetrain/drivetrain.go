package drivetrain

import (
	"cmp"
	"fmt"
	"math"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Drive is a mechanism with a chain and a rear brake. It is made by [New], never changes,
// and is safe for concurrent use. Its methods can't fail, and strokes are clamped to the
// mechanism's.
//
// The model is quasi-static and planar. All drive or brake force acts at the rear wheel.
// The lower run of the chain is slack; the upper one is tight and straight, doesn't
// stretch, and touches pitch circles of radius 12.7 mm/(2·sin(π/teeth)). The definitions
// are common practice. They were derived in two ways, from the velocity of the tyre's
// contact point and by the construction with chain line and instant centre. No printed
// example with numbers was found.
type Drive struct {
	units.Opaque[Drive]
	m           *mechanism.Mechanism
	ground      Ground
	axle        mechanism.Mark
	brake       mechanism.Mark // any point of the body that carries the caliper
	chainringAt mechanism.Mark
	idlerAt     mechanism.Mark // without an idler the chainring's
	extended    runs           // at full extension
	start       complex128     // place of the rear axle at full extension, in m

	idles                      bool       // the chain runs over an idler
	chainring, sprocket, idler float64    // radii in m; without an idler that is the chainring's
	wheel, frontWheel          float64    // radii in m
	front, mass                complex128 // front axle and mass centre
}

// Pose is the effect of chain and brake at one stroke.
type Pose struct {
	// AntiSquat is the share of the load transfer under acceleration that the chain's pull and the
	// drive force cancel: 1 for all of it, 0 for none, negative if they add to it.
	AntiSquat float64 `json:"anti_squat"`
	// AntiRise is the share of the load transfer under braking with the rear
	// brake alone that the brake's torque cancels: 1 for all of it, 0 for none,
	// negative if it adds to it.
	AntiRise float64 `json:"anti_rise"`
	// ChainGrowth is the increase in length of the tight run since full extension, its
	// wrap on the pulleys included, on a chainring that turns with its body.
	ChainGrowth units.Length `json:"chain_growth"`
	// Pedal kickback is the angle in radians by which the chainring has turned backward since full
	// extension, relative to the body that carries it.
	// With the wheel fixed, the wheel doesn't turn relative to the front triangle.
	// With the wheel rolling, the front triangle doesn't move forward, and the tyre rolls on
	// level ground without slip.
	KickbackWheelFixed   units.Angle `json:"kickback_wheel_fixed"`
	KickbackWheelRolling units.Angle `json:"kickback_wheel_rolling"`
}

// New returns the drive of a mechanism with chain and brake. The error names every bad field:
//   - mechanism, if it is nil or zero;
//   - what [Spec.Check] finds;
//   - drivetrain.chainring_on, drivetrain.idler.on and brake_on, if the mechanism has no such body;
//   - drivetrain, if two pulleys touch at some stroke;
//   - front_axle_x, if the front axle is not more than a wheel radius ahead of the rear axle at
//     every stroke, or so near that the rear wheel moves into the line below both wheels;
//   - front_wheel_radius, if at some stroke no such line exists;
//   - mass_centre[1], if the mass centre is not above the ground at every stroke.
//
// The strokes checked are those of [mechanism.Mechanism.Strokes].
func New(m *mechanism.Mechanism, spec Spec) (*Drive, error) {
	c := units.Checker{Package: "drivetrain"}
	if m == nil || !(m.Stroke() > 0) {
		c.Fail("mechanism", nil, "a mechanism", units.ErrMissing)
		return nil, c.Err()
	}
	spec.Check(&c)
	d := &Drive{
		m: m, ground: spec.Ground, axle: m.Axle(), brake: m.Axle(),
		wheel: float64(spec.WheelRadius), frontWheel: float64(cmp.Or(spec.FrontWheelRadius, spec.WheelRadius)),
		chainring: pitchRadius(spec.Drivetrain.Chainring), sprocket: pitchRadius(spec.Drivetrain.Sprocket),
	}
	mark := func(field, body string, at mechanism.Point) mechanism.Mark {
		p, ok := m.Mark(body, at)
		if !ok {
			c.Fail(field, body, "one of the mechanism's bodies", units.ErrUnknown)
		}
		return p
	}
	d.chainringAt = mark("drivetrain.chainring_on", cmp.Or(spec.Drivetrain.ChainringOn, mechanism.Frame), spec.Drivetrain.ChainringAt)
	d.idler, d.idlerAt = d.chainring, d.chainringAt
	if idler := spec.Drivetrain.Idler; idler != nil {
		d.idles, d.idler, d.idlerAt = true, pitchRadius(idler.Teeth), mark("drivetrain.idler.on", idler.On, idler.At)
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
	d.front = complex(float64(spec.FrontAxleX), imag(d.start)-d.wheel+d.frontWheel)
	d.mass = complex(float64(spec.MassCentre[0]), imag(d.start)-d.wheel+float64(spec.MassCentre[1]))
	d.extended = d.runs(d.start, &at)
	d.checkStrokes(&c, spec)
	return units.Checked(&c, d)
}

// pitchRadius returns the pitch radius in m of a pulley for a chain of half an inch pitch.
func pitchRadius(teeth int) float64 { return 0.0127 / (2 * math.Sin(math.Pi/float64(teeth))) }

// checkStrokes checks over the stroke that no pulleys touch, that the front axle is
// ahead, and that the mass centre is above the ground. It records each fault once.
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
		at, ring := place(&m, d.idlerAt), place(&m, d.chainringAt)
		if !(abs(axle-at) > d.sprocket+d.idler) || d.idles && !(abs(at-ring) > d.idler+d.chainring) {
			fail("drivetrain", nil, "pulleys that stay apart; two touch at a stroke of %v", stroke)
		}
		if !(real(d.front)-real(axle) > d.wheel) {
			fail("front_axle_x", spec.FrontAxleX, "more than a wheel radius ahead of the rear axle at every stroke")
		} else if r := d.road(axle); !(r.base > 0) {
			fail("front_wheel_radius", spec.FrontWheelRadius, "wheels with a ground line below both at every stroke, but at %v they have no such line", stroke)
		} else if !(dot(velocity(&m, d.axle), r.up) > 0) {
			fail("front_axle_x", spec.FrontAxleX, "so far ahead that the rear wheel moves up from the line below both wheels at every stroke")
		} else if !(r.height > 0) {
			fail("mass_centre[1]", spec.MassCentre[1], "above the ground at every stroke; it is not at %v", stroke)
		}
	}
}

// road is the ground below the wheels at one stroke.
type road struct {
	along, up complex128 // forward and upward, of length 1
	base      float64    // distance of the tyres' contact points, the wheelbase, m
	height    float64    // of the mass centre, m
}

// road returns the ground for a place of the rear axle, in m.
func (d *Drive) road(axle complex128) road {
	r := road{along: 1, base: real(d.front) - real(axle)}
	if d.ground == GroundFront {
		r.along, r.base = tangent(axle, d.front, d.frontWheel-d.wheel)
	}
	r.up = turn(r.along)
	r.height = dot(d.mass-axle, r.up) + d.wheel
	return r
}

// runs are the straight parts of the chain's tight run at one stroke.
type runs struct {
	first, second complex128 // directions, the same without an idler
	length        float64    // of both together, m
	turned        float64    // by how much the chainring's body has turned
}

// runs returns the tight run for a place of the rear axle, in m, and of the other pulleys in motion m.
func (d *Drive) runs(axle complex128, m *mechanism.Motion) runs {
	at := place(m, d.idlerAt)
	u, l := tangent(axle, at, d.sprocket-d.idler)
	r := runs{first: u, second: u, length: l, turned: float64(m.Turn(d.chainringAt))}
	if d.idles {
		r.second, l = tangent(at, place(m, d.chainringAt), d.idler-d.chainring)
		r.length += l
	}
	return r
}

// tangent returns the direction and the length of the line over the tops of two circles at
// a and b. The radius at a exceeds that at b by more; below the circles, that at b does.
func tangent(a, b complex128, more float64) (complex128, float64) {
	d := b - a
	square := dot(d, d)
	l := math.Sqrt(max(square-more*more, 0))
	return d * scale(1/square, complex(l, -more)), l
}

// At returns the effect of chain and brake at a stroke, clamped to the mechanism's.
//
// Relative to the front triangle, the tyre's contact point moves per stroke by
//
//	U = v + R·ω·t
//
// with v the axle's velocity, R the wheel radius, t the direction of the ground and ω the
// wheel's rotation per stroke. With the chainring held on its body, the chain imposes ω
// (drive); with the rear brake locked, the caliper's body does (brake). Virtual work gives
// anti-squat and anti-rise as
//
//	−(U·t)/(U·n)·b/h
//
// with n the normal of the ground, b the wheelbase and h the height of the mass centre.
func (d *Drive) At(stroke units.Length) Pose {
	if d.m == nil {
		return Pose{}
	}
	var m mechanism.Motion
	d.m.ReadMotion(stroke, &m)
	axle, v := place(&m, d.axle), velocity(&m, d.axle)
	r, c := d.road(axle), d.runs(axle, &m)

	over, ring := velocity(&m, d.idlerAt), velocity(&m, d.chainringAt)
	pull := dot(v-over, c.first) + dot(over-ring, c.second) + d.chainring*m.Turning(d.chainringAt)
	growth := c.length - d.extended.length + (d.idler-d.sprocket)*angle(d.extended.first, c.first) +
		(d.chainring-d.idler)*angle(d.extended.second, c.second) - d.chainring*(c.turned-d.extended.turned)
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

// String returns anti-squat and anti-rise at both ends of the stroke as text.
func (d Drive) String() string {
	if d.m == nil {
		return "no drive"
	}
	a, b := d.At(0), d.At(d.m.Stroke())
	return fmt.Sprintf("drive: anti-squat %.1f %% to %.1f %%, anti-rise %.1f %% to %.1f %%", 100*a.AntiSquat, 100*b.AntiSquat, 100*a.AntiRise, 100*b.AntiRise)
}

// place and velocity return the place of a point in m and its velocity in m per m of
// stroke, as complex numbers.
func place(m *mechanism.Motion, p mechanism.Mark) complex128 {
	at := m.Place(p)
	return complex(float64(at[0]), float64(at[1]))
}

func velocity(m *mechanism.Motion, p mechanism.Mark) complex128 {
	v := m.Velocity(p)
	return complex(v[0], v[1])
}

// angle returns the angle from a to b, counter-clockwise, of vectors of length 1.
func angle(a, b complex128) float64 { return math.Atan2(cross(a, b), dot(a, b)) }

func abs(z complex128) float64                 { return math.Sqrt(dot(z, z)) }
func dot(a, b complex128) float64              { return real(a)*real(b) + imag(a)*imag(b) }
func cross(a, b complex128) float64            { return real(a)*imag(b) - imag(a)*real(b) }
func turn(a complex128) complex128             { return complex(-imag(a), real(a)) }
func scale(f float64, a complex128) complex128 { return complex(f*real(a), f*imag(a)) }
