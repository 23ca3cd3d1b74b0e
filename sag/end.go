package sag

import (
	"errors"
	"math"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/root"
	"example.com/wheelrate/units"
)

// End is one end of the bike as it stands: a spring behind a lever-ratio curve.
// [End.Under] says all that it does under a load. A law of the user's own takes
// the same path as those of this module.
//
// The methods return an error that names every bad field: a curve or a law that
// is missing, a law that [linkage.AtWheel] refuses, an exponent that is not from 1
// to 2 or does not go with Fast, a friction that is not from 0 to 1e12 N.
type End struct {
	Curve *linkage.Curve
	// Law is the spring standing still, its gas at the temperature around it. It
	// decides where the bike rests.
	Law spring.Law
	// Fast is the spring over a stroke too fast for its gas to exchange heat. It
	// decides what is felt and what is left. Nil for a spring without gas.
	Fast spring.Law
	// Exponent is by how much stiffer the spring is over a fast stroke about where
	// it rests: the gas's polytropic exponent, 1 to 2. It goes with Fast; 0 counts
	// as 1.
	Exponent float64
	// Friction is the dry friction at the spring in N; 0 gives no band.
	Friction units.Force
}

// AirEnd returns the end with an air spring behind a curve: standing still its gas
// has the temperature around it, over a fast stroke spec's exponent holds. The
// error is that of [airspring.New].
func AirEnd(curve *linkage.Curve, spec airspring.Spec) (End, error) {
	fast, err := airspring.New(spec)
	if err != nil {
		return End{}, err
	}
	exponent := spec.Exponent
	spec.Exponent = 1
	slow, err := airspring.New(spec)
	if err != nil {
		return End{}, err
	}
	return End{Curve: curve, Law: slow, Fast: fast, Exponent: exponent}, nil
}

// Rest is where an end of the bike comes to rest under a load.
type Rest struct {
	Travel units.Length `json:"travel"` // vertical travel of the wheel
	Stroke units.Length `json:"stroke"` // travel of the shock, or along the stanchion
	Sag    float64      `json:"sag"`    // Travel over the wheel's full travel

	// ShockSag is Stroke over the full stroke. It differs from Sag where the
	// lever ratio changes.
	ShockSag float64 `json:"shock_sag"`

	// TravelLow and TravelHigh bound where friction may hold the wheel: any
	// reading between them agrees with the prediction. Both equal Travel
	// where no friction was given.
	TravelLow  units.Length `json:"travel_low"`
	TravelHigh units.Length `json:"travel_high"`
	StrokeLow  units.Length `json:"stroke_low"`
	StrokeHigh units.Length `json:"stroke_high"`

	WheelRate  units.Stiffness `json:"wheel_rate"`  // dF/dw at Travel
	SpringRate units.Stiffness `json:"spring_rate"` // dF/ds at Stroke
	LeverRatio float64         `json:"lever_ratio"` // dw/ds at Stroke
	Frequency  units.Frequency `json:"frequency"`   // of small undamped bounce
}

// State is what an end of the bike does under a load.
type State struct {
	Load units.Force `json:"load"` // sprung load at the wheel
	Rest Rest        `json:"rest"` // standing still
	// Finding is held_at_top where the spring carries the load without any sag,
	// collapses where the load takes it to full travel; or empty.
	Finding Finding `json:"finding,omitempty"`
	// FastSpringRate, FastWheelRate and FastFrequency hold for a stroke about
	// the rest position too fast for the gas to exchange heat: the gas rate
	// there is the exponent times the slow one. For a coil they equal Rest's.
	FastSpringRate units.Stiffness `json:"fast_spring_rate"`
	FastWheelRate  units.Stiffness `json:"fast_wheel_rate"`
	FastFrequency  units.Frequency `json:"fast_frequency"`
	// MinWheelRate is the least wheel rate anywhere over the travel, standing
	// still, and MinRateTravel where it is; see [linkage.WheelLaw.MinRate].
	MinWheelRate  units.Stiffness `json:"min_wheel_rate"`
	MinRateTravel units.Length    `json:"min_rate_travel"`
	// TravelLeft and EnergyLeft are what is left from the rest position to full
	// travel, over a fast stroke.
	TravelLeft units.Length `json:"travel_left"`
	EnergyLeft units.Energy `json:"energy_left"`
	// Reserve is over the full travel, for a fast stroke; FullRatio is its
	// force over Load.
	Reserve   Reserve `json:"reserve"`
	FullRatio float64 `json:"full_ratio"`
}

