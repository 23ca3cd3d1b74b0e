package fit

import (
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// Spec is one end of the bike with its target and what can be fitted to it.
// Exactly one of Coil and Air is given.
type Spec struct {
	Curve linkage.Spec `json:"curve"`
	// Sag is the target, as a fraction of the wheel's full travel; a millionth at
	// the least.
	Sag float64 `json:"sag"`
	// Friction is the dry friction at the spring, if known; 0 gives no band.
	Friction units.Force `json:"friction,omitempty"`
	Coil     *Shelf      `json:"coil,omitempty"`
	Air      *Chamber    `json:"air,omitempty"`
}

// Options are the springs or the fills that one end can have, checked and ready
// to be chosen from. They never change, so that any number of goroutines may
// share them. Make them with [New].
type Options struct {
	spec  Spec
	curve *linkage.Curve
}

// New checks an end and returns its options. An air spring that leaves its
// ambient out has the one given, and one that leaves its travel out the curve's
// stroke. What the spec points to, such as its shelf, must not be changed
// afterwards. The error names every bad field, such as coil.shelf[2].rate.
func New(spec Spec, ambient units.AbsolutePressure) (*Options, error) {
	c := units.Checker{Package: "sag"}
	curve, err := linkage.New(spec.Curve)
	c.Add("curve", err)
	sag.CheckSag(&c, spec.Sag)
	sag.CheckFriction(&c, spec.Friction)
	switch {
	case spec.Coil == nil && spec.Air == nil:
		c.Fail("coil", nil, "a shelf of coil springs, or air instead", units.ErrMissing)
	case spec.Coil != nil && spec.Air != nil:
		c.Fail("coil", nil, "either coil or air, not both", units.ErrConflict)
	case spec.Coil != nil:
		own := c.Child("coil")
		spec.Coil.Check(&own)
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
			own.Fail("travel", air.Travel, "the curve's stroke, "+curve.Stroke().String()+", or more", units.ErrConflict)
		}
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	return &Options{spec: spec, curve: curve}, nil
}

// Spec returns the spec with its blanks filled in.
func (o *Options) Spec() Spec { return o.spec }

// Curve returns the end's lever-ratio curve.
func (o *Options) Curve() *linkage.Curve { return o.curve }

// Choice is what to fit to one end of the bike. One of Coil and Air says it; its
// first entry is recommended.
type Choice struct {
	Coil *CoilAnswer `json:"coil,omitempty"`
	Air  *AirAnswer  `json:"air,omitempty"`

	end sag.End
}

// Choose returns what brings the end nearest to its target under a sprung load at
// the wheel in N, finite and more than 0: the springs of the shelf, each with its
// preload, or the fills, each with its spacers, best first.
//
// Coil springs are ranked: those that reach the end of the stroke before those
// that go solid, then those within half a per cent of travel of the target by
// least preload, then by how near they come. Fills never exceed the marking.
func (o *Options) Choose(load units.Force) (Choice, error) {
	target := sag.Target{Load: load, Sag: o.spec.Sag}
	choice := Choice{end: sag.End{Curve: o.curve, Friction: o.spec.Friction}}
	c := units.Checker{Package: "sag"}
	if target.Check(&c, o.curve); !c.OK() {
		return Choice{}, c.Err()
	}
	var err error
	if o.spec.Coil != nil {
		if choice.Coil, err = o.spec.Coil.choose(o.curve, target, o.spec.Friction); err != nil {
			return Choice{}, units.At("coil", err)
		}
		choice.end.Law = choice.Coil.Candidates[0].law
		return choice, nil
	}
	if choice.Air, err = o.spec.Air.choose(o.curve, target, o.spec.Friction); err != nil {
		return Choice{}, err
	}
	best := choice.Air.Options[0].trial
	choice.end.Law, choice.end.Fast, choice.end.Exponent = &best.Slow, &best.Fast, o.spec.Air.Exponent
	return choice, nil
}

// End returns the end as recommended, for [sag.End.Under] and its sisters; the
// zero End for a choice that [Options.Choose] did not make, such as one read from
// JSON.
func (c *Choice) End() sag.End { return c.end }

// Findings are those about what is recommended; none for the zero Choice.
func (c *Choice) Findings() []sag.Finding {
	switch {
	case c.Coil != nil && len(c.Coil.Candidates) > 0:
		return c.Coil.Candidates[0].Findings
	case c.Air != nil && len(c.Air.Options) > 0:
		return c.Air.Options[0].Findings
	}
	return nil
}
