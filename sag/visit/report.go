package visit

import (
	"example.com/wheelrate/sag"
	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Series is one end of the bike with a series of readings on it.
type Series struct {
	Setting  Setting     `json:"setting"`
	Load     units.Force `json:"load,omitempty"` // the predicted sprung load at the wheel; 0 if none is predicted
	Readings []Reading   `json:"readings"`       // from 1 to 1000
}

// CheckNumber records that there are too many readings, and reports whether there are not.
func CheckNumber(c *units.Checker, readings []Reading) bool {
	n := len(readings)
	if n > 1000 {
		c.Fail("readings", n, "at most 1000 readings", units.ErrRange)
	}
	return n <= 1000
}

// Report is what readings say about one end of the bike.
type Report struct {
	Predicted units.Force     `json:"predicted"` // the load that the readings are compared with; 0 for none
	Verdict   Verdict         `json:"verdict"`
	Estimate  Estimate        `json:"estimate"`
	Readings  []ReadingReport `json:"readings"` // in the order given
	// Explanations are what would explain the readings, each by itself, if the verdict is Unexplained or
	// Contradictory. The smallest relative change comes first, and those without one come last.
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

// Report returns what readings say about one end of the bike as it is set: the load that each
// implies ([Reading.ImpliedLoad]) and that all imply together, whether they agree with the predicted
// load, what to set for the target, and what would explain readings that do not agree.
//
// The verdict compares the predicted load, finite and 0 or more, with the loads that all readings agree
// with. The error names every bad field, such as setting.coil.rate or readings[2].error.
//
// Not modelled: a ring that slides on by its own momentum (include that in Reading.Error), and a gas
// that does not have the temperature of its surroundings.
func (m Series) Report() (*Report, error) {
	c := units.Checker{Package: "sag"}
	setting := c.Child("setting")
	e := m.Setting.end(&setting)
	return e.report(&c, m, "setting")
}

// report is Series.Report on an end whose faults the checker has. At is where the end is named.
func (e *end) report(c *units.Checker, m Series, at string) (*Report, error) {
	units.NonNegative(c, "load", m.Load)
	if len(m.Readings) == 0 {
		c.Fail("readings", nil, "one reading or more", units.ErrMissing)
	}
	a := &Report{Predicted: m.Load, Readings: e.readings(c, m.Readings), Explanations: []Explanation{}, Cautions: fit.Cautions(m.Setting.Gas(), m.Setting.Coil != nil)}
	if err := c.Err(); err != nil {
		return nil, err
	}
	for i := range a.Readings {
		a.Readings[i].Verdict = a.Readings[i].verdict(m.Load)
	}
	a.Estimate = estimate(a.Readings)
	a.Verdict = a.Estimate.verdict(m.Load)
	if a.Verdict == Unexplained || a.Verdict == Contradictory {
		a.Explanations = explain(e, m)
	}
	var err error
	if a.Correction, err = e.correction(sag.Target{Load: a.Estimate.Load, Sag: e.set.Sag}); err != nil {
		return nil, units.At(at, err)
	}
	return a, nil
}

// readings returns what readings imply on an end that need not be good, and records what is wrong with
// them. One that implies no load, as that does not change with the stroke, is wrong.
func (e *end) readings(c *units.Checker, list []Reading) (all []ReadingReport) {
	if !CheckNumber(c, list) {
		return nil
	}
	for i, r := range list {
		own := c.Element("readings", i)
		one := ReadingReport{Stroke: r.Stroke, ImpliedLoad: e.implied(&own, r)}
		if e.good && own.OK() {
			one.Sag, one.ShockSag = float64(e.Curve.TravelAt(r.Stroke)/e.Curve.Travel()), float64(r.Stroke/e.Curve.Stroke())
			if !(one.StandardError > 0) {
				own.Fail("stroke", r.Stroke, "a stroke at which the load changes with the stroke", units.ErrConflict)
			}
		}
		all = append(all, one)
	}
	return all
}
