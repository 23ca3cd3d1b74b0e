package linkage

import (
	"fmt"
	"math"

	"example.com/wheelrate/units"
)

const (
	// Of a linkage's curve the ratio rises and falls once or twice. Readings with errors turn more often.
	mostTurns = 3
	// The share of the ratio by which the curve through the points may leave that near them.
	mostScatter = 0.02
)

// Scatter returns a warning if a table that is not [Measured] seems to be of readings with errors, and
// reports whether it does: the second differences of its values change sign 4 times or more, and the
// ratio of the curve through its points is somewhere 2 % off that of [FitReadings]. Both limits are
// choices of this package. A table of fewer than 5 points, and one that is refused, has no warning.
func (t Table) Scatter() (units.Warning, bool) {
	if t.Method == Measured {
		return units.Warning{}, false
	}
	through, err := NewTable(t)
	if err != nil {
		return units.Warning{}, false
	}
	x, y := t.columns(&units.Checker{}, 2, rising)
	turns := signChanges(x, y)
	t.Method = Measured
	near, err := FitReadings(t)
	if turns <= mostTurns || err != nil {
		return units.Warning{}, false
	}
	most, stroke := 0.0, min(through.Stroke(), near.Curve.Stroke())
	for s := range through.Samples(201) {
		if s.Stroke <= stroke {
			most = max(most, math.Abs(s.LeverRatio/near.Curve.LeverRatio(s.Stroke)-1))
		}
	}
	if most < mostScatter {
		return units.Warning{}, false
	}
	exact, fitted := through.progression, near.Curve.progression
	return units.Warning{
		Code: "table_scatters", Field: "table", Value: fmt.Sprintf("%.1f %%", 100*exact.Value), Limit: fmt.Sprintf("%.1f %%", 100*fitted.Value),
		Text: fmt.Sprintf("The points of the table look like readings with errors of about %s: their second differences change sign %d times. "+
			"Through every point the lever ratio goes from %.3f to %.3f, a progression of %.1f %%; by least squares it goes from %.3f ± %.3f to %.3f ± %.3f, %.1f %%. "+
			"The method \"measured\" takes them so.",
			near.readingError(), turns, exact.Start, exact.End, 100*exact.Value,
			fitted.Start, near.LeverRatioError(0), fitted.End, near.LeverRatioError(near.Curve.Stroke()), 100*fitted.Value),
		Source: "a choice of this package",
	}, true
}

// signChanges returns how often the second differences of the values y at x change sign.
func signChanges(x, y []float64) int {
	turns, slope, bend := 0, math.NaN(), 0.0
	for i := 1; i < len(x); i++ {
		next := (y[i] - y[i-1]) / (x[i] - x[i-1])
		if change := next - slope; change*bend < 0 {
			turns++
			bend = change
		} else if change != 0 && !math.IsNaN(change) {
			bend = change
		}
		slope = next
	}
	return turns
}
