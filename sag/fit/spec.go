package fit

import (
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// Spec is one end of the bike with its target and what can be fitted to it. Exactly one of Coil, Air
// and Gauge is given.
type Spec struct {
	Curve    linkage.Spec `json:"curve"`
	Sag      float64      `json:"sag"`                // target sag, over the wheel's full travel, from a millionth to below 1
	Friction units.Force  `json:"friction,omitempty"` // dry friction at the spring; 0 gives no band
	// Reading is the standard uncertainty of a reading of the ring at the spring: a miss of less than
	// two of it can't be told from none. It is 0 if it is unknown. Package setup takes it from the
	// uncertainty of the job.
	Reading units.Length `json:"-"`
	Coil    *Shelf       `json:"coil,omitempty"`
	Air     *Chamber     `json:"air,omitempty"`
	Gauge   *Gauge       `json:"gauge,omitempty"`
}

// Options are the springs or the fills that one end can have. Make them with [New], which checks
// them. They never change, so that any number of goroutines may share them.
type Options struct {
	units.Opaque[Options]
	spec     Spec
	curve    *linkage.Curve
	measured *measured // of a Gauge
}

// New checks a spec and returns its options. An air spring without an Ambient has the one given,
// and one without a Travel the curve's stroke. What the spec points to, such as its shelf, must not
// be changed afterwards. The error names every bad field, such as coil.shelf[2].rate.
func New(spec Spec, ambient units.AbsolutePressure) (*Options, error) {
	c := units.Checker{Package: "sag"}
	curve, err := linkage.New(spec.Curve)
	c.Add("curve", err)
	return newOptions(&c, curve, spec, ambient)
}

// NewBehind is [New] with a curve in place of the spec's own, which is ignored.
func NewBehind(curve *linkage.Curve, spec Spec, ambient units.AbsolutePressure) (*Options, error) {
	c := units.Checker{Package: "sag"}
	sag.CheckCurve(&c, curve)
	return newOptions(&c, curve, spec, ambient)
}

func newOptions(c *units.Checker, curve *linkage.Curve, spec Spec, ambient units.AbsolutePressure) (*Options, error) {
	sag.CheckSag(c, spec.Sag)
	sag.CheckFriction(c, spec.Friction)
	units.NonNegative(c, "reading", spec.Reading)
	o := &Options{curve: curve}
	coil, air, gauge := spec.Coil != nil, spec.Air != nil, spec.Gauge != nil
	switch {
	case !coil && !air && !gauge:
		c.Fail("coil", nil, "a shelf of coil springs, or air or gauge instead", units.ErrMissing)
	case coil && air || coil && gauge || air && gauge:
		c.Fail("coil", nil, "one of coil, air and gauge", units.ErrConflict)
	case coil:
		own := c.Child("coil")
		if spec.Coil.Check(&own); own.OK() {
			spec.Coil = spec.Coil.compiled()
		}
	case gauge:
		spec.Gauge = spec.Gauge.filled(ambient, spec.Reading)
		own := c.Child("gauge")
		if spec.Gauge.Check(&own, curve); own.OK() && curve != nil {
			o.measured = spec.Gauge.measure(&own, curve)
		}
	default:
		air := *spec.Air // filled in without touching the caller's
		if air.Ambient == 0 {
			air.Ambient = ambient
		}
		if air.Travel == 0 && curve != nil {
			air.Travel = curve.Stroke()
		}
		spec.Air = &air
		own := c.Child("air")
		air.Check(&own)
		if curve != nil && air.Travel < curve.Stroke() {
			own.Fail("travel", air.Travel, units.AtLeast(curve.Stroke()).Of("stroke"), units.ErrConflict)
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	o.spec = spec
	return o, nil
}

// Spec returns the spec with its blanks filled in, and with the laws of springs in place of their specs.
func (o *Options) Spec() Spec { return o.spec }

// Curve returns the end's lever-ratio curve.
func (o *Options) Curve() *linkage.Curve { return o.curve }

// Choice is what to fit to one end of the bike: the first entry of Coil or of Air, or the fill of Gauge.
type Choice struct {
	Coil  *CoilAnswer  `json:"coil,omitempty"`
	Air   *AirAnswer   `json:"air,omitempty"`
	Gauge *GaugeAnswer `json:"gauge,omitempty"`

	end  sag.End
	load units.Force
}

// Choose returns what brings the end nearest to its target under a sprung load at the wheel in N,
// finite and at least 1e-150: the springs of the shelf, each with its preload, or the fills, each
// with its spacers, the best first. The error names every bad field: load, sag if more fill carries
// less at the target, and a spring of the shelf whose force overflows or that no preload makes carry
// the load.
//
// A spring or a fill is on target if its miss can't be told from none. What can be told apart is the
// largest of half a per cent of the travel, as sag is stated, of how far friction may hold the wheel
// from the rest to the side of the target, and of two standard uncertainties of the ring
// (Spec.Reading). An end that the load tops or bottoms out, or whose spring has less preload than
// the collar's least, is not on target.
//
// Coil springs that go solid come last. Of the others, those on target come first, ordered by how
// near their rate is to IdealRate; the rest follow, ordered by how far they miss the target. Of two
// that are alike in that, the one comes first that leaves more force, or else more compression, at
// full travel. Fills on target come first, ordered by how near they are to the wanted force at full
// travel; fills never exceed the marking.
func (o *Options) Choose(load units.Force) (Choice, error) {
	c := units.Checker{Package: "sag"}
	if o.curve == nil {
		c.Fail("curve", nil, "options made by New", units.ErrMissing)
	}
	if sag.CheckLoad(&c, load); !c.OK() {
		return Choice{}, c.Err()
	}
	choice := Choice{load: load}
	end := sag.End{Curve: o.curve, Friction: o.spec.Friction}
	t := o.spec.trial(o.curve)
	t.carry(load)
	switch {
	case o.spec.Coil != nil:
		choice.Coil, choice.end = o.spec.Coil.choose(&c, end, &t)
	case o.measured != nil:
		choice.Gauge, choice.end = o.measured.choose(&c, end, &t)
	default:
		choice.Air, choice.end = o.spec.Air.choose(&c, end, &t)
	}
	if err := c.Err(); err != nil {
		return Choice{}, err
	}
	return choice, nil
}

// End returns the end as recommended. It is the zero End for a choice that [Options.Choose] did not
// make, such as one read from JSON.
func (c *Choice) End() sag.End { return c.end }

// State returns what the recommended end does under the load it was chosen for, as [sag.End.Under]
// does. It is the zero State for a choice that [Options.Choose] did not make.
func (c *Choice) State() sag.State {
	if c.end.Curve == nil {
		return sag.State{}
	}
	if c.Gauge != nil {
		return c.end.StateAt(*c.Gauge.Rest, c.load)
	}
	return c.end.StateAt(c.AtRest().Rest, c.load)
}

// AtRest returns where the recommended end rests; nil for the zero Choice and for a [Gauge].
func (c *Choice) AtRest() *AtRest {
	if best := c.Spring(); best != nil {
		return &best.AtRest
	}
	if best := c.Fill(); best != nil {
		return &best.AtRest
	}
	return nil
}

// Spring returns the recommended spring; nil without a shelf.
func (c *Choice) Spring() *CoilCandidate {
	if c.Coil == nil || len(c.Coil.Candidates) == 0 {
		return nil
	}
	return &c.Coil.Candidates[0]
}

// Fill returns the recommended fill with its spacers; nil without an air spring.
func (c *Choice) Fill() *AirOption {
	if c.Air == nil || len(c.Air.Options) == 0 {
		return nil
	}
	return &c.Air.Options[0]
}

// Findings returns the findings about what is recommended; none for the zero Choice.
func (c *Choice) Findings() []sag.Finding {
	if best := c.AtRest(); best != nil {
		return best.Findings
	}
	if c.Gauge != nil {
		return c.Gauge.Findings
	}
	return nil
}
