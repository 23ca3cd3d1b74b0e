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
	// PullIn is how far the spring may be pulled in while air is let out: less than the PortTravel, and more than
	// where it stands once it was cycled at the new fill. 0 stands for three quarters of the way between the two.
	PullIn units.Length `json:"pull_in,omitempty"`
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
	Cycles           int                      `json:"cycles"`            // how many times the spring is cycled past its port, 1 or more
	Reading          []units.GaugePressure    `json:"reading"`           // after each cycle, at full extension, before the pressure is set again
	NegativePressure []units.AbsolutePressure `json:"negative_pressure"` // of the negative chamber after each cycle, at full extension
	// Carry is V_n/(V_p + V_n) at the port: the share of what is pumped in that goes into the negative
	// chamber, and the factor by which each cycle reduces the difference from the wanted fill.
	Carry  float64      `json:"carry"`
	PullIn units.Length `json:"pull_in,omitempty"` // how far the spring is pulled in at most; 0 where no air is let out
	Steps  []TopUpStep  `json:"steps"`             // in order
}

// TopUpAction is the action of one step.
type TopUpAction string

// The actions.
const (
	Pump    TopUpAction = "pump"    // add air at full extension
	Release TopUpAction = "release" // let air out, with no load on the spring
	Cycle   TopUpAction = "cycle"   // compress the spring slowly past the port and let it out again
)

// TopUpStep is one step and the reading of the gauge before and after it, where the spring then stands.
type TopUpStep struct {
	Action TopUpAction         `json:"action"`
	Before units.GaugePressure `json:"before"`
	After  units.GaugePressure `json:"after"`
	Stands units.Length        `json:"stands"` // after the step, from full extension; 0 where the fill is raised
	Text   string              `json:"text"`   // what to do, without the pressures
}

// PlanTopUp returns the steps that bring a spring to a fill. Setting the pressure changes the positive
// chamber alone. When the spring is then cycled slowly past its port, gas flows until both chambers
// have one pressure; the gauge then reads low after raising the fill and high after lowering it. Both
// are repeated until the reading is within the limit. Before each cycle the positive chamber is set to
// p₁ at full extension. With V_p0, V_n0 there and V_p, V_n at the port, the mass of the gas gives
//
//	p_e = (p₁·V_p0 + p_n·V_n0)/(V_p + V_n)
//	reading = p_e·V_p/V_p0 − p_a,  negative pressure after = p_e·V_n/V_n0
//
// Raising the fill, p₁ is fill + ambient, and every gauge is read at full extension. With
// β = V_n/(V_p + V_n) and a change of fill Δ of a spring that was cycled before, reading k is Δ·β^k
// off the wanted fill.
//
// Letting air out, the negative chamber is still full and pulls the spring in. With no load on it,
// short of the port, where both chambers are sealed, it stands at the travel x where
//
//	A_p·p_p − A_n·p_n' = A_s·p_a,  p_p = p₁·V_p0/(V_p0 − A_p·x),  p_n' = p_n·V_n0/(V_n0 + A_n·x)
//
// with A_p, A_s and A_n the areas of bore, shaft and the ring between, or at full extension where the
// left side is larger there. The gauge reads p_p − p_a. Less pressure would pull the spring past the
// port, so no more air is let out before a cycle than brings it to the stroke x_m of PullIn:
//
//	p₁ ≥ (V_p0 − A_p·x_m)/V_p0·[A_n·p_n·V_n0/(V_n0 + A_n·x_m) + A_s·p_a]/A_p
//
// Within that, p₁ is fill + ambient. Every step's gauge is then read where the spring stands, a little
// above the reading at full extension. With a port at full extension it may not be pulled in at all.
// Friction, which holds a spring back at first, and the gas that slips through an open port are not
// modelled: let air out slowly.
//
// Common practice agrees, without a source: a fork raised from 64.5 to 72 psi and cycled about an
// inch reads 1 to 2 psi low, a couple of rounds are enough, and a change of a couple of psi needs
// hardly any. The first says that β is from 2/15 to 4/15; a fork of 220 and 50 cm³ has 0.21.
//
// The gas is ideal and as warm as its surroundings. The check values are independent computations
// in 40 and 50 digits. The error names every bad field: positive_volume if the travel to the port
// sweeps the whole chamber, pull_in if the spring stands beyond it once it was cycled at the new fill.
// If more than 1000 cycles are needed it names within, or where PullIn makes them so many, pull_in, or
// the fill if none was given.
//
// Never raise the pressure above the marking on the part, and use a pump made for suspension.
func PlanTopUp(t TopUp) (TopUpPlan, error) {
	c := units.Checker{Package: "airspring"}
	t.check(&c)
	if err := c.Err(); err != nil {
		return TopUpPlan{}, err
	}
	s, lowers := t.sealed(t.OldFill), t.Fill < t.OldFill
	var plan TopUpPlan
	if lowers {
		if plan.PullIn = t.pullIn(&c); !c.OK() {
			return TopUpPlan{}, c.Err()
		}
	} else if t.OldFill == 0 {
		s.negative.pressure = float64(t.Ambient)
	}
	vp, vn := s.positive.volume*s.positive.left(float64(t.PortTravel)), s.negative.volume*s.negative.left(float64(t.PortTravel))
	plan.Carry = vn / (vp + vn)
	words := t.words()
	reading, held, wanted := t.OldFill, false, float64(t.Fill.Absolute(t.Ambient))
	shown := reading
	if lowers {
		shown = t.gauge(&s, reading, s.RestTravel())
	}
	// take adds a step, after which the positive chamber has a pressure at full extension.
	take := func(action TopUpAction, pressure float64) {
		s.positive.pressure, reading = pressure, units.AbsolutePressure(pressure).Gauge(t.Ambient)
		if pressure == wanted {
			reading = t.Fill // to the last digit
		}
		step := TopUpStep{Action: action, Before: shown, Text: words[action]}
		if lowers {
			step.Stands = min(s.RestTravel(), plan.PullIn) // but for rounding it is no farther
		}
		step.After = t.gauge(&s, reading, step.Stands)
		plan.Steps, shown = append(plan.Steps, step), step.After
	}
	const mostCycles = 1000
	for plan.Cycles < mostCycles {
		if reading < t.Fill {
			take(Pump, wanted)
		} else if reading > t.Fill {
			x := float64(plan.PullIn) // at which the spring stands, with no load on it, with the least pressure
			least := s.positive.left(x) * (s.negative.area*s.negative.at(x, 1) + s.outside) / s.positive.area
			held = least > wanted
			take(Release, max(least, wanted))
		}
		pe := (s.positive.pressure*s.positive.volume + s.negative.pressure*s.negative.volume) / (vp + vn)
		s.negative.pressure = pe * vn / s.negative.volume
		take(Cycle, pe*vp/s.positive.volume)
		plan.Cycles++
		plan.Reading = append(plan.Reading, reading)
		plan.NegativePressure = append(plan.NegativePressure, units.AbsolutePressure(s.negative.pressure))
		if math.Abs(float64(t.Fill-reading)) <= float64(t.Within) {
			return plan, nil
		}
	}
	switch {
	case !held:
		c.Fail("within", t.Within, "a limit that is reached in at most 1000 cycles", nil)
	case t.PullIn > 0:
		c.Fail("pull_in", t.PullIn, "a stroke with which the fill is reached in at most 1000 cycles", nil)
	default:
		c.Fail("fill", t.Fill, "a fill that is reached in at most 1000 cycles", nil)
	}
	return TopUpPlan{}, c.Err()
}

