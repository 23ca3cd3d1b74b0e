package drivetrain

import (
	"fmt"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// Ground says what the ground does while the rear wheel moves. It has no default, since
// anti-squat at full travel can differ by a fifth.
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
	Drivetrain  Pulleys      `json:"drivetrain"`
	WheelRadius units.Length `json:"wheel_radius"` // of the tyre, which is rigid here
	// FrontAxleX is how far the front axle is in front of the bottom bracket,
	// at full extension and as high as the rear axle then.
	FrontAxleX units.Length `json:"front_axle_x"`
	// MassCentre is that of bike and rider: x in front of the bottom bracket, and its height above
	// the ground at full extension. It moves with the front triangle.
	MassCentre mechanism.Point `json:"mass_centre"`
	Ground     Ground          `json:"ground"`
	// BrakeOn is the body that carries the caliper; empty for the one that carries the wheel.
	BrakeOn string `json:"brake_on,omitempty"`
}

// What a drivetrain may be.
const (
	fewestTeeth, mostTeeth = 6, 120
	shortest, farthest     = 1e-6 * units.Metre, 10 * units.Metre
	farthestIdler          = 100 * units.Metre
)

// Check records in c what is wrong with s whatever the mechanism is: numbers of teeth that aren't 6
// to 120, an idler farther than 100 m from the bottom bracket, a wheel radius or a height of the
// mass centre that isn't 1 µm to 10 m, a front axle or a mass centre more than 10 m ahead or
// behind, a ground that is neither level nor front.
func (s Spec) Check(c *units.Checker) {
	train := c.Child("drivetrain")
	checkTeeth(&train, "chainring", s.Drivetrain.Chainring)
	checkTeeth(&train, "sprocket", s.Drivetrain.Sprocket)
	if idler := s.Drivetrain.Idler; idler != nil {
		checkTeeth(&train, "idler.teeth", idler.Teeth)
		for axis, v := range idler.At {
			units.Between(&train, fmt.Sprintf("idler.at[%d]", axis), v, -farthestIdler, farthestIdler)
		}
	}
	units.Between(c, "wheel_radius", s.WheelRadius, shortest, farthest)
	units.Between(c, "front_axle_x", s.FrontAxleX, -farthest, farthest)
	units.Between(c, "mass_centre[0]", s.MassCentre[0], -farthest, farthest)
	units.Between(c, "mass_centre[1]", s.MassCentre[1], shortest, farthest)
	if s.Ground != GroundLevel && s.Ground != GroundFront {
		c.Fail("ground", string(s.Ground), `"level" or "front"`, units.ErrUnknown)
	}
}

func checkTeeth(c *units.Checker, field string, teeth int) {
	if teeth < fewestTeeth || teeth > mostTeeth {
		c.Fail(field, teeth, fmt.Sprintf("from %d to %d teeth", fewestTeeth, mostTeeth), nil)
	}
}
