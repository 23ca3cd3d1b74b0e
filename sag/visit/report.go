package visit

import (
	"fmt"

	"example.com/wheelrate/sag/fit"
	"example.com/wheelrate/units"
)

// Series is one end of the bike with a series of readings on it.
type Series struct {
	Setting Setting `json:"setting"`
	// Load is the sprung load at the wheel that was predicted, such as that of [sag.Masses.Loads];
	// 0 where none was.
	Load     units.Force `json:"load,omitempty"`
	Readings []Reading   `json:"readings"` // from 1 to 1000
}

// maxReadings bounds the work of a hostile input.
const maxReadings = 1000

// checkNumber records a series that is too long to be looked through, and reports whether it is
// not.
func checkNumber(c *units.Checker, readings []Reading) bool {
	n := len(readings)
	if n > maxReadings {
		c.Fail("readings", n, fmt.Sprintf("at most %d readings", maxReadings), units.ErrRange)
	}
	return n <= maxReadings
}

// Report is what readings say about one end of the bike.
type Report struct {
	// Predicted is the load they were compared with; 0 where there was none.
	Predicted units.Force `json:"predicted"`
	Verdict   Verdict     `json:"verdict"`
	Estimate  Estimate    `json:"estimate"`
	// Readings are in the order given.
	Readings []ReadingReport `json:"readings"`
	// Explanations are what would explain the readings, each by itself, for a verdict of
	// Unexplained or Contradictory; empty otherwise. Those that need the smallest relative change
	// come first.
	Explanations []Explanation `json:"explanations"`
	// Correction is what to set for the target under the estimated load.
	Correction Correction    `json:"correction"`
	Cautions   []fit.Caution `json:"cautions"`
}

// ReadingReport is one reading and what it implies.
type ReadingReport struct {
	Stroke   units.Length `json:"stroke"`
	Sag      float64      `json:"sag"`       // of the wheel, as a fraction of its full travel
	ShockSag float64      `json:"shock_sag"` // Stroke over the full stroke
	ImpliedLoad
	Verdict  Verdict     `json:"verdict"`  // of this reading alone
	Residual units.Force `json:"residual"` // Load less the mean of all readings
	// Outlier reports whether the median of all implied loads lies outside this reading's Low and
	// High. The reading still counts in the mean: leaving it out is for the user to decide. It is
	// false with fewer than three readings.
	Outlier bool `json:"outlier"`
}

// Report returns what ring readings say about one end of the bike as it is set: the load that each
// implies ([Reading.ImpliedLoad]) and all together do, whether that agrees with the predicted load,
// what to set for the target, and where the load does not agree, what would explain the readings.
//
// The verdict compares the predicted load with the loads that all readings agree with. Readings
// must be more than 0 and the whole of their error inside the stroke, which a coil spring that
// binds early ends early; see [Reading.ImpliedLoad]. The predicted load must be finite and 0 or
// more. The error names every bad field, such as setting.coil.rate or readings[2].error.
//
// Not modelled: a rider who does not stand still, a tilted floor, a ring that slid on by its own
// momentum (put it in Reading.Error), and a temperature of the gas other than that around it.
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
