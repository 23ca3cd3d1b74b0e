package airspring

import (
	"errors"
	"math"

	"example.com/wheelrate/units"
)

// ErrUndetermined is the class of the errors of readings that don't determine what is sought.
var ErrUndetermined = errors.New("airspring: the readings don't determine the unknowns")

// ChamberEstimate is the chambers that readings of gauge and ring give, with their standard errors.
type ChamberEstimate struct {
	Bore                units.Length `json:"bore"`
	BoreError           units.Length `json:"bore_error"`
	PositiveVolume      units.Volume `json:"positive_volume"` // what oil and spacers leave, at full extension
	PositiveVolumeError units.Volume `json:"positive_volume_error"`
	NegativeVolume      units.Volume `json:"negative_volume"` // at full extension; 0 without a negative chamber, as the rest
	NegativeVolumeError units.Volume `json:"negative_volume_error"`
	PortTravel          units.Length `json:"port_travel"`
	PortTravelError     units.Length `json:"port_travel_error"`
}

// Chambers returns the chambers of the spring. With a, h, b and k as in [Calibrate],
//
//	V_p0 = a,  A_p = a/h,  A_n = A_p − A_s,  V_n0 = k·A_n
//	q = b/V_n0,  x_t = h·k·(q − 1)/(q·k + h)
//
// Small errors of the ring become large ones of the chambers, even where they hardly move the fill for
// a sag: strokes from little to nearly all of the travel are needed. An unknown is undetermined if its
// standard error is above 25 %, for the port above 25 % or 1 mm, whichever is more.
// The error then names each of bore, positive_volume, negative_volume and port_travel, and is an
// [ErrUndetermined]. All are if the best chambers are at a limit of what a spring has.
//
// What depends on the chambers and not on Φ at the strokes read, such as the force at full travel,
// spacers and fast strokes, is as uncertain as they are.
func (c *Calibration) Chambers() (ChamberEstimate, error) {
	check := units.Checker{Package: "airspring"}
	names := []string{"bore", "positive_volume", "negative_volume", "port_travel"}
	if !c.readings.negative() {
		names = names[:2]
	}
	values, deviations := c.solution.Chambers(area(c.readings.OutsideDiameter))
	for i, name := range names {
		limit := 0.25 * math.Abs(values[i])
		least := 0.0
		if name == "port_travel" {
			limit = max(limit, 1e-3)
			least = -max(3*deviations[i], 1e-9)
		}
		if c.solution.AtLimit || !(deviations[i] <= limit && values[i] > least) {
			check.Fail(name, nil, "readings over more of the travel, or with less error, that determine it", ErrUndetermined)
		}
	}
	return units.Checked(&check, ChamberEstimate{
		Bore: units.Length(values[0]), BoreError: units.Length(deviations[0]),
		PositiveVolume: units.Volume(values[1]), PositiveVolumeError: units.Volume(deviations[1]),
		NegativeVolume: units.Volume(values[2]), NegativeVolumeError: units.Volume(deviations[2]),
		PortTravel: units.Length(max(values[3], 0)), PortTravelError: units.Length(deviations[3]),
	})
}
