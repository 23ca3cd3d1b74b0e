package coil

import (
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// Design is a coil found for a wanted rate.
type Design struct {
	Coil           Spec            `json:"coil"`             // with the coils and the wire found
	ExactCoils     float64         `json:"exact_coils"`      // active coils that give the rate to the last digit
	ExactWire      units.Length    `json:"exact_wire"`       // wire that does, of [WireForRate]; else the wire given
	Rate           units.Stiffness `json:"rate"`             // of the coil found
	Miss           float64         `json:"miss"`             // Rate over the rate wanted, less 1
	NextStockWires []units.Length  `json:"next_stock_wires"` // the stock sizes around ExactWire; empty where no stock was given
}

// CoilsForRate returns the coil of a wanted rate: the rate's formula solved for the active coils,
//
//	n = G·d⁴/(8·D³·k)
//
// and rounded to whole steps of a coil, 1 or 0.25 say, at least one step; a step of 0 leaves them
// exact. The rate is more than 0, the step 0 or from 0.001 to 1000; the spec is as for [New] but
// gives no coils, and no free length, which depends on them. The error names every bad field.
func CoilsForRate(spec Spec, rate units.Stiffness, step float64) (Design, error) {
	c := units.Checker{Package: "coil"}
	units.Positive(&c, "rate", rate)
	checkStep(&c, step)
	leftOut(&c, "active_coils", spec.ActiveCoils, "nothing: it is looked for")
	leftOut(&c, "total_coils", spec.TotalCoils, "nothing: it is looked for")
	leftOut(&c, "free_length", spec.FreeLength, "nothing: it depends on the coils")
	spec.ActiveCoils, spec.TotalCoils, spec.FreeLength = 1, 0, 0
	one := spec.spring(&c)
	exact := float64(one.Rate() / rate)
	spec.ActiveCoils = rounded(exact, step)
	return Design{Coil: spec, ExactCoils: exact, ExactWire: spec.WireDiameter}.finish(&c, rate)
}

// DiameterForRate returns the coil of a wanted rate from the wire and the coils at hand: the rate's
// formula solved for the mean diameter,
//
//	D = d·∛(G·d/(8·k·n))
//
// The rate is more than 0; the spec is as for [New] but gives no diameter beside the wire's. The
// error names every bad field, rate where the coil would be no wider than its wire or beyond all
// sense.
func DiameterForRate(spec Spec, rate units.Stiffness) (Design, error) {
	c := units.Checker{Package: "coil"}
	units.Positive(&c, "rate", rate)
	leftOut(&c, "mean_diameter", spec.MeanDiameter, "nothing: it is looked for")
	leftOut(&c, "outer_diameter", spec.OuterDiameter, "nothing: it is looked for")
	leftOut(&c, "inner_diameter", spec.InnerDiameter, "nothing: it is looked for")
	spec.MeanDiameter, spec.OuterDiameter, spec.InnerDiameter = maxLength, 0, 0
	wide := spec.spring(&c)
	spec.MeanDiameter = spec.WireDiameter * units.Length(math.Cbrt(wide.g*wide.d/(8*wide.n)/float64(rate)))
	return Design{Coil: spec, ExactCoils: wide.n, ExactWire: spec.WireDiameter}.finish(&c, rate)
}

// RateTarget is a rate to be met with wire from stock.
type RateTarget struct {
	Rate         units.Stiffness `json:"rate"`          // more than 0
	Index        float64         `json:"index"`         // D/d, more than 1 and at most 1000
	ActiveCoils  float64         `json:"active_coils"`  // about as many as wanted
	ShearModulus units.Stress    `json:"shear_modulus"` // of the wire
	Ends         Ends            `json:"ends,omitempty"`
	Stock        []units.Length  `json:"stock,omitempty"`     // wire diameters to choose from; none takes the exact one
	CoilStep     float64         `json:"coil_step,omitempty"` // as in [CoilsForRate]
}

// WireForRate returns the coil of a wanted rate and index: the rate's formula, with D = C·d, solved
// for the wire,
//
//	d = 8·k·C³·n/G
//
// then the nearest stock size, the thinner of two that are equally near, the mean diameter that keeps
// the index, and the coils that make up for the difference, rounded to whole steps. What rounding
// costs stands in Miss. The error names every bad field.
func WireForRate(t RateTarget) (Design, error) {
	c := units.Checker{Package: "coil"}
	units.Positive(&c, "rate", t.Rate)
	checkStep(&c, t.CoilStep)
	checkIndex(&c, t.Index)
	units.Between(&c, "active_coils", t.ActiveCoils, minCoils, maxCoils)
	units.Between(&c, "shear_modulus", t.ShearModulus, minModulus, maxModulus)
	t.Ends.check(&c)
	for i, d := range t.Stock {
		size := c.Element("stock", i)
		units.Between(&size, "", d, minWire, maxLength)
	}
	cube := t.Index * t.Index * t.Index
	exact := units.Length(8 * float64(t.Rate) * cube * t.ActiveCoils / float64(t.ShearModulus))
	if c.OK() && !(exact >= minWire && exact*units.Length(t.Index) <= maxLength) {
		c.Fail("rate", t.Rate, "a rate that some wire gives at this index", units.ErrConflict)
	}
	d := Design{ExactWire: exact, NextStockWires: around(t.Stock, exact)}
	wire := exact
	for i, size := range d.NextStockWires { // thinner, thicker
		if i == 0 || size-exact < exact-wire {
			wire = size
		}
	}
	d.ExactCoils = float64(t.ShearModulus) * float64(wire) / (8 * cube * float64(t.Rate))
	d.Coil = Spec{
		WireDiameter: wire, MeanDiameter: wire * units.Length(t.Index), Ends: t.Ends, ShearModulus: t.ShearModulus,
		ActiveCoils: rounded(d.ExactCoils, t.CoilStep),
	}
	return d.finish(&c, t.Rate)
}

// WireForLoad returns the wire that bears a load at a stress in a coil of a given index: the stress
// by Bergsträsser's factor K solved for the wire, with D = C·d,
//
//	d = √(8·K·F·C/(π·τ))
//
// The load is more than 0, the index more than 1 and at most 1000, the stress the greatest that is
// allowed. The error names every bad field, load where no wire from 1 µm to 1 km would do.
func WireForLoad(load units.Force, index float64, stress units.Stress) (units.Length, error) {
	c := units.Checker{Package: "coil"}
	units.Positive(&c, "load", load)
	checkIndex(&c, index)
	units.Between(&c, "stress", stress, minModulus, maxModulus)
	wire := units.Length(math.Sqrt(8 * bergstrasser(index) * index / math.Pi * float64(load) / float64(stress)))
	if c.OK() && !(wire >= minWire && wire*units.Length(index) <= maxLength) {
		c.Fail("load", load, "a load that some wire bears at this stress", units.ErrConflict)
	}
	return units.Checked(&c, wire)
}

// leftOut checks that a field is not given.
func leftOut[Q ~float64](c *units.Checker, field string, value Q, want string) {
	if value != 0 {
		c.Fail(field, value, want, units.ErrConflict)
	}
}

// checkIndex and checkStep check a spring index and a step of coils.
func checkIndex(c *units.Checker, index float64) {
	if !(index > 1 && index <= 1000) {
		c.Fail("index", index, "more than 1 and at most 1000", units.ErrRange)
	}
}

func checkStep(c *units.Checker, step float64) {
	if step != 0 && !(step >= 1e-3 && step <= 1e3) {
		c.Fail("coil_step", step, "0, or from 0.001 to 1000", units.ErrRange)
	}
}

// rounded returns coils in whole steps, at least one; exact ones where step is 0.
func rounded(coils, step float64) float64 {
	if step > 0 {
		return max(1, math.Round(coils/step)) * step
	}
	return coils
}

// finish returns the design, unless c has found something bad or no sensible coil gives the rate.
func (d Design) finish(c *units.Checker, rate units.Stiffness) (Design, error) {
	if !c.OK() {
		return Design{}, c.Err()
	}
	s, err := New(d.Coil)
	if err != nil {
		c.Fail("rate", rate, "a rate that a coil of sensible size gives", units.ErrConflict)
		return Design{}, c.Err()
	}
	d.Rate, d.Miss = s.Rate(), float64(s.Rate()/rate)-1
	return d, nil
}

// around returns the stock sizes next to a wire: the greatest that is not thicker and the least that
// is not thinner, once if they are one.
func around(stock []units.Length, wire units.Length) []units.Length {
	sizes := slices.Sorted(slices.Values(stock))
	i, found := slices.BinarySearch(sizes, wire)
	if found {
		return sizes[i : i+1]
	}
	return sizes[max(i-1, 0):min(i+1, len(sizes))]
}