// sealed returns the spring up to its port, after cycling at a fill.
func (t *TopUp) sealed(fill units.GaugePressure) Spring {
	return newSpring(&Spec{
		Bore: t.Bore, Shaft: t.Shaft, Travel: t.PortTravel, PositiveVolume: t.PositiveVolume,
		NegativeVolume: t.NegativeVolume, PortTravel: t.PortTravel, Ambient: t.Ambient, Exponent: 1,
	}, float64(fill.Absolute(t.Ambient)))
}

// gauge returns what the gauge shows where a spring stands, whose reading at full extension is known.
func (t *TopUp) gauge(s *Spring, reading units.GaugePressure, stands units.Length) units.GaugePressure {
	if stands == 0 {
		return reading
	}
	return units.GaugePressure(s.PositivePressure(stands) - t.Ambient)
}

// pullIn returns how far the spring may be pulled in. Each cycle lowers the pressure, and the less of it
// there is, the nearer to the port the spring stands: at the last fill the nearest.
func (t *TopUp) pullIn(c *units.Checker) units.Length {
	cycled := t.sealed(t.Fill)
	rest := cycled.RestTravel()
	if t.PullIn == 0 {
		return rest + 0.75*(t.PortTravel-rest)
	}
	if !(t.PullIn > rest) {
		c.Fail("pull_in", t.PullIn, units.MoreThan(rest).With("where the spring stands once it was cycled at the fill"), units.ErrConflict)
	}
	return t.PullIn
}

// words are what to do in each action. An inch leads past most ports, but not all.
func (t *TopUp) words() map[TopUpAction]string {
	cycle := "unscrew the pump and cycle slowly about an inch"
	if t.PortTravel > 0.8*units.Inch {
		cycle = "unscrew the pump and cycle slowly"
	}
	return map[TopUpAction]string{
		Pump: "pump up", Release: "let air out slowly, with no load on the spring",
		Cycle: cycle + ", past the port at " + t.PortTravel.Both().Metric,
	}
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
	if units.Between(c, "pull_in", t.PullIn, 0, mostTravel) && t.PullIn > 0 && !c.Bad("port_travel") && !(t.PullIn < t.PortTravel) {
		c.Fail("pull_in", t.PullIn, units.LessThan(t.PortTravel).Of("port_travel"), units.ErrConflict)
	}
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
	return units.Checked(&c, pressure*units.GaugePressure(factor))
}
