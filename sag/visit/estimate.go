package visit

import (
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// Estimate is what a series of readings implies of the sprung load at the wheel.
type Estimate struct {
	Count int `json:"count"`
	// Load is the mean of the implied loads, weighted by 1/u² of their standard errors u (least
	// squares).
	Load units.Force `json:"load"`
	// StatedError is the standard error of Load from the stated errors of the readings, 1/√Σ(1/u²),
	// and ScatterError that from their scatter, StatedError·√(χ²/(n − 1)) with χ² = Σ(residual/u)²,
	// 0 for a single reading. If the second is much the larger, the readings are worse than stated,
	// or friction holds them apart. Neither includes friction, which may always pull one way.
	StatedError  units.Force `json:"stated_error"`
	ScatterError units.Force `json:"scatter_error"`
	// LoadBounds are the overlap of those of all readings: no load, if a low one is above the high.
	LoadBounds
}

// estimate returns the estimate from one or more readings with standard errors above 0, and fills
// in their residuals and which are outliers.
func estimate(readings []ReadingReport) Estimate {
	e := Estimate{Count: len(readings)}
	e.ErrorHigh, e.High = units.Force(math.Inf(1)), units.Force(math.Inf(1))
	least := units.Force(math.Inf(1)) // taken out of the weights, which neither overflow nor vanish then
	for _, r := range readings {
		least = min(least, r.StandardError)
	}
	var loads []units.Force
	sum, mean := 0.0, 0.0
	for _, r := range readings {
		loads = append(loads, r.Load)
		w := math.Pow(float64(least/r.StandardError), 2)
		sum += w
		mean += w * float64(r.Load-readings[0].Load)
		e.ErrorLow, e.ErrorHigh = max(e.ErrorLow, r.ErrorLow), min(e.ErrorHigh, r.ErrorHigh)
		e.Low, e.High = max(e.Low, r.Low), min(e.High, r.High)
	}
	e.Load = readings[0].Load + units.Force(mean/sum)
	e.StatedError = least / units.Force(math.Sqrt(sum))
	middle, chi2 := median(loads), 0.0
	for i := range readings {
		r := &readings[i]
		r.Residual = r.Load - e.Load
		r.Outlier = len(readings) > 2 && !(middle >= r.Low && middle <= r.High)
		chi2 += math.Pow(float64(r.Residual/r.StandardError), 2)
	}
	if n := len(readings); n > 1 {
		e.ScatterError = e.StatedError * units.Force(math.Sqrt(chi2/float64(n-1)))
	}
	return e
}

// median returns the median of a list, which it sorts.
func median(loads []units.Force) units.Force {
	slices.Sort(loads)
	n := len(loads)
	return loads[(n-1)/2] + (loads[n/2]-loads[(n-1)/2])/2
}
