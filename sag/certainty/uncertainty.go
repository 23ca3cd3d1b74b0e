package certainty

import "example.com/wheelrate/units"

// Uncertainty says how well the inputs of a set-up are known: the standard uncertainty, one
// standard deviation, of each, in the input's own unit or, where the field says relative, as a
// fraction of it. Every field may be left out; what is left out, or 0, is taken as exactly known,
// and [Budget] and [Simulation] list it as such. Nothing has a default: no published figures for
// scales, gauges and springs of these bikes could be traced.
//
// Of a reading that may be off by ±a with every value alike, the standard uncertainty is a/√3 (a
// rectangular distribution, from memory of JCGM 100:2008). The errors are taken as independent of
// each other, and as 0 on average: a known error is corrected in the job, not stated here.
//
// A field is refused where the bike does not have the input, where it is not 0 or more, and where
// it exceeds what the field's comment says: an input known no better than that is not known.
type Uncertainty struct {
	// RiderMass and BikeMass are for a job that does not give scales, each up to the mass itself.
	RiderMass     units.Mass `json:"rider_mass,omitempty"`
	BikeMass      units.Mass `json:"bike_mass,omitempty"`
	UnsprungFront units.Mass `json:"unsprung_front,omitempty"` // up to the bike's mass, as is the next
	UnsprungRear  units.Mass `json:"unsprung_rear,omitempty"`
	// RearShare is that of the share, a plain number such as 0.01, up to the smaller of the two
	// shares. It is for a job that gives the share.
	RearShare float64 `json:"rear_share,omitempty"`
	// Wheelbase and MassCentreBehindFrontAxle are for a job that gives these. Both go up to the
	// distance from the mass centre to the nearer axle.
	Wheelbase                 units.Length `json:"wheelbase,omitempty"`
	MassCentreBehindFrontAxle units.Length `json:"mass_centre_behind_front_axle,omitempty"`
	// FrontScale and RearScale are for a job that gives these, each up to the reading. They err
	// independently: of one scale put under one wheel after the other, state its repeatability.
	FrontScale units.Mass `json:"front_scale,omitempty"`
	RearScale  units.Mass `json:"rear_scale,omitempty"`
	// Ambient is for a job with an air spring, up to the ambient itself.
	Ambient units.AbsolutePressure `json:"ambient,omitempty"`

	Front EndUncertainty `json:"front,omitzero"`
	Rear  EndUncertainty `json:"rear,omitzero"`
}

// EndUncertainty says how well the inputs of an [fit.Spec] are known; see [Uncertainty].
//
// The target is exact, and so are the stroke of the shock or the travel along the stanchions, the
// strokes of a table, solid travels, the range of the collar and the number of spacers.
type EndUncertainty struct {
	// HeadAngle is for the curve of a fork, up to 30°.
	HeadAngle units.Angle `json:"head_angle,omitempty"`
	// LeverRatio is relative, for any other curve, up to 1: the whole curve is too high or too low
	// by this fraction, travel and ratio alike, over the same stroke.
	LeverRatio float64 `json:"lever_ratio,omitempty"`
	// TableTravel is that of each travel in the table of a curve but the first, which is 0 by
	// definition. The readings err independently. Up to the mean step of the table.
	TableTravel units.Length `json:"table_travel,omitempty"`
	// Friction is that of the dry force left at the spring when the wheel has come to rest, 0 on
	// average: friction of ±f with every force between alike has f/√3. It goes up to the weight of
	// rider and bike, moves the rest, and has no part in rates and reserve. The job's friction,
	// which makes the band of [sag.Rest], is apart from it.
	Friction units.Force `json:"friction,omitempty"`
	// Reading is that of the sag read off the shock or the stanchion, up to the stroke. It is for
	// the answer stroke_reading alone.
	Reading units.Length `json:"reading,omitempty"`

	// SpringRate is relative, up to 1: that of the true rate of a coil spring about the marked one.
	// The rates of the shelf err independently.
	SpringRate float64 `json:"spring_rate,omitempty"`
	// Preload is that of the preload of a coil as set, up to the stroke.
	Preload units.Length `json:"preload,omitempty"`

	// Fill is that of an air spring's fill as set, the gauge's error, up to the marking.
	Fill units.GaugePressure `json:"fill,omitempty"`
	// GasTemperature is relative, up to 1: that of the absolute temperature of the gas at rest over
	// that at which it was filled. 5 K in 293 K is 0.017.
	GasTemperature float64 `json:"gas_temperature,omitempty"`
	// Of the other fields of [fit.Chamber], where the air spring has them. Each goes up to the
	// quantity itself, but oil up to the positive volume, the port up to the travel, and the
	// exponent up to 1.
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