// Under returns what an end does under a load: the sprung load at the wheel in N,
// finite and at least 1e-150. A load that tops or bottoms the end out is a
// finding, and the rest is then that end of the travel.
//
// Over a fast stroke about its rest a gas is n times as stiff as standing still,
// dF/dx = n·p·A²/V summed over its chambers, and the force is the same:
// FastSpringRate is that for a spring of gas alone.
//
// Not modelled: see [End.Settle].
func (e End) Under(load units.Force) (State, error) {
	c := units.Checker{Package: "sag"}
	checkCarried(&c, load)
	e.Check(&c)
	if err := c.Err(); err != nil {
		return State{}, err
	}
	rest, finding, err := e.settleWithin(load)
	if err != nil {
		return State{}, err
	}
	still := e.still()
	fast := still
	if e.Fast != nil {
		fast = e.fast()
	}
	s := State{Load: load, Rest: rest, Finding: finding}
	s.FastSpringRate = units.Stiffness(max(e.Exponent, 1)) * rest.SpringRate
	s.FastWheelRate = WheelRate(s.FastSpringRate, e.Law.Force(rest.Stroke), rest.LeverRatio, e.Curve.LeverRatioSlope(rest.Stroke))
	s.FastFrequency = Frequency(s.FastWheelRate, load)
	s.MinWheelRate, s.MinRateTravel = still.MinRate()
	s.Reserve = reserve(fast, load)
	s.FullRatio = float64(s.Reserve.FullForce / load)
	s.TravelLeft = fast.Travel() - rest.Travel
	s.EnergyLeft = s.Reserve.Energy - fast.Energy(rest.Travel)
	return s, nil
}

// Settle returns where an end comes to rest under a load: the sprung load at the
// wheel in N, finite and more than 0. It balances the wheel force
//
//	F_w(w) = F_s(s(w))/LR
//
// by virtual work. With a friction f at the spring the wheel may stop anywhere
// between the rest positions for spring forces F_s + f and F_s − f, cut off at
// the ends of the travel. The frequency is √(k_w·g₀/load)/2π.
//
// A load below the wheel force at full extension gives [spring.ErrToppedOut],
// one above that at full travel [spring.ErrBottomedOut].
//
// Where the lever ratio rises so fast that the wheel force falls as the travel
// grows, the wheel may rest at several travels under one load; one of them is
// returned, and the band of friction reaches it, but not all of the others.
// [linkage.WheelLaw.MinRate] finds such a curve.
//
// Not modelled: damping, seat and tyre compliance, friction that depends on
// load or position. There is no default friction: none has been published for
// these parts that could be trusted.
func (e End) Settle(load units.Force) (Rest, error) {
	c := units.Checker{Package: "sag"}
	units.Positive(&c, "load", load)
	e.Check(&c)
	if err := c.Err(); err != nil {
		return Rest{}, err
	}
	return e.settle(load)
}

// SettleWithin is [End.Settle] with a load out of the spring's range answered by
// the end of the travel that it pushes against, and a finding: held_at_top or
// collapses.
func (e End) SettleWithin(load units.Force) (Rest, Finding, error) {
	c := units.Checker{Package: "sag"}
	units.Positive(&c, "load", load)
	e.Check(&c)
	if err := c.Err(); err != nil {
		return Rest{}, "", err
	}
	return e.settleWithin(load)
}

