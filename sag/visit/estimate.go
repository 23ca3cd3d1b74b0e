package visit

import (
	"math"
	"slices"

	"example.com/wheelrate/units"
)

// Estimate is the sprung load at the wheel that all readings of a series together imply.
type Estimate struct {
	Count int `json:"count"` // of readings
	// Load is the mean of the implied loads with the weights 1/u², where u is the standard error of
	// each (least squares).
	Load units.Force `json:"load"`
	// StatedError is the standard error of Load that follows from the stated errors of the readings,
	// 1/√Σ(1/u²). It does not include friction, which may act the same way in all readings.
	StatedError units.Force `json:"stated_error"`
	// ScatterError is the standard error of Load that follows from the scatter of n readings,
	// StatedError·√(χ²/(n − 1)) with χ² = Σ(residual/u)²; 0 for a single reading. If it is much
	// larger than StatedError, the readings are worse than stated, or friction holds them apart.
	ScatterError units.Force `json:"scatter_error"`
	// LoadBounds are the loads that every reading agrees with. If a lower bound is above its upper
	// one, there is no such load.
	LoadBounds
}

// estimate returns the estimate from one or more readings with standard errors above 0, and sets
// their residuals and outliers.
func estimate(readings []ReadingReport) Estimate {
	e := Estimate{Count: len(readings)}
	e.ErrorHigh, e.High = units.Force(math.Inf(1)), units.Force(math.Inf(1))
	least := units.Force(math.Inf(1)) // the unit of the errors in the weights, so that no sum overflows or is 0
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
