package airspring

import (
	"fmt"
	"math"
	"slices"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// SeaLevel is the standard atmosphere, exactly 101 325 Pa above vacuum. Pass it as [Spec.Ambient]
// where nothing better is known. It is never a default.
const SeaLevel = units.StandardAtmosphere

// Spec is what is known of an air spring. Volumes are those at full extension.
//
// A spring of one chamber needs bore, travel, volume, fill, ambient and exponent; its shaft has no
// effect. Oil and volume spacers take up room in the positive chamber, which makes the end of the
// travel stiffer.
//
// A negative chamber lies on the other side of the piston, around the shaft, and pulls the spring in.
// It is filled from the positive one through a port that joins the two at one travel, 0 for a port at
// full extension. Such a spring needs NegativeVolume, Shaft and PortTravel.
//
// A second chamber lies beside the positive one, behind a free piston. The piston rests on a stop
// until the pressure of the positive chamber reaches that of the second one. Such a spring needs
// SecondVolume and SecondFill.
type Spec struct {
	Bore           units.Length           `json:"bore"`                      // diameter of the piston
	Shaft          units.Length           `json:"shaft,omitempty"`           // diameter of its shaft, less than the bore
	Travel         units.Length           `json:"travel"`                    // from full extension to full compression
	PositiveVolume units.Volume           `json:"positive_volume"`           // of the empty chamber; what oil and spacers leave of it is more than the travel sweeps
	NegativeVolume units.Volume           `json:"negative_volume,omitempty"` // 0 for none
	PortTravel     units.Length           `json:"port_travel,omitempty"`     // where the two chambers share their gas, 0 or more and less than the travel
	OilVolume      units.Volume           `json:"oil_volume,omitempty"`      // in the positive chamber
	SpacerVolume   units.Volume           `json:"spacer_volume,omitempty"`   // of one volume spacer
	Spacers        int                    `json:"spacers,omitempty"`         // how many are fitted
	SecondVolume   units.Volume           `json:"second_volume,omitempty"`   // behind the free piston on its stop; 0 for none
	SecondFill     units.GaugePressure    `json:"second_fill,omitempty"`     // of that volume
	Fill           units.GaugePressure    `json:"fill,omitempty"`            // of the positive chamber at full extension, after slow cycling past the port
	Ambient        units.AbsolutePressure `json:"ambient"`                   // see [SeaLevel] and [Atmosphere]
	Exponent       float64                `json:"exponent"`                  // n of p·Vⁿ, from 1 (slow) to 2; about 1.4 is fast
}

// The limits of a spec, besides those of package gas: far more than any spring has.
const (
	leastLength = 1e-6 // m
	mostBore    = 1.0  // m
	mostTravel  = 10.0 // m
	mostSpacers = 1000
)

const aSpacer = "the volume of one spacer, more than 0"

// sizes are the fields that the positive chamber and its swept part depend on.
var sizes = []string{"bore", "travel", "positive_volume", "oil_volume", "spacer_volume", "spacers"}

// Check records every bad field of a spec in c. The Fill is ignored, since it may be what is sought.
func (s Spec) Check(c *units.Checker) {
	units.Between(c, "bore", s.Bore, leastLength, mostBore)
	units.Between(c, "travel", s.Travel, leastLength, mostTravel)
	units.Between(c, "positive_volume", s.PositiveVolume, gas.MinVolume, gas.MaxVolume)
	units.Between(c, "oil_volume", s.OilVolume, 0, gas.MaxVolume)
	units.Between(c, "spacer_volume", s.SpacerVolume, 0, gas.MaxVolume)
	if s.Spacers < 0 || s.Spacers > mostSpacers {
		c.Fail("spacers", s.Spacers, units.From(0, 1000), nil)
	}
	sweep := s.swept()
	switch {
	case !c.OK() && slices.ContainsFunc(sizes, c.Bad):
	case !outlasts(s.chamber(0), sweep):
		c.Fail("positive_volume", s.PositiveVolume, more(sweep, "the travel"), units.ErrConflict)
	case !outlasts(s.chamber(s.Spacers), sweep):
		c.Fail("spacers", s.Spacers, more(sweep, "the travel"), units.ErrConflict)
	}
	if s.Spacers > 0 && s.Spacers <= mostSpacers && s.SpacerVolume == 0 {
		c.Fail("spacer_volume", nil, aSpacer, units.ErrMissing)
	}
	port := units.Between(c, "port_travel", s.PortTravel, 0, mostTravel)
	if port && !c.Bad("travel") && !(s.PortTravel < s.Travel) {
		c.Fail("port_travel", s.PortTravel, units.LessThan(s.Travel).Of("travel"), units.ErrConflict)
	}
	if s.NegativeVolume != 0 {
		units.Between(c, "negative_volume", s.NegativeVolume, gas.MinVolume, gas.MaxVolume)
	} else if port && s.PortTravel > 0 {
		c.Fail("negative_volume", nil, "the volume of the chamber that the port leads to", units.ErrMissing)
	}
	if s.NegativeVolume != 0 || s.Shaft != 0 {
		checkShaft(c, s.Shaft, s.Bore)
	}
	if s.SecondVolume != 0 {
		units.Between(c, "second_volume", s.SecondVolume, gas.MinVolume, gas.MaxVolume)
		if s.SecondFill == 0 {
			c.Fail("second_fill", nil, "the fill of the second chamber, more than 0", units.ErrMissing)
		} else {
			gas.CheckFill(c, "second_fill", s.SecondFill)
		}
	} else if s.SecondFill != 0 {
		c.Fail("second_volume", nil, "the volume that second_fill is in", units.ErrMissing)
	}
	gas.CheckAmbient(c, "ambient", s.Ambient)
	units.Between(c, "exponent", s.Exponent, 1, 2)
}

// checkFilled is Check for a spec with a fill.
func (s *Spec) checkFilled(c *units.Checker) {
	s.Check(c)
	gas.CheckFill(c, "fill", s.Fill)
}

// checkShaft checks a shaft that may not be left out. The bore is checked before it.
func checkShaft(c *units.Checker, shaft, bore units.Length) {
	if shaft == 0 {
		c.Fail("shaft", nil, "the diameter of the shaft that the negative chamber is around", units.ErrMissing)
	} else if units.Between(c, "shaft", shaft, leastLength, mostBore) && !c.Bad("bore") && !(shaft < bore) {
		c.Fail("shaft", shaft, units.LessThan(bore).Of("bore"), units.ErrConflict)
	}
}

// area returns the area of a circle.
func area(diameter units.Length) float64 {
	return math.Pi / 4 * float64(diameter) * float64(diameter)
}

// ring returns the area between bore and shaft; (D − d)(D + d) keeps the digits of a thick shaft.
func ring(bore, shaft units.Length) float64 {
	return math.Pi / 4 * float64(bore-shaft) * float64(bore+shaft)
}

// swept returns the volume that the piston sweeps over the travel.
func (s *Spec) swept() float64 { return area(s.Bore) * float64(s.Travel) }

// chamber returns the volume that oil and a number of spacers leave of the positive chamber at
// full extension.
func (s *Spec) chamber(spacers int) float64 {
	return float64(s.PositiveVolume-s.OilVolume) - float64(spacers)*float64(s.SpacerVolume)
}

// absolute and second return the absolute pressures of the fill and of the second fill.
func (s *Spec) absolute() float64 { return float64(s.Fill) + float64(s.Ambient) }
func (s *Spec) second() float64   { return float64(s.SecondFill) + float64(s.Ambient) }

// mostSwept is the greatest share of a chamber that may be swept: a billionth is left at full travel.
const mostSwept = 1 - 1e-9

// outlasts reports whether at most mostSwept of a volume is swept. The share is computed as in
// [chamber.left], so that the two agree to the last digit.
func outlasts(volume, sweep float64) bool { return volume > 0 && sweep/volume <= mostSwept }

// more is the text that asks for a chamber of more than the swept volume.
func more(sweep float64, way string) string {
	return fmt.Sprintf("a chamber left with more than the %.4g that %s sweeps", units.Volume(sweep), way)
}
