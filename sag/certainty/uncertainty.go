package certainty

import "example.com/wheelrate/units"

// Uncertainty is how well the inputs of a setup are known: the standard uncertainty of each, one
// standard deviation, in the input's own unit or, where the field says relative, as a fraction of
// it. What is left out, or 0, is taken as exactly known, and [Budget] and [Simulation] list it.
// There are no defaults: no published figures for scales, gauges and springs of these bikes could
// be traced.
//
// A reading that may be off by ±a with every value alike has a/√3 (a rectangular distribution, from
// memory of JCGM 100:2008). Errors are independent of each other and 0 on average: a known error is
// corrected in the job instead.
//
// A field is refused if the bike does not have the input, if it is not 0 or more, and if it exceeds
// what its comment says: an input known no better than that is not known.
type Uncertainty struct {
	// RiderMass and BikeMass are for a job without scales, each up to the mass itself.
	RiderMass     units.Mass `json:"rider_mass,omitempty"`
	BikeMass      units.Mass `json:"bike_mass,omitempty"`
	UnsprungFront units.Mass `json:"unsprung_front,omitempty"` // up to the bike's mass, as is the next
	UnsprungRear  units.Mass `json:"unsprung_rear,omitempty"`
	RearShare     float64    `json:"rear_share,omitempty"` // up to the smaller of the two shares
	// Wheelbase and MassCentreBehindFrontAxle go up to the distance from the mass centre to the
	// nearer axle.
	Wheelbase                 units.Length `json:"wheelbase,omitempty"`
	MassCentreBehindFrontAxle units.Length `json:"mass_centre_behind_front_axle,omitempty"`
	// FrontScale and RearScale go up to the reading. Of one scale put under one wheel after the
	// other, state its repeatability.
	FrontScale units.Mass             `json:"front_scale,omitempty"`
	RearScale  units.Mass             `json:"rear_scale,omitempty"`
	Ambient    units.AbsolutePressure `json:"ambient,omitempty"` // up to the ambient of an air spring

	Front EndUncertainty `json:"front,omitzero"`
	Rear  EndUncertainty `json:"rear,omitzero"`
}

// EndUncertainty is how well the inputs of a [fit.Spec] are known; see [Uncertainty]. The others
// are exact: the target, the stroke of the shock or the travel along the stanchions, the strokes of
// a table, solid travels, the range of the collar and the number of spacers.
type EndUncertainty struct {
	HeadAngle units.Angle `json:"head_angle,omitempty"` // of a fork, up to 30°
	// LeverRatio is relative, up to 1, and for any other curve: all travels and ratios of the curve
	// are off by this fraction, over the same stroke.
	LeverRatio float64 `json:"lever_ratio,omitempty"`
	// TableTravel is that of each travel in a table but the first, which is 0 by definition. The
	// travels are off independently, up to the mean step of the table.
	TableTravel units.Length `json:"table_travel,omitempty"`
	// Friction is that of the dry force left at the spring when the wheel has come to rest, up to
	// the weight of rider and bike. It moves the rest, and has no part in rates and reserve. The
	// friction of the job, which makes the band of [sag.Rest], is apart from it.
	Friction units.Force  `json:"friction,omitempty"`
	Reading  units.Length `json:"reading,omitempty"` // of the ring, up to the stroke; for stroke_reading alone

	// SpringRate is relative, up to 1: that of the true rate of each spring of the shelf about the
	// marked one. The rates are off independently.
	SpringRate float64      `json:"spring_rate,omitempty"`
	Preload    units.Length `json:"preload,omitempty"` // of a coil as set, up to the stroke

	Fill units.GaugePressure `json:"fill,omitempty"` // as set: the gauge's error, up to the marking
	// GasTemperature is relative, up to 1: that of the absolute temperature of the gas at rest over
	// that at which it was filled. 5 K in 293 K is 0.017.
	GasTemperature float64 `json:"gas_temperature,omitempty"`
	// The other fields of [fit.Chamber] go up to the quantity itself, but oil up to the positive
	// volume, the port up to the travel, and the exponent up to 1.
	Bore           units.Length        `json:"bore,omitempty"`
	Shaft          units.Length        `json:"shaft,omitempty"`
	PositiveVolume units.Volume        `json:"positive_volume,omitempty"`
	NegativeVolume units.Volume        `json:"negative_volume,omitempty"`
	PortTravel     units.Length        `json:"port_travel,omitempty"`
	OilVolume      units.Volume        `json:"oil_volume,omitempty"`
	SpacerVolume   units.Volume        `json:"spacer_volume,omitempty"` // of one, and of all alike
	SecondVolume   units.Volume        `json:"second_volume,omitempty"`
	SecondFill     units.GaugePressure `json:"second_fill,omitempty"`
	Exponent       float64             `json:"exponent,omitempty"`
}