// LoadAt returns the sprung load at the wheel in N that holds the shock at a
// stroke, F_s(s)/LR(s): what a measured stroke implies. The stroke is more than 0
// and less than the full stroke: at the ends of the travel the stops carry an
// unknown part of the load. A spring that pulls in at that stroke is refused too.
//
// From the load, [RequiredRate] and [RequiredFill] give what to fit instead.
func (e End) LoadAt(stroke units.Length) (units.Force, error) {
	c := units.Checker{Package: "sag"}
	if e.Check(&c); c.OK() {
		units.Inside(&c, "stroke", stroke, 0, e.stroke())
	}
	if err := c.Err(); err != nil {
		return 0, err
	}
	load := units.Force(float64(e.Law.Force(stroke)) / e.Curve.LeverRatio(stroke))
	if !(load > 0) {
		c.Fail("stroke", stroke, "a stroke at which this spring carries a load", units.ErrConflict)
		return 0, c.Err()
	}
	return load, nil
}

// Wheel returns the spring as laws at the wheel: standing still, and over a
// stroke too fast for its gas to exchange heat. For a spring without gas they are
// the same.
func (e End) Wheel() (still, fast *linkage.WheelLaw, err error) {
	c := units.Checker{Package: "sag"}
	if e.Check(&c); !c.OK() {
		return nil, nil, c.Err()
	}
	return e.still(), e.fast(), nil
}

// mostFriction is far above the friction of any spring, and far below what
// could overflow.
const mostFriction = 1e12 * units.Newton

// Check records what is wrong with an end.
func (e End) Check(c *units.Checker) {
	if e.Curve == nil {
		c.Fail("curve", nil, "a lever-ratio curve", units.ErrMissing)
	}
	checkLaw(c, "law", e.Curve, e.Law)
	if e.Fast != nil {
		checkLaw(c, "fast", e.Curve, e.Fast)
	}
	switch {
	case e.Exponent != 0:
		if units.Between(c, "exponent", e.Exponent, 1, 2) && e.Exponent > 1 && e.Fast == nil {
			c.Fail("fast", nil, "the spring over a fast stroke, since there is an exponent", units.ErrMissing)
		}
	case e.Fast != nil:
		c.Fail("exponent", nil, "the exponent of the fast stroke, from 1 to 2", units.ErrMissing)
	}
	CheckFriction(c, e.Friction)
}

// CheckFriction records a dry friction at the spring that is not from 0 to 1e12 N.
func CheckFriction(c *units.Checker, friction units.Force) {
	if units.NonNegative(c, "friction", friction) && friction > mostFriction {
		c.Fail("friction", friction, "a friction that some spring has", units.ErrRange)
	}
}

// checkLaw records what is wrong with a law behind a curve, which may be nil.
func checkLaw(c *units.Checker, field string, curve *linkage.Curve, law spring.Law) {
	if !linkage.CheckLaw(c, field, law) || curve == nil {
		return
	}
	if !(curve.TravelAt(min(law.Travel(), curve.Stroke())) > 0) { // less than float64 can tell
		c.Fail(field, nil, "a spring whose travel moves the wheel", nil)
	}
}

// still and fast are the laws at the wheel of an end that was found good.
func (e *End) still() *linkage.WheelLaw { return atWheel(e.Curve, e.Law) }

func (e *End) fast() *linkage.WheelLaw {
	if e.Fast == nil {
		return e.still()
	}
	return atWheel(e.Curve, e.Fast)
}

// atWheel is [linkage.AtWheel] for what is checked already.
func atWheel(curve *linkage.Curve, law spring.Law) *linkage.WheelLaw {
	wheel, _ := linkage.AtWheel(curve, law)
	return wheel
}

// stroke is how far the spring and the curve both go.
func (e *End) stroke() units.Length { return min(e.Law.Travel(), e.Curve.Stroke()) }

// settleTolerance is how near a rest position is found, as a fraction of the
// stroke.
const settleTolerance = 1e-13

