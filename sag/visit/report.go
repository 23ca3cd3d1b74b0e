package visit

import (
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Series is one end of the bike with a series of readings on it.
type Series struct {
	Setting  Setting     `json:"setting"`
	Load     units.Force `json:"load,omitempty"` // sprung, at the wheel, as predicted; 0 for none
	Readings []Reading   `json:"readings"`       // from 1 to 1000
}

// checkNumber records readings that are too many to be looked through, and reports whether they are
// not.
func checkNumber(c *units.Checker, readings []Reading) bool {
	n := len(readings)
	if n > 1000 {
		c.Fail("readings", n, "at most 1000 readings", units.ErrRange)
	}
	return n <= 1000
}

// Report is what readings say about one end of the bike.
type Report struct {
	Predicted units.Force     `json:"predicted"` // the load that they are compared with; 0 for none
	Verdict   Verdict         `json:"verdict"`
	Estimate  Estimate        `json:"estimate"`
	Readings  []ReadingReport `json:"readings"` // in the order given
	// Explanations are what would explain the readings, each by itself, for a verdict of
	// Unexplained or Contradictory, the smallest relative change first; empty otherwise.
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
	Residual units.Force `json:"residual"` // Load less the mean of all readings
	// Outlier reports whether the median of three or more implied loads lies outside this reading's
	// Low and High. The reading still counts in the mean.
	Outlier bool `json:"outlier"`
}

// Report returns what ring readings say about one end of the bike as it is set: the load that each
// implies ([Reading.ImpliedLoad]) and all together do, whether that agrees with the predicted load,
// what to set for the target, and what would explain readings that do not agree.
//
// The verdict compares the predicted load, finite and 0 or more, with the loads that all readings
// agree with. The error names every bad field, such as setting.coil.rate or readings[2].error.
//
// Not modelled: a rider who does not stand still, a tilted floor, a ring that slid on by its own
// momentum (put it in Reading.Error), and a gas that is not as warm as its surroundings.
func (m Series) Report() (*Report, error) {
	c := units.Checker{Package: "sag"}
	setting := c.Child("setting")
	e := m.Setting.end(&setting)
	units.NonNegative(&c, "load", m.Load)
	if len(m.Readings) == 0 {
		c.Fail("readings", nil, "one reading or more", units.ErrMissing)
	}
	if !checkNumber(&c, m.Readings) {
		return nil, c.Err()
	}
	a := &Report{Predicted: m.Load, Explanations: []Explanation{}, Cautions: fit.Cautions(m.Setting.Air != nil, m.Setting.Coil != nil)}
	for i, r := range m.Readings {
		own := c.Element("readings", i)
		one := ReadingReport{Stroke: r.Stroke, ImpliedLoad: e.implied(&own, r)}
		if c.OK() {
			one.Verdict = one.verdict(m.Load)
			one.Sag, one.ShockSag = float64(e.Curve.TravelAt(r.Stroke)/e.Curve.Travel()), float64(r.Stroke/e.Curve.Stroke())
		}
		a.Readings = append(a.Readings, one)
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	a.Estimate = estimate(a.Readings)
	a.Verdict = a.Estimate.verdict(m.Load)
	if a.Verdict == Unexplained || a.Verdict == Contradictory {
		a.Explanations = explain(e, m)
	}
	var err error
	if a.Correction, err = e.correction(a.Estimate.Load); err != nil {
		return nil, units.At("setting", err)
	}
	return a, nil
}

// implied returns what a reading implies, and records one from which no load can be told.
func (e *end) implied(c *units.Checker, r Reading) ImpliedLoad {
	i := r.implied(c, e.End, e.good)
	if e.good && c.OK() && !(i.StandardError > 0) {
		c.Fail("stroke", r.Stroke, "a stroke at which the load changes with the stroke", units.ErrConflict)
	}
	return i
}
