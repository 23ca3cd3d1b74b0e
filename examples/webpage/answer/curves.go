package answer

import (
	"fmt"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag/setup"
	"example.com/wheelrate/units"
)

// Curves are an end's curves as points at even steps of the wheel's travel,
// in mm, N and N/mm. Those of a quick stroke are there
// for an air spring, whose gas then is not at the temperature around it.
type Curves struct {
	Travel     []float64 // of the wheel, vertical
	Stroke     []float64
	LeverRatio []float64
	Force      []float64 // at the wheel, standing still
	Rate       []float64
	QuickForce []float64
	QuickRate  []float64
}

// steps is how many steps the curves take.
const steps = 120

// laws are the springs of an end, as recommended, at its wheel.
type laws struct {
	curve       *linkage.Curve
	slow, quick *linkage.WheelLaw // quick is nil for a coil
}

// fitted returns the laws of what a sheet recommends.
func fitted(e *setup.EndSheet) laws {
	slow, quick := e.Wheel()
	if e.Coil != nil {
		quick = nil
	}
	return laws{curve: e.Curve(), slow: slow, quick: quick}
}

// curves samples the laws.
func (l laws) curves(e *setup.EndSheet) Curves {
	var c Curves
	for i := range steps + 1 {
		w := l.slow.Travel() * units.Length(float64(i)/steps)
		s := l.slow.Stroke(w)
		c.Travel = append(c.Travel, w.Millimetres())
		c.Stroke = append(c.Stroke, s.Millimetres())
		c.LeverRatio = append(c.LeverRatio, l.curve.LeverRatio(s))
		c.Force = append(c.Force, l.slow.Force(w).Newtons())
		c.Rate = append(c.Rate, l.slow.Rate(w).NewtonsPerMillimetre())
		if l.quick != nil {
			c.QuickForce = append(c.QuickForce, l.quick.Force(w).Newtons())
			c.QuickRate = append(c.QuickRate, l.quick.Rate(w).NewtonsPerMillimetre())
		}
	}
	return c
}

// system is a system of units that curves are shown in: each unit is so many
// of the metric one.
type system struct {
	length, force, rate             string
	inLength, inForce, inRate       float64
	lengthForm, forceForm, rateForm string
}

func systemOf(customary bool) system {
	if !customary {
		return system{"mm", "N", "N/mm", 1, 1, 1, "%.1f", "%.0f", "%.2f"}
	}
	return system{"in", "lbf", "lbf/in",
		units.Inch.Millimetres(), units.PoundForce.Newtons(), units.PoundForcePerInch.NewtonsPerMillimetre(),
		"%.2f", "%.1f", "%.1f"}
}

// into is a column in another unit.
func into(column []float64, unit float64) []float64 {
	list := make([]float64, len(column))
	for i, v := range column {
		list[i] = v / unit
	}
	return list
}

// table is every twelfth point of the curves.
func (c Curves) table(customary bool) *Table {
	u := systemOf(customary)
	t := &Table{Caption: "The curves as numbers", Head: []string{
		"Wheel travel, " + u.length, "Stroke, " + u.length, "Lever ratio", "Wheel force, " + u.force, "Wheel rate, " + u.rate}}
	if c.QuickForce != nil {
		t.Head = append(t.Head, "Quick stroke, "+u.force, "Quick stroke, "+u.rate)
	}
	for i := 0; i <= steps; i += steps / 10 {
		line := []string{
			fmt.Sprintf(u.lengthForm, c.Travel[i]/u.inLength), fmt.Sprintf(u.lengthForm, c.Stroke[i]/u.inLength),
			fmt.Sprintf("%.3f", c.LeverRatio[i]),
			fmt.Sprintf(u.forceForm, c.Force[i]/u.inForce), fmt.Sprintf(u.rateForm, c.Rate[i]/u.inRate),
		}
		if c.QuickForce != nil {
			line = append(line, fmt.Sprintf(u.forceForm, c.QuickForce[i]/u.inForce), fmt.Sprintf(u.rateForm, c.QuickRate[i]/u.inRate))
		}
		t.Rows = append(t.Rows, line)
	}
	return t
}
