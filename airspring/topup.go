package airspring

import (
	"math"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
)

// TopUp asks how to bring a spring with a negative chamber from one fill to
// another with a pump that reaches only the positive chamber.
type TopUp struct {
	Bore           units.Length           `json:"bore"`
	Shaft          units.Length           `json:"shaft"`           // less than the bore
	PositiveVolume units.Volume           `json:"positive_volume"` // at full extension, less oil and spacers; more than is swept up to the port
	NegativeVolume units.Volume           `json:"negative_volume"` // at full extension
	PortTravel     units.Length           `json:"port_travel"`     // where the chambers share their gas, 0 or more
	OldFill        units.GaugePressure    `json:"old_fill"`        // the reading before, after cycling; 0 means just assembled, both chambers open to the ambient
	Fill           units.GaugePressure    `json:"fill"`            // wanted, more than 0
	Ambient        units.AbsolutePressure `json:"ambient"`
	Within         units.GaugePressure    `json:"within"` // how far from Fill the last reading may be, more than 0
}

// TopUpOf returns the question for a spring: from its Fill to another one.
// What spacers and oil leave of the positive chamber is taken out of the spec.
func TopUpOf(spec Spec, fill, within units.GaugePressure) TopUp {
	return TopUp{
		Bore: spec.Bore, Shaft: spec.Shaft, PositiveVolume: units.Volume(spec.chamber(spec.Spacers)),
		NegativeVolume: spec.NegativeVolume, PortTravel: spec.PortTravel,
		OldFill: spec.Fill, Fill: fill, Ambient: spec.Ambient, Within: within,
	}
}

// TopUpPlan is what to do and what the gauge will show.
type TopUpPlan struct {
	Cycles int // how often the spring is cycled past its port, 1 or more
	// Reading is what the gauge shows at full extension after each cycle,
	// before the pressure is set again.
	Reading []units.GaugePressure
	// NegativePressure is that of the negative chamber at full extension after
	// each cycle, absolute.
	NegativePressure []units.AbsolutePressure
	// Carry is V_n/(V_p + V_n) at the port: the part of every change that goes
	// into the negative chamber, and by which the shortfall shrinks per cycle.
	Carry float64
	Steps []TopUpStep // one after the other
}

// TopUpAction is what is done in one step.
type TopUpAction string

// The three actions.
const (
	Pump    TopUpAction = "pump"    // add air at full extension
	Release TopUpAction = "release" // let air out at full extension
	Cycle   TopUpAction = "cycle"   // compress slowly past the port and let out again
)

// TopUpStep is one step and the reading of the gauge before and after it.
type TopUpStep struct {
	Action TopUpAction
	Before units.GaugePressure
	After  units.GaugePressure
}

// mostCycles bounds a plan.
const mostCycles = 1000

