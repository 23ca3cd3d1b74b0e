package visit

import (
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Report is what readings say about one end of the bike.
type Report struct {
	Predicted units.Force     `json:"predicted"` // the load that the readings are compared with; 0 for none
	Verdict   Verdict         `json:"verdict"`
	Estimate  Estimate        `json:"estimate"`
	Readings  []ReadingReport `json:"readings"` // in the order given
	// Explanations are what would explain the readings, each by itself, if the verdict is Unexplained, or
	// Contradictory with a predicted load. The smallest relative change comes first, and those without one come last.
	Explanations []Explanation `json:"explanations"`
	Correction   Correction    `json:"correction"` // for the target under the estimated load
	Cautions     []fit.Caution `json:"cautions"`
}

// ReadingReport is one reading and what it implies.
type ReadingReport struct {
	Stroke   units.Length `json:"stroke"`
	Sag      float64      `json:"sag"`       // of the wheel, as a fraction of its full travel
	ShockSag float64      `json:"shock_sag"` // Stroke over the full stroke
	ImpliedLoad
	Verdict  Verdict     `json:"verdict"`  // of this reading alone
	Residual units.Force `json:"residual"` // Load less the load of the estimate
	// Outlier reports whether, of three readings or more, the median of the implied loads is below Low or
	// above High of this one. An outlier counts in the estimate as any other reading.
	Outlier bool `json:"outlier"`
}

// Report returns what from 1 to 1000 readings say about the end: the load that each
// implies ([Reading.ImpliedLoad]) and that all imply together, whether they agree with the predicted
// load, what to set for the target, and what would explain readings that do not agree.
//
// The verdict compares the predicted load, finite and 0 or more, with the loads that all readings agree
// with. The error names every bad field, such as readings[2].error.
//
// Not modelled: a ring that slides on by its own momentum (include that in Reading.Error), and a gas
// that does not have the temperature of its surroundings.
func (e *Assembly) Report(load units.Force, readings []Reading) (*Report, error) {
	c := units.Checker{Package: "sag"}
	units.NonNegative(&c, "load", load)
	if len(readings) == 0 {
		c.Fail("readings", nil, "one reading or more", units.ErrMissing)
	}
	a := &Report{Predicted: load, Readings: e.readings(&c, readings), Explanations: []Explanation{}, Cautions: fit.Cautions(e.set.Gas(), e.set.Coil != nil)}
	if err := c.Err(); err != nil {
		return nil, err
	}
	for i := range a.Readings {
		a.Readings[i].Verdict = a.Readings[i].verdict(load)
	}
	a.Estimate = estimate(a.Readings)
	a.Verdict = a.Estimate.verdict(load)
	if load > 0 && (a.Verdict == Unexplained || a.Verdict == Contradictory) {
		a.Explanations = e.explain(load, readings)
	}
	var err error
	if a.Correction, err = e.Correction(sag.Target{Load: a.Estimate.Load, Sag: e.set.Sag}); err != nil {
		return nil, err
	}
	return a, nil
}

// readings returns what readings imply on an end, nil if that has faults, and records what is wrong with
// them. One that implies no load, as that does not change with the stroke, is wrong.
func (e *Assembly) readings(c *units.Checker, list []Reading) (all []ReadingReport) {
	if n := len(list); n > 1000 {
		c.Fail("readings", n, units.AtMost(1000).Count("readings"), units.ErrRange)
		return nil
	}
	for i, r := range list {
		own := c.Element("readings", i)
		one := ReadingReport{Stroke: r.Stroke, ImpliedLoad: e.implied(&own, r)}
		if e != nil && own.OK() {
			one.Sag, one.ShockSag = float64(e.end.Curve.TravelAt(r.Stroke)/e.end.Curve.Travel()), float64(r.Stroke/e.end.Curve.Stroke())
			if !(one.StandardError > 0) {
				own.Fail("stroke", r.Stroke, "a stroke at which the load changes with the stroke", units.ErrConflict)
			}
		}
		all = append(all, one)
	}
	return all
}
