package certainty

import (
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// Uncertainty states how well the inputs of a setup are known. Each field is a standard
// uncertainty, one standard deviation, in the unit of the input or, if its comment says relative, a
// fraction of the input. An input whose field is 0 or left out is taken as exact, and a [Budget] lists
// it. There are no defaults, because no published figures for the scales, gauges
// and springs of these bikes were found.
//
// If a reading may be off by up to ±a, and every error within that is equally likely, state a/√3 (a
// rectangular distribution; JCGM 100:2008, from memory). Errors are taken as independent and 0 on
// average. Correct a known error in the job instead.
//
// Each field is finite and from 0 to the limit in its comment. If the bike does not have the input,
// such as the spring rate of an end with an air spring, the field has no effect, and a [Budget] lists
// it as not used.
type Uncertainty struct {
	// RiderMass and BikeMass are for a job without scales, each up to the mass itself.
	RiderMass units.Mass `json:"rider_mass,omitempty"`
	BikeMass  units.Mass `json:"bike_mass,omitempty"`
	// UnsprungFront and UnsprungRear go up to the bike's mass.
	UnsprungFront units.Mass `json:"unsprung_front,omitempty"`
	UnsprungRear  units.Mass `json:"unsprung_rear,omitempty"`
	RearShare     float64    `json:"rear_share,omitempty"` // up to the smaller of the front's and the rear's share
	// Wheelbase and MassCentreBehindFrontAxle go up to the distance from the mass centre to the
	// nearer axle; Wheelbase without a mass centre to the wheelbase itself.
	Wheelbase                 units.Length `json:"wheelbase,omitempty"`
	MassCentreBehindFrontAxle units.Length `json:"mass_centre_behind_front_axle,omitempty"`
	// FrontScale and RearScale go up to the reading of the scale. If one scale is put under one
	// wheel after the other, state its repeatability.
	FrontScale units.Mass `json:"front_scale,omitempty"`
	RearScale  units.Mass `json:"rear_scale,omitempty"`
	// The next seven are for both ends settled together.
	MassCentreHeight    units.Length           `json:"mass_centre_height,omitempty"`    // up to the height itself
	WheelRadius         units.Length           `json:"wheel_radius,omitempty"`          // of the wheels without a radius of their own, up to the radius itself
	FrontWheelRadius    units.Length           `json:"front_wheel_radius,omitempty"`    // up to the radius itself
	RearWheelRadius     units.Length           `json:"rear_wheel_radius,omitempty"`     // up to the radius itself
	ForkOffset          units.Length           `json:"fork_offset,omitempty"`           // up to 1 m
	BottomBracketHeight units.Length           `json:"bottom_bracket_height,omitempty"` // up to the height itself
	ChainstayLength     units.Length           `json:"chainstay_length,omitempty"`      // up to the length itself
	Ambient             units.AbsolutePressure `json:"ambient,omitempty"`               // for air springs, up to the ambient pressure itself

	Front EndUncertainty `json:"front,omitzero"`
	Rear  EndUncertainty `json:"rear,omitzero"`
}

// Leftover is a stated uncertainty of an input that the bike does not have, as after a change of
// spring.
type Leftover struct {
	Input  string `json:"input"`  // the field of [Uncertainty], such as "rear.spring_rate"
	Reason string `json:"reason"` // why it is not used, for people
}

// End returns what is stated of the inputs of one end: nothing for another axle, and of nil.
func (u *Uncertainty) End(axle sag.Axle) EndUncertainty {
	switch {
	case u != nil && axle == sag.Front:
		return u.Front
	case u != nil && axle == sag.Rear:
		return u.Rear
	}
	return EndUncertainty{}
}

// EndUncertainty states how well the inputs of a [fit.Spec] are known; see [Uncertainty]. The
// inputs that it does not have are exact: the target, the stroke of the shock or the travel along
// the stanchions, the strokes of a table, solid travels, the range of the collar and the number of
// spacers.
type EndUncertainty struct {
	HeadAngle units.Angle `json:"head_angle,omitempty"` // of a fork, up to 30°
	// LeverRatio is relative, up to 1, and for every curve but that of a fork. All travels and lever
	// ratios of the curve are off by the same fraction; its stroke is exact.
	LeverRatio float64 `json:"lever_ratio,omitempty"`
	// TableTravel is for each travel of a table but the first, which is 0; up to the last travel
	// over the number of steps. The travels are off independently.
	TableTravel units.Length `json:"table_travel,omitempty"`
	// Friction is for the dry friction that is left at the spring when the wheel has come to rest,
	// up to the weight of rider and bike. It moves the rest, but not rates and reserve. It is not the
	// error of the job's friction, which only sets the band of [sag.Rest].
	Friction units.Force `json:"friction,omitempty"`
	// Reading is for the reading of the ring, up to the stroke. It has an effect on stroke_reading,
	// and two of it are a miss of the target that can't be told from none; see [fit.Options.Choose].
	Reading units.Length `json:"reading,omitempty"`

	DropHeight units.Length `json:"drop_height,omitempty"` // of a drop to land, up to the height itself
	// Damping is relative, up to 1: that of the damper as set over what it is taken for.
	Damping float64 `json:"damping,omitempty"`

	// SpringRate is relative, up to 1, and for each spring of the shelf: the true rate over the
	// marked one, or the true force over that of a spring whose rate varies. The rates are off
	// independently.
	SpringRate float64      `json:"spring_rate,omitempty"`
	Preload    units.Length `json:"preload,omitempty"` // of a coil as set, up to the stroke

	Fill units.GaugePressure `json:"fill,omitempty"` // of an air spring as set, by the error of the gauge; up to the marking
	// GasTemperature is relative, up to 1, and for the absolute temperature of the gas at rest over
	// that at which it was filled. 5 K in 293 K is 0.017.
	GasTemperature float64             `json:"gas_temperature,omitempty"`
	Bore           units.Length        `json:"bore,omitempty"`            // up to the bore itself
	Shaft          units.Length        `json:"shaft,omitempty"`           // up to the shaft itself
	PositiveVolume units.Volume        `json:"positive_volume,omitempty"` // up to the volume itself
	NegativeVolume units.Volume        `json:"negative_volume,omitempty"` // up to the volume itself
	PortTravel     units.Length        `json:"port_travel,omitempty"`     // up to the travel of the air spring
	OilVolume      units.Volume        `json:"oil_volume,omitempty"`      // up to the positive volume
	SpacerVolume   units.Volume        `json:"spacer_volume,omitempty"`   // up to the volume itself; the same error for every spacer
	SecondVolume   units.Volume        `json:"second_volume,omitempty"`   // up to the volume itself
	SecondFill     units.GaugePressure `json:"second_fill,omitempty"`     // up to the fill itself
	Exponent       float64             `json:"exponent,omitempty"`        // up to 1
}