// PlanTopUp returns the steps that bring a spring to a fill. Setting the
// pressure changes the positive chamber alone; when the spring is then cycled
// slowly past its port, gas flows until both have one pressure, and the gauge
// reads low after raising the fill, high after lowering it. Before each cycle
// the positive chamber is set to p₁ = fill + ambient at full extension. With
// the volumes V_p0, V_n0 there and V_p, V_n at the port, mass is kept:
//
//	p_e = (p₁·V_p0 + p_n·V_n0)/(V_p + V_n)
//	reading = p_e·V_p/V_p0, negative pressure after = p_e·V_n/V_n0
//
// again and again until the reading is within the limit. With
// β = V_n/(V_p + V_n) and a change of fill Δ from a settled spring, reading k is
// Δ·β^k off the wanted fill.
//
// Common practice agrees, without a source: a fork raised from 64.5 to 72 psi and
// cycled about an inch reads 1 to 2 psi low, a couple of rounds are enough, and a
// change of a couple of psi needs hardly any. The first says that β is from 2/15
// to 4/15, a negative chamber at the port of 0.15 to 0.36 of the positive one. A
// fork of 220 and 50 cm³ has 0.21: of those 7.5 psi 1.6 are missing after one
// cycle and 0.3 after two, of 2 psi 0.4 after one.
//
// All slow (isothermal), ideal gas. The recursion follows from the mass
// balance; the check values are independent computations in 40 and 50 digits.
//
// The error names every bad field: positive_volume where the chamber is swept
// away before the port, within where more than 1000 cycles would be needed.
//
// Never raise the pressure above the marking on the part, and use a pump made
// for suspension.
func PlanTopUp(t TopUp) (TopUpPlan, error) {
	c := units.Checker{Package: "airspring"}
	t.check(&c)
	if err := c.Err(); err != nil {
		return TopUpPlan{}, err
	}
	ap := area(t.Bore)
	an := math.Pi / 4 * float64(t.Bore-t.Shaft) * float64(t.Bore+t.Shaft)
	x, pa := float64(t.PortTravel), float64(t.Ambient)
	vp0, vn0 := float64(t.PositiveVolume), float64(t.NegativeVolume)
	vp, vn := vp0-ap*x, vn0+an*x
	p1 := float64(t.Fill) + pa
	pn := pa
	if t.OldFill > 0 {
		pn = (float64(t.OldFill) + pa) * vp0 / vp * vn / vn0
	}
	plan := TopUpPlan{Carry: vn / (vp + vn)}

	// The number of cycles is known beforehand: the shortfall shrinks by β.
	miss := p1 - (p1*vp0+pn*vn0)/(vp+vn)*vp/vp0
	if !(math.Abs(miss)*math.Pow(plan.Carry, mostCycles-1) <= float64(t.Within)) {
		c.Fail("within", t.Within, "a limit that is reached in at most 1000 cycles", nil)
		return TopUpPlan{}, c.Err()
	}
	reading := t.OldFill
	for range mostCycles {
		if action := toward(reading, t.Fill); action != "" {
			plan.Steps = append(plan.Steps, TopUpStep{action, reading, t.Fill})
		}
		pe := (p1*vp0 + pn*vn0) / (vp + vn)
		pn = pe * vn / vn0
		reading = units.GaugePressure(pe*vp/vp0 - pa)
		plan.Reading = append(plan.Reading, reading)
		plan.NegativePressure = append(plan.NegativePressure, units.AbsolutePressure(pn))
		plan.Steps = append(plan.Steps, TopUpStep{Cycle, t.Fill, reading})
		if math.Abs(float64(t.Fill-reading)) <= float64(t.Within) {
			break
		}
	}
	plan.Cycles = len(plan.Reading)
	return plan, nil
}

// toward tells how to get from one reading to another.
func toward(from, to units.GaugePressure) TopUpAction {
	switch {
	case from < to:
		return Pump
	case from > to:
		return Release
	}
	return ""
}

func (t *TopUp) check(c *units.Checker) {
	bore := checkBore(c, t.Bore)
	checkShaft(c, t.Shaft, t.Bore, bore)
	positive := units.Between(c, "positive_volume", t.PositiveVolume, gas.MinVolume, gas.MaxVolume)
	units.Between(c, "negative_volume", t.NegativeVolume, gas.MinVolume, gas.MaxVolume)
	port := units.Between(c, "port_travel", t.PortTravel, 0, mostTravel)
	if sweep := area(t.Bore) * float64(t.PortTravel); bore && positive && port && !outlasts(float64(t.PositiveVolume), sweep) {
		c.Fail("positive_volume", t.PositiveVolume, more(sweep, "the way to the port"), units.ErrConflict)
	}
	units.Between(c, "old_fill", t.OldFill, 0, gas.MaxFill)
	gas.CheckFill(c, "fill", t.Fill)
	gas.CheckAmbient(c, t.Ambient)
	gas.CheckFill(c, "within", t.Within)
}
