package airspring

import (
	"math"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// TopUp is a change of the fill of a spring with a negative chamber. The pump fills the positive
// chamber only. Volumes are those at full extension.
type TopUp struct {
	Bore           units.Length           `json:"bore"`
	Shaft          units.Length           `json:"shaft"`           // less than the bore
	PositiveVolume units.Volume           `json:"positive_volume"` // less oil and spacers; more than is swept up to the port
	NegativeVolume units.Volume           `json:"negative_volume"`
	PortTravel     units.Length           `json:"port_travel"` // where the chambers share their gas, 0 or more
	OldFill        units.GaugePressure    `json:"old_fill"`    // the reading after the last cycling; 0 for a spring just assembled, both chambers at the ambient pressure
	Fill           units.GaugePressure    `json:"fill"`        // wanted, more than 0
	Ambient        units.AbsolutePressure `json:"ambient"`
	Within         units.GaugePressure    `json:"within"` // how far from Fill the last reading may be, more than 0
}

// TopUpOf returns the top-up of a spring from its Fill to another one. The
// PositiveVolume is what oil and spacers leave of the spec's.
func TopUpOf(spec Spec, fill, within units.GaugePressure) TopUp {
	return TopUp{
		Bore: spec.Bore, Shaft: spec.Shaft, PositiveVolume: units.Volume(spec.chamber(spec.Spacers)),
		NegativeVolume: spec.NegativeVolume, PortTravel: spec.PortTravel,
		OldFill: spec.Fill, Fill: fill, Ambient: spec.Ambient, Within: within,
	}
}

// TopUpPlan is the steps of a [TopUp] and the pressures after each cycle.
type TopUpPlan struct {
	Cycles           int                      // how many times the spring is cycled past its port, 1 or more
	Reading          []units.GaugePressure    // after each cycle, before the pressure is set again
	NegativePressure []units.AbsolutePressure // of the negative chamber after each cycle, at full extension
	// Carry is V_n/(V_p + V_n) at the port: the share of what is pumped in that goes into the negative
	// chamber, and the factor by which each cycle reduces the difference from the wanted fill.
	Carry float64
	Steps []TopUpStep // in order
}

// TopUpAction is the action of one step.
type TopUpAction string

// The actions.
const (
	Pump    TopUpAction = "pump"    // add air at full extension
	Release TopUpAction = "release" // let air out at full extension
	Cycle   TopUpAction = "cycle"   // compress the spring slowly past the port and extend it again
)

// TopUpStep is one step and the reading of the gauge before and after it.
type TopUpStep struct {
	Action TopUpAction
	Before units.GaugePressure
	After  units.GaugePressure
}

// PlanTopUp returns the steps that bring a spring to a fill. Setting the pressure changes the
// positive chamber alone. When the spring is then cycled slowly past its port, gas flows until
// both chambers have one pressure; the gauge then reads low after raising the fill and high after
// lowering it. Before each cycle the positive chamber is set to p₁ = fill + ambient at full
// extension. With the volumes V_p0, V_n0 there and V_p, V_n at the port, the mass of the gas gives
//
//	p_e = (p₁·V_p0 + p_n·V_n0)/(V_p + V_n)
//	reading = p_e·V_p/V_p0 − p_a,  negative pressure after = p_e·V_n/V_n0
//
// Setting and cycling are repeated until the reading is within the limit. With β = V_n/(V_p + V_n)
// and a change of fill Δ of a spring that was cycled before, reading k is Δ·β^k off the wanted fill.
//
// Common practice agrees, without a source: a fork raised from 64.5 to 72 psi and cycled about an
// inch reads 1 to 2 psi low, a couple of rounds are enough, and a change of a couple of psi needs
// hardly any. The first says that β is from 2/15 to 4/15; a fork of 220 and 50 cm³ has 0.21.
//
// The gas is ideal and as warm as its surroundings. The check values are independent computations
// in 40 and 50 digits. The error names every bad field. It names positive_volume if the travel to the
// port sweeps the whole chamber, and within if more than 1000 cycles are needed.
//
// Never raise the pressure above the marking on the part, and use a pump made for suspension.
func PlanTopUp(t TopUp) (TopUpPlan, error) {
	c := units.Checker{Package: "airspring"}
	t.check(&c)
	if err := c.Err(); err != nil {
		return TopUpPlan{}, err
	}
	x, pa := float64(t.PortTravel), float64(t.Ambient)
	vp0, vn0 := float64(t.PositiveVolume), float64(t.NegativeVolume)
	vp, vn := vp0-area(t.Bore)*x, vn0+ring(t.Bore, t.Shaft)*x
	p1, pn := float64(t.Fill)+pa, pa
	if t.OldFill > 0 {
		pn = (float64(t.OldFill) + pa) * vp0 / vp * vn / vn0
	}
	plan := TopUpPlan{Carry: vn / (vp + vn)}
	shared := func() float64 { return (p1*vp0 + pn*vn0) / (vp + vn) }

	// The number of cycles is known beforehand: each shrinks the shortfall by β.
	const mostCycles = 1000
	miss := p1 - shared()*vp/vp0
	if !(math.Abs(miss)*math.Pow(plan.Carry, mostCycles-1) <= float64(t.Within)) {
		c.Fail("within", t.Within, "a limit that is reached in at most 1000 cycles", nil)
		return TopUpPlan{}, c.Err()
	}
	for reading := t.OldFill; plan.Cycles < mostCycles; {
		if reading < t.Fill {
			plan.Steps = append(plan.Steps, TopUpStep{Pump, reading, t.Fill})
		} else if reading > t.Fill {
			plan.Steps = append(plan.Steps, TopUpStep{Release, reading, t.Fill})
		}
		pe := shared()
		pn = pe * vn / vn0
		reading = units.GaugePressure(pe*vp/vp0 - pa)
		plan.Cycles++
		plan.Reading = append(plan.Reading, reading)
		plan.NegativePressure = append(plan.NegativePressure, units.AbsolutePressure(pn))
		plan.Steps = append(plan.Steps, TopUpStep{Cycle, t.Fill, reading})
		if math.Abs(float64(t.Fill-reading)) <= float64(t.Within) {
			break
		}
	}
	return plan, nil
}

func (t *TopUp) check(c *units.Checker) {
	units.Between(c, "bore", t.Bore, leastLength, mostBore)
	checkShaft(c, t.Shaft, t.Bore)
	units.Between(c, "positive_volume", t.PositiveVolume, gas.MinVolume, gas.MaxVolume)
	units.Between(c, "negative_volume", t.NegativeVolume, gas.MinVolume, gas.MaxVolume)
	units.Between(c, "port_travel", t.PortTravel, 0, mostTravel)
	sweep := area(t.Bore) * float64(t.PortTravel)
	if !c.Bad("bore") && !c.Bad("positive_volume") && !c.Bad("port_travel") && !outlasts(float64(t.PositiveVolume), sweep) {
		c.Fail("positive_volume", t.PositiveVolume, more(sweep, "the way to the port"), units.ErrConflict)
	}
	units.Between(c, "old_fill", t.OldFill, 0, gas.MaxFill)
	gas.CheckFill(c, "fill", t.Fill)
	gas.CheckAmbient(c, "ambient", t.Ambient)
	gas.CheckFill(c, "within", t.Within)
}

// HoseReading returns the reading of a pump's gauge after its hose, at ambient pressure, is screwed
// on to a filled chamber:
//
//	reading = fill·V/(V + V_h)
//
// where V is the chamber's volume at full extension and V_h that of hose and gauge. A reading below
// the last fill is therefore no sign of a leak. A chamber topped up to a reading keeps that pressure
// when the hose is unscrewed, if its valve shuts first: the air that escapes is the hose's.
//
// The chamber is from 1 mm³ to 1 m³, the hose from 0 to 1 m³, the fill from 0 to [MaxFill]. The error
// names every bad field. The equation follows from the mass balance of an ideal gas as warm as its
// surroundings; the check values were computed in 40 digits.
func HoseReading(chamber, hose units.Volume, fill units.GaugePressure) (units.GaugePressure, error) {
	return withHose(chamber, hose, "fill", fill, chamber/(chamber+hose))
}

// HoseFill returns the fill that a chamber had before a pump was screwed on, from the pump's first
// reading: reading·(V + V_h)/V. It is the inverse of [HoseReading] and has the same limits.
func HoseFill(chamber, hose units.Volume, reading units.GaugePressure) (units.GaugePressure, error) {
	return withHose(chamber, hose, "reading", reading, (chamber+hose)/chamber)
}

// withHose returns a pressure times a factor.
func withHose(chamber, hose units.Volume, field string, pressure units.GaugePressure, factor units.Volume) (units.GaugePressure, error) {
	c := units.Checker{Package: "airspring"}
	units.Between(&c, "chamber_volume", chamber, gas.MinVolume, gas.MaxVolume)
	units.Between(&c, "hose_volume", hose, 0, gas.MaxVolume)
	units.Between(&c, field, pressure, 0, gas.MaxFill)
	if err := c.Err(); err != nil {
		return 0, err
	}
	return pressure * units.GaugePressure(factor), nil
}
