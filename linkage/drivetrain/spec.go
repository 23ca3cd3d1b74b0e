package drivetrain

import (
	"fmt"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Ground states how the ground lies as the rear wheel moves. It has no default, since
// anti-squat at full travel can differ by a fifth between the two.
type Ground string

// The two grounds.
const (
	// GroundLevel keeps the front triangle level: the ground stays horizontal
	// below the rear wheel, and the front wheel follows it.
	GroundLevel Ground = "level"
	// GroundFront keeps the front axle where it is at full extension: the
	// ground is the line below both wheels.
	GroundFront Ground = "front"
)

// Idler is a pulley that the chain's tight run passes over.
type Idler struct {
	Teeth int             `json:"teeth"`
	At    mechanism.Point `json:"at"` // its axis at full extension
	On    string          `json:"on"` // the body that carries it; "frame" is the front triangle
}

// Pulleys are the pulleys of the chain.
type Pulleys struct {
	Chainring int    `json:"chainring"` // teeth of the pulley that drives the chain
	Sprocket  int    `json:"sprocket"`  // teeth, in the gear to be computed
	Idler     *Idler `json:"idler,omitempty"`
	// ChainringAt is the chainring's axis at full extension; left out, it is the bottom bracket, the
	// origin. ChainringOn is the body that carries it and takes the torque that turns it; empty for the
	// front triangle.
	ChainringAt mechanism.Point `json:"chainring_at,omitzero"`
	ChainringOn string          `json:"chainring_on,omitempty"`
}

// Spec describes the chain, the brake, the wheels and the masses of a bike, besides its
// mechanism.
type Spec struct {
	Drivetrain  Pulleys      `json:"drivetrain"`
	WheelRadius units.Length `json:"wheel_radius"` // of the rear tyre, taken as rigid
	// FrontWheelRadius is the front tyre's; 0 for that of the rear. It matters to GroundFront alone.
	FrontWheelRadius units.Length `json:"front_wheel_radius,omitempty"`
	// FrontAxleX is the horizontal distance of the front axle in front of the
	// bottom bracket at full extension, where both wheels stand on level ground.
	FrontAxleX units.Length `json:"front_axle_x"`
	// MassCentre is the mass centre of bike and rider at full extension: its horizontal distance
	// in front of the bottom bracket and its height above the ground. It moves with the front
	// triangle.
	MassCentre mechanism.Point `json:"mass_centre"`
	Ground     Ground          `json:"ground"`
	// BrakeOn is the body that carries the caliper; empty for the one that carries the wheel.
	BrakeOn string `json:"brake_on,omitempty"`
}

// Limits of a Spec.
const (
	fewestTeeth, mostTeeth = 6, 120
	shortest, farthest     = 1e-6 * units.Metre, 10 * units.Metre
	farthestPulley         = 100 * units.Metre
)

// Check records in c what is wrong with s regardless of the mechanism. Teeth must be 6 to 120, each
// coordinate of a pulley −100 m to 100 m, the wheel radii and the height of the mass centre 1 µm
// to 10 m, the front axle and the mass centre at most 10 m ahead or behind, and the ground level or
// front.
func (s Spec) Check(c *units.Checker) {
	train := c.Child("drivetrain")
	checkTeeth(&train, "chainring", s.Drivetrain.Chainring)
	checkTeeth(&train, "sprocket", s.Drivetrain.Sprocket)
	checkPlace(&train, "chainring_at", s.Drivetrain.ChainringAt)
	if idler := s.Drivetrain.Idler; idler != nil {
		checkTeeth(&train, "idler.teeth", idler.Teeth)
		checkPlace(&train, "idler.at", idler.At)
	}
	units.Between(c, "wheel_radius", s.WheelRadius, shortest, farthest)
	if s.FrontWheelRadius != 0 {
		units.Between(c, "front_wheel_radius", s.FrontWheelRadius, shortest, farthest)
	}
	units.Between(c, "front_axle_x", s.FrontAxleX, -farthest, farthest)
	units.Between(c, "mass_centre[0]", s.MassCentre[0], -farthest, farthest)
	units.Between(c, "mass_centre[1]", s.MassCentre[1], shortest, farthest)
	if s.Ground != GroundLevel && s.Ground != GroundFront {
		c.Fail("ground", string(s.Ground), `"level" or "front"`, units.ErrUnknown)
	}
}

func checkTeeth(c *units.Checker, field string, teeth int) {
	if teeth < fewestTeeth || teeth > mostTeeth {
		c.Fail(field, teeth, units.From(fewestTeeth, mostTeeth).Count("teeth"), nil)
	}
}

func checkPlace(c *units.Checker, field string, at mechanism.Point) {
	for axis, v := range at {
		units.Between(c, fmt.Sprintf("%s[%d]", field, axis), v, -farthestPulley, farthestPulley)
	}
}
