package picture

import (
	"math"
	"strconv"
	"strings"

	"gonum.org/v1/plot"
	"gonum.org/v1/plot/vg"
)

// step returns 1, 2 or 5 times a power of ten, so that a range has at most so
// many steps.
func step(span float64, most int) float64 {
	rough := span / float64(most)
	power := math.Pow(10, math.Floor(math.Log10(rough)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= rough*(1-1e-9) {
			return m * power
		}
	}
	return 10 * power
}

// ticks marks every multiple of a step; numbers have no more decimals than the
// step needs, and a minus sign that is as wide as a digit.
type ticks float64

// Ticks implements [plot.Ticker].
func (t ticks) Ticks(lo, hi float64) []plot.Tick {
	s := float64(t)
	var list []plot.Tick
	for i := math.Ceil(lo/s - 1e-6); i <= math.Floor(hi/s+1e-6); i++ {
		list = append(list, plot.Tick{Value: i * s, Label: number(i*s, s)})
	}
	return list
}

// inside leaves out the ticks near the ends of a range.
type inside struct {
	ticks
	room float64
}

// Ticks implements [plot.Ticker].
func (t inside) Ticks(lo, hi float64) []plot.Tick { return t.ticks.Ticks(lo+t.room, hi-t.room) }

// number prints a multiple of a step.
func number(v, step float64) string {
	decimals := max(0, -int(math.Floor(math.Log10(step)+1e-9)))
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		text = strings.TrimPrefix(text, "-")
	}
	return strings.Replace(text, "-", "−", 1)
}

// widen makes a range of which something can be seen: one of no width, or of
// the width of rounding errors, gets room around it.
func widen(lo, hi float64) (float64, float64) {
	size := max(math.Abs(lo), math.Abs(hi))
	if hi-lo > 1e-6*size && hi-lo > 1e-300 {
		return lo, hi
	}
	room := 0.05 * size
	if !(room > 1e-300) {
		room = 1
	}
	return (lo+hi)/2 - room, (lo+hi)/2 + room
}

// outward moves the ends of a range to multiples of a step.
func outward(lo, hi, step float64) (float64, float64) {
	return math.Floor(lo/step+1e-6) * step, math.Ceil(hi/step-1e-6) * step
}

// abs is a distance on the paper.
func abs(l vg.Length) vg.Length { return max(l, -l) }
