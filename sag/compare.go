package sag

import (
	"fmt"
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Contender is one of the springs that are compared.
type Contender struct {
	Name string // the user's own, each once
	// Slow is the spring standing still, its gas at the temperature around it;
	// it decides where the bike rests.
	Slow spring.Law
	// Fast is the spring over a stroke too fast for its gas to exchange heat;
	// it decides what is felt and what is left. Nil for a spring without gas.
	Fast spring.Law
	// Exponent is by how much stiffer the spring is over a fast stroke about
	// where it rests: the gas's polytropic exponent, 1 to 2. It goes with Fast:
	// both are given, or neither (0 counts as 1, for no gas).
	Exponent float64
}

// AirContender makes a contender of an air spring: standing still its gas has
// the temperature around it, over a fast stroke spec's exponent holds. The
// error is that of [airspring.New].
func AirContender(name string, spec airspring.Spec) (Contender, error) {
	fast, err := airspring.New(spec)
	if err != nil {
		return Contender{}, err
	}
	exponent := spec.Exponent
	spec.Exponent = 1
	slow, err := airspring.New(spec)
	if err != nil {
		return Contender{}, err
	}
	return Contender{Name: name, Slow: slow, Fast: fast, Exponent: exponent}, nil
}

// Comparison is what several springs do on one axle, side by side.
type Comparison struct {
	Travel []units.Length `json:"travel"` // of the wheel, even steps from 0 to full travel
	// Springs are in the order they were given; differences are against the
	// first of them.
	Springs []Compared `json:"springs"`
}

// Compared is one spring of a comparison.
type Compared struct {
	Name string `json:"name"`
	// Finding is held_at_top where the spring carries the load without any
	// sag, collapses where the load takes it to full travel; or empty.
	Finding Finding `json:"finding,omitempty"`
	Rest    Rest    `json:"rest"` // standing still
	// FastWheelRate and FastFrequency are those at the rest position over a
	// fast stroke, and Reserve and FullRatio those of one from full extension.
	FastWheelRate units.Stiffness `json:"fast_wheel_rate"`
	FastFrequency units.Frequency `json:"fast_frequency"`
	Reserve       Reserve         `json:"reserve"`
	FullRatio     float64         `json:"full_ratio"` // Reserve.FullForce over the load
	EnergyLeft    units.Energy    `json:"energy_left"`
	// Ends is the wheel's travel at which the spring itself ends, such as
	// where it goes solid; the full travel if it goes all the way.
	Ends units.Length `json:"ends"`
	// Against the first spring: SagDifference of the wheel's full travel, the
	// others relative, 0.1 for a tenth more.
	SagDifference       float64 `json:"sag_difference"`
	FullForceDifference float64 `json:"full_force_difference"`
	FrequencyDifference float64 `json:"frequency_difference"` // of FastFrequency
	// At each travel of the comparison, over a fast stroke; beyond where the
	// spring ends they stay as they are there.
	Force  []units.Force     `json:"force"`
	Rate   []units.Stiffness `json:"rate"`
	Energy []units.Energy    `json:"energy"`
}

// mostContenders is far more than anybody looks at side by side, and few enough
// that comparing them takes no noticeable time.
const mostContenders = 100

// Compare puts 2 to 100 springs behind one curve, under one sprung load at
// the wheel, and tells side by side where they let the bike rest, what its rate
// and frequency are there, and how force, rate and stored energy go over the
// travel: coil against air, above all. n is at how many travels, evenly spaced
// from none to all of it, 2 to 1000.
//
// The load in N is finite and at least 1e-150, names are not empty and each is
// used once, every contender has a law that answers as [linkage.AtWheel] wants,
// exponents are from 1 to 2, and a fast law comes with its exponent; the error
// names every field that is not so, such as springs[1].slow. A spring that the
// load tops or bottoms out is told as that, beside the others.
//
// Over a fast stroke about its rest a gas is n times as stiff as standing
// still, dF/dx = n·p·A²/V summed over its chambers, and the force is the same:
// FastWheelRate is that for a spring of gas alone.
//
// Not modelled: friction, damping, the tyre; see [Settle] for the band that
// friction allows.
func Compare(curve *linkage.Curve, load units.Force, springs []Contender, n int) (*Comparison, error) {
	c := units.Checker{Package: "sag"}
	if curve == nil {
		c.Fail("curve", nil, "a lever-ratio curve", units.ErrMissing)
	}
	if units.Positive(&c, "load", load) && load < leastLoad {
		c.Fail("load", load, "a load that some wheel carries", units.ErrRange)
	}
	if n < 2 || n > 1000 {
		c.Fail("n", n, "from 2 to 1000 steps", nil)
	}
	switch few := len(springs); {
	case few < 2:
		c.Fail("springs", few, "two springs or more", units.ErrMissing)
	case few > mostContenders:
		c.Fail("springs", few, fmt.Sprintf("at most %d springs", mostContenders), nil)
		springs = nil
	}
	seen := make(map[string]bool, len(springs))
	wheels := make([]*linkage.WheelLaw, len(springs)) // over a fast stroke
	for i, s := range springs {
		if s.Name == "" || seen[s.Name] {
			c.Fail(fmt.Sprintf("springs[%d].name", i), s.Name, "a name of its own", units.ErrConflict)
		}
		seen[s.Name] = true
		wheels[i] = behind(&c, curve, fmt.Sprintf("springs[%d].slow", i), s.Slow)
		if s.Fast != nil {
			wheels[i] = behind(&c, curve, fmt.Sprintf("springs[%d].fast", i), s.Fast)
		}
		field := fmt.Sprintf("springs[%d].exponent", i)
		switch {
		case s.Exponent != 0:
			if units.Between(&c, field, s.Exponent, 1, 2) && s.Exponent > 1 && s.Fast == nil {
				c.Fail(fmt.Sprintf("springs[%d].fast", i), nil, "the spring over a fast stroke, since there is an exponent", units.ErrMissing)
			}
		case s.Fast != nil:
			c.Fail(field, nil, "the exponent of the fast stroke, from 1 to 2", units.ErrMissing)
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	out := &Comparison{Springs: make([]Compared, len(springs))}
	for i := range n {
		out.Travel = append(out.Travel, curve.Travel()*units.Length(i)/units.Length(n-1))
	}
	for i, s := range springs {
		if s.Fast == nil {
			s.Fast = s.Slow
		}
		one, err := contend(curve, load, s, wheels[i])
		if err != nil {
			c.Add(fmt.Sprintf("springs[%d]", i), err)
			continue
		}
		one.sample(out.Travel, wheels[i])
		out.Springs[i] = one
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	first := &out.Springs[0]
	for i := range out.Springs {
		s := &out.Springs[i]
		s.SagDifference = s.Rest.Sag - first.Rest.Sag
		s.FullForceDifference = more(float64(s.Reserve.FullForce), float64(first.Reserve.FullForce))
		s.FrequencyDifference = more(float64(s.FastFrequency), float64(first.FastFrequency))
	}
	return out, nil
}

// leastLoad is far below the load of any wheel, and far enough above 0 that
// nothing a law can answer overflows when it is divided by it.
const leastLoad = 1e-150 * units.Newton

// behind joins a law to the curve, and says what is wrong with the law under
// the name that it has in the comparison.
func behind(c *units.Checker, curve *linkage.Curve, field string, law spring.Law) *linkage.WheelLaw {
	var one units.Checker
	wheel := atWheel(&one, curve, law)
	for _, f := range units.Fields(one.Err()) {
		switch {
		case f.Field != "curve":
			c.Fail(field, nil, f.Want, f.Class)
		case !c.Bad("curve"): // told once for all
			c.Fail("curve", nil, f.Want, f.Class)
		}
	}
	return wheel
}

// more is by which part a exceeds b; 0 where that can't be said.
func more(a, b float64) float64 {
	if r := a/b - 1; b > 0 && !math.IsInf(r, 0) {
		return r
	}
	return 0
}

// contend works out one spring of a comparison.
func contend(curve *linkage.Curve, load units.Force, s Contender, fast *linkage.WheelLaw) (Compared, error) {
	rest, finding, err := settleAnywhere(curve, s.Slow, load, 0)
	if err != nil {
		return Compared{}, err
	}
	reserve, err := NewReserve(curve, s.Fast, load)
	if err != nil {
		return Compared{}, err
	}
	at := Compared{Name: s.Name, Finding: finding, Rest: rest, Reserve: reserve, FullRatio: float64(reserve.FullForce / load), Ends: fast.Travel()}
	k := s.Slow.Rate(rest.Stroke) * units.Stiffness(max(s.Exponent, 1))
	at.FastWheelRate = wheelRate(k, s.Slow.Force(rest.Stroke), rest.LeverRatio, curve.LeverRatioSlope(rest.Stroke))
	at.FastFrequency = Frequency(at.FastWheelRate, load)
	at.EnergyLeft = fast.Energy(fast.Travel()) - fast.Energy(rest.Travel)
	return at, nil
}

// sample fills in force, rate and energy at each travel.
func (s *Compared) sample(travel []units.Length, wheel *linkage.WheelLaw) {
	for _, w := range travel {
		s.Force = append(s.Force, wheel.Force(w))
		s.Rate = append(s.Rate, wheel.Rate(w))
		s.Energy = append(s.Energy, wheel.Energy(w))
	}
}
