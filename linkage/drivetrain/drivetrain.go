package drivetrain

import (
	"fmt"
	"math"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Ground says what the ground does while the rear wheel moves: which of the
// two must be stated, since anti-squat at full travel can differ by a fifth.
type Ground string

// The two grounds.
const (
	// GroundLevel keeps the front triangle's attitude: the ground stays level
	// below the rear wheel, and the front suspension follows.
	GroundLevel Ground = "level"
	// GroundFront keeps the front axle where it is at full extension: the
	// ground is the line below both wheels, which are of one size.
	GroundFront Ground = "front"
)

// Idler is a pulley that the chain's tight run passes over.
type Idler struct {
	Teeth int             `json:"teeth"`
	At    mechanism.Point `json:"at"` // its axis at full extension
	On    string          `json:"on"` // the body that carries it, "frame" for the front triangle
}

// Pulleys are what the chain runs over; the chainring's axis is the origin.
type Pulleys struct {
	Chainring int    `json:"chainring"` // teeth
	Sprocket  int    `json:"sprocket"`  // teeth, of the gear looked at
	Idler     *Idler `json:"idler,omitempty"`
}

// Spec is what, besides the mechanism, chain and brake forces depend on.
type Spec struct {
	Drivetrain Pulleys `json:"drivetrain"`
	// WheelRadius is that of the tyre, which is rigid here.
	WheelRadius units.Length `json:"wheel_radius"`
	// FrontAxleX is how far the front axle is in front of the bottom bracket,
	// at full extension and as high as the rear axle then.
	FrontAxleX units.Length `json:"front_axle_x"`
	// MassCentre is that of bike and rider: x in front of the bottom bracket,
	// and its height above the ground at full extension. It moves with the
	// front triangle.
	MassCentre mechanism.Point `json:"mass_centre"`
	// Ground is "level" or "front"; it has no default.
	Ground Ground `json:"ground"`
	// BrakeOn is the body that carries the rear brake's caliper; where it is
	// empty, the body that carries the wheel.
	BrakeOn string `json:"brake_on,omitempty"`
}

// Drive is a mechanism with a chain and a rear brake. It is made by [New]
// and never changes. Its methods can't fail or allocate; strokes are clamped
// to [0, Stroke].
//
// It is quasi-static and planar: all drive or brake force acts at the rear
// wheel, the chain's tight run is straight, doesn't stretch, and touches pitch
// circles of radius 12.7 mm/(2·sin(π/teeth)), the other run is slack, and
// unsprung mass, the wheels' inertia and the air's drag are left out. The
// definitions rest on a derivation that was done in two ways (the velocity of
// the tyre's contact point, and the construction with chain line and instant
// centre) and on no printed example: none with numbers was found.
type Drive struct {
	m          *mechanism.Mechanism
	spec       Spec
	axle       mechanism.Mark
	start      complex128 // the axle's place at full extension
	sprocket   float64    // radii, in m
	chainring  float64
	idler      float64 // 0 for none
	idlerAt    mechanism.Mark
	radius     float64
	front      complex128     // the front axle
	mass       complex128     // the mass centre
	brake      mechanism.Mark // of the body that carries the caliper
	run0, run1 complex128     // the directions of the runs at full extension
	chain      float64        // the runs' lengths then
}

// Pose is what chain and brake do at one stroke.
type Pose struct {
	// AntiSquat is the share of the load transfer under acceleration that the
	// chain's pull and the drive force cancel: 1 for all of it, 0 for none,
	// negative where they add to it.
	AntiSquat float64 `json:"anti_squat"`
	// AntiRise is the share of the load transfer under braking with the rear
	// brake alone that the brake's torque cancels.
	AntiRise float64 `json:"anti_rise"`
	// ChainGrowth is by how much the tight run has grown, its wrap on the
	// pulleys included, from full extension.
	ChainGrowth units.Length `json:"chain_growth"`
	// KickbackWheelFixed is by how much the cranks are turned backward from
	// full extension if the wheel doesn't turn against the front triangle.
	KickbackWheelFixed units.Angle `json:"kickback_wheel_fixed"`
	// KickbackWheelRolling is the same if the front triangle doesn't move
	// forward and the tyre rolls on level ground without slip.
	KickbackWheelRolling units.Angle `json:"kickback_wheel_rolling"`
}

// pitch is the chain's, half an inch.
const pitch = 12.7 * units.Millimetre

// The permitted numbers of teeth.
const (
	fewestTeeth = 6
	mostTeeth   = 120
)

// New joins a mechanism with chain and brake. The input is refused with
// one error that names every bad field: teeth outside 6 to 120, an idler on a
// body that there is none of (drivetrain.idler.on) or so near that pulleys
// would touch at some stroke (drivetrain), a wheel radius or a height of the
// mass centre that isn't more than 0, up to 10 m (wheel_radius,
// mass_centre[1]), a front axle not ahead of the rear axle's path by more than
// a wheel radius (front_axle_x), a ground that is neither level nor front
// (ground), a caliper on an unknown body (brake_on).
func New(m *mechanism.Mechanism, spec Spec) (*Drive, error) {
	c := units.Checker{Package: "drivetrain"}
	if m == nil || !(m.Stroke() > 0) {
		c.Fail("mechanism", nil, "a mechanism", units.ErrMissing)
		return nil, c.Err()
	}
	d := &Drive{m: m, spec: spec, axle: m.Axle(), brake: m.Axle()}
	at := m.Motion(0)
	d.start = place(&at, d.axle)
	d.addPulleys(&c)
	d.addBike(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	d.follow(&c)
	if err := c.Err(); err != nil {
		return nil, err
	}
	return d, nil
}

func (d *Drive) addPulleys(c *units.Checker) {
	train := &d.spec.Drivetrain
	radius := func(field string, teeth int) float64 {
		if teeth < fewestTeeth || teeth > mostTeeth {
			c.Fail("drivetrain."+field, teeth, fmt.Sprintf("from %d to %d teeth", fewestTeeth, mostTeeth), nil)
			return 0
		}
		return float64(pitch) / (2 * math.Sin(math.Pi/float64(teeth)))
	}
	d.chainring, d.sprocket = radius("chainring", train.Chainring), radius("sprocket", train.Sprocket)
	if train.Idler == nil {
		return
	}
	idler := *train.Idler
	train.Idler = &idler // a copy that nobody else can change
	d.idler = radius("idler.teeth", idler.Teeth)
	for axis, v := range idler.At {
		units.Between(c, fmt.Sprintf("drivetrain.idler.at[%d]", axis), v, -100*units.Metre, 100*units.Metre)
	}
	var ok bool
	if d.idlerAt, ok = d.m.Mark(idler.On, idler.At); !ok {
		c.Fail("drivetrain.idler.on", idler.On, "one of the mechanism's bodies", units.ErrUnknown)
	}
}

func (d *Drive) addBike(c *units.Checker) {
	spec := &d.spec
	const most = 10 * units.Metre
	units.Between(c, "wheel_radius", spec.WheelRadius, 1e-6*units.Metre, most)
	units.Between(c, "front_axle_x", spec.FrontAxleX, -most, most)
	units.Between(c, "mass_centre[0]", spec.MassCentre[0], -most, most)
	units.Between(c, "mass_centre[1]", spec.MassCentre[1], 1e-6*units.Metre, most)
	if spec.Ground != GroundLevel && spec.Ground != GroundFront {
		c.Fail("ground", string(spec.Ground), `"level" or "front"`, units.ErrUnknown)
	}
	if spec.BrakeOn != "" {
		var ok bool
		if d.brake, ok = d.m.Mark(spec.BrakeOn, mechanism.Point{}); !ok {
			c.Fail("brake_on", spec.BrakeOn, "one of the mechanism's bodies", units.ErrUnknown)
		}
	}
	d.radius = float64(spec.WheelRadius)
	height := imag(d.start)
	d.front = complex(float64(spec.FrontAxleX), height)
	d.mass = complex(float64(spec.MassCentre[0]), height-d.radius+float64(spec.MassCentre[1]))
}

// follow checks, over the stroke, that pulleys stay apart, that the front axle
// stays ahead and the mass centre above the ground.
func (d *Drive) follow(c *units.Checker) {
	for _, stroke := range d.m.Strokes() {
		m := d.m.Motion(stroke)
		axle := place(&m, d.axle)
		pulleys := [][2]float64{{abs(axle), d.sprocket + d.chainring}}
		if d.idler > 0 {
			at := place(&m, d.idlerAt)
			pulleys = [][2]float64{{abs(axle - at), d.sprocket + d.idler}, {abs(at), d.idler + d.chainring}}
		}
		for _, p := range pulleys {
			if !(p[0] > p[1]) && !c.Bad("drivetrain") {
				c.Fail("drivetrain", nil, fmt.Sprintf("pulleys that stay apart; two touch at a stroke of %v", stroke), units.ErrConflict)
			}
		}
		if !(real(d.front)-real(axle) > d.radius) && !c.Bad("front_axle_x") {
			c.Fail("front_axle_x", d.spec.FrontAxleX, "more than a wheel radius ahead of the rear axle at every stroke", units.ErrConflict)
		} else if r := d.road(axle); !(dot(velocity(&m, d.axle), r.up) > 0) && !c.Bad("front_axle_x") {
			c.Fail("front_axle_x", d.spec.FrontAxleX, "a front axle so far ahead that the rear wheel moves away from the ground behind it at every stroke", units.ErrConflict)
		} else if !(r.height > 0) && !c.Bad("mass_centre[1]") {
			c.Fail("mass_centre[1]", d.spec.MassCentre[1], fmt.Sprintf("above the ground at every stroke; it is not at %v", stroke), units.ErrConflict)
		}
	}
	if !c.OK() {
		return
	}
	m := d.m.Motion(0)
	r := d.runs(&m)
	d.run0, d.run1, d.chain = r.first, r.second, r.length
}

// road is the ground below the wheels at one stroke.
type road struct {
	along, up complex128 // forward and upward, of length 1
	base      float64    // the contacts' distance, the wheelbase
	height    float64    // of the mass centre
}

// road returns the ground for a place of the rear axle.
func (d *Drive) road(axle complex128) road {
	r := road{along: 1, up: 1i, base: real(d.front) - real(axle)}
	if d.spec.Ground == GroundFront {
		r.base = abs(d.front - axle)
		r.along = scale(1/r.base, d.front-axle)
		r.up = turn(r.along)
	}
	r.height = dot(d.mass-axle, r.up) + d.radius
	return r
}

// runs is the tight part of the chain at one stroke.
type runs struct {
	first, second complex128 // the runs' directions; second is 0 without an idler
	length        float64    // of the straight parts together
}

func (d *Drive) runs(m *mechanism.Motion) runs {
	axle := place(m, d.axle)
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
// The tyre's contact point moves, per stroke, with U = v + R·ω·t relative to
// the front triangle: v the axle's velocity, t along the ground, and ω the
// wheel's turning, which the chain imposes with the cranks held (drive) or the
// caliper's body (brake). Virtual work gives anti-squat and anti-rise as
// −(U·t)/(U·n)·b/h, with n up from the ground, b the wheelbase and h the height
// of the mass centre; by the line from the contact point to where chain line
// and the line from axle to instant centre meet it comes out the same.
func (d *Drive) At(stroke units.Length) Pose {
	if d.m == nil {
		return Pose{}
	}
	m := d.m.Motion(stroke)
	axle, v := place(&m, d.axle), velocity(&m, d.axle)
	r, c := d.road(axle), d.runs(&m)

	pull := dot(v, c.first)
	growth := c.length - d.chain
	if d.idler == 0 {
		growth += (d.chainring - d.sprocket) * angle(d.run0, c.first)
	} else {
		pull -= dot(velocity(&m, d.idlerAt), c.first-c.second)
		growth += (d.idler-d.sprocket)*angle(d.run0, c.first) + (d.chainring-d.idler)*angle(d.run1, c.second)
	}
	rise, lever := dot(v, r.up), r.base/r.height
	anti := func(turning float64) float64 { return -(dot(v, r.along) + d.radius*turning) / rise * lever }
	back := growth / d.chainring
	forward := real(axle) - real(d.start)
	return Pose{
		AntiSquat:            anti(pull / d.sprocket),
		AntiRise:             anti(m.Turning(d.brake)),
		ChainGrowth:          units.Length(growth),
		KickbackWheelFixed:   units.Angle(back),
		KickbackWheelRolling: units.Angle(back - forward*d.sprocket/(d.radius*d.chainring)),
	}
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

func abs(z complex128) float64                 { return math.Sqrt(dot(z, z)) }
func dot(a, b complex128) float64              { return real(a)*real(b) + imag(a)*imag(b) }
func cross(a, b complex128) float64            { return real(a)*imag(b) - imag(a)*real(b) }
func turn(a complex128) complex128             { return complex(-imag(a), real(a)) }
func scale(f float64, a complex128) complex128 { return complex(f*real(a), f*imag(a)) }

// angle returns by how much b is turned from a, counter-clockwise, both of length 1.
func angle(a, b complex128) float64 { return math.Atan2(cross(a, b), dot(a, b)) }

// AntiSquat returns the share of the load transfer under acceleration that the
// chain cancels, as a fraction: 1 is 100 %.
func (d *Drive) AntiSquat(stroke units.Length) float64 { return d.At(stroke).AntiSquat }

// AntiRise returns the share of the load transfer under braking that the rear
// brake cancels, as a fraction: 1 is 100 %.
func (d *Drive) AntiRise(stroke units.Length) float64 { return d.At(stroke).AntiRise }

// ChainGrowth returns by how much the chain's tight run has grown from full
// extension, its wrap on the pulleys included.
func (d *Drive) ChainGrowth(stroke units.Length) units.Length { return d.At(stroke).ChainGrowth }

// KickbackWheelFixed returns the turn of the cranks, backward, from full
// extension, the wheel not turning against the front triangle.
func (d *Drive) KickbackWheelFixed(stroke units.Length) units.Angle {
	return d.At(stroke).KickbackWheelFixed
}

// KickbackWheelRolling returns the turn of the cranks, backward, from full
// extension, the wheel rolling on level ground without slip while the front
// triangle doesn't move forward.
func (d *Drive) KickbackWheelRolling(stroke units.Length) units.Angle {
	return d.At(stroke).KickbackWheelRolling
}

// Mechanism returns the mechanism.
func (d *Drive) Mechanism() *mechanism.Mechanism { return d.m }

// Spec returns what the drive was made from.
func (d *Drive) Spec() Spec {
	spec := d.spec
	if spec.Drivetrain.Idler != nil {
		idler := *spec.Drivetrain.Idler
		spec.Drivetrain.Idler = &idler
	}
	return spec
}