// carries returns the stroke between from and to at which the spring, with a
// constant force at it added, carries a load at the wheel. The wheel force over
// the stroke rises wherever it does over the travel, and is cheaper to solve:
// the travel at a stroke takes no root.
func (e *End) carries(load, extra units.Force, from, to units.Length) (units.Length, error) {
	excess := func(s float64) float64 {
		at := units.Length(s)
		return float64(e.Law.Force(at)+extra)/e.Curve.LeverRatio(at) - float64(load)
	}
	s, err := root.Find(excess, float64(from), float64(to), settleTolerance*float64(to-from))
	switch {
	case err == nil:
		return units.Length(s), nil
	case errors.Is(err, root.ErrNoBracket) && excess(float64(from)) > 0:
		return from, spring.ErrToppedOut
	case errors.Is(err, root.ErrNoBracket):
		return to, spring.ErrBottomedOut
	case errors.Is(err, root.ErrJump):
		return from, spring.ErrJump
	}
	return from, spring.ErrLaw
}

// settle is Settle for what is checked already.
func (e *End) settle(load units.Force) (Rest, error) {
	s, err := e.carries(load, 0, 0, e.stroke())
	if err != nil {
		return Rest{}, err
	}
	return e.RestAt(s, load), nil
}

// settleWithin is SettleWithin for what is checked already.
func (e *End) settleWithin(load units.Force) (Rest, Finding, error) {
	s, err := e.carries(load, 0, 0, e.stroke())
	switch {
	case err == nil:
		return e.RestAt(s, load), "", nil
	case errors.Is(err, spring.ErrToppedOut):
		return e.restAt(s, load), HeldAtTop, nil
	case errors.Is(err, spring.ErrBottomedOut):
		return e.restAt(s, load), Collapses, nil
	}
	return Rest{}, "", err
}

// RestAt returns the rest at a stroke that is known to carry the load, and the
// band about it that friction allows. The end and the load must be good, and the
// stroke inside the spring's; it checks neither.
func (e End) RestAt(s units.Length, load units.Force) Rest {
	r := e.restAt(s, load)
	if e.Friction > 0 {
		// On either side of s by itself: where the wheel force falls, other
		// rests lie beyond. Past its ends the wheel does not go.
		r.StrokeLow, _ = e.carries(load, e.Friction, 0, s)
		r.StrokeHigh, _ = e.carries(load, -e.Friction, s, e.stroke())
		r.TravelLow, r.TravelHigh = e.Curve.TravelAt(r.StrokeLow), e.Curve.TravelAt(r.StrokeHigh)
	}
	return r
}

// restAt is RestAt with no band.
func (e *End) restAt(s units.Length, load units.Force) Rest {
	w := e.Curve.TravelAt(s)
	lr := e.Curve.LeverRatio(s)
	k := e.Law.Rate(s)
	r := Rest{
		Travel: w, Stroke: s,
		TravelLow: w, TravelHigh: w, StrokeLow: s, StrokeHigh: s,
		Sag:        float64(w / e.Curve.Travel()),
		ShockSag:   float64(s / e.Curve.Stroke()),
		SpringRate: k, LeverRatio: lr,
		WheelRate: WheelRate(k, e.Law.Force(s), lr, e.Curve.LeverRatioSlope(s)),
	}
	r.Frequency = Frequency(r.WheelRate, load)
	return r
}

// WheelRate returns k_w = k_s/LR² − F_s·LR′/LR³, from differentiating F_s(s)/LR(s)
// by w with dw = LR ds.
func WheelRate(k units.Stiffness, f units.Force, lr float64, slope units.RatioSlope) units.Stiffness {
	return units.Stiffness(float64(k)/(lr*lr) - float64(f)*float64(slope)/(lr*lr*lr))
}

// Frequency returns the undamped natural frequency of a load bouncing on a
// wheel rate: √(k_w·g₀/load)/2π in Hz, the load in N being the weight of the
// mass that bounces. It is 0 where rate or load is not more than 0 or not
// finite.
func Frequency(wheelRate units.Stiffness, load units.Force) units.Frequency {
	f := math.Sqrt(float64(wheelRate)*units.StandardGravity/float64(load)) / (2 * math.Pi)
	if !(wheelRate > 0) || !(load > 0) || !(f < math.MaxFloat64) {
		return 0
	}
	return units.Frequency(f)
}
