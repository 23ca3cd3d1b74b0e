package answer

import (
	"fmt"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// Curves are an end's curves as points at even steps of the wheel's travel,
// plain numbers in the unit of their name. Those of a quick stroke are there
// for an air spring, whose gas then is not at the temperature around it.
type Curves struct {
	Travel     []float64 `json:"travel_mm"` // of the wheel, vertical
	Stroke     []float64 `json:"stroke_mm"`
	LeverRatio []float64 `json:"lever_ratio"`
	Force      []float64 `json:"force_n"` // at the wheel, standing still
	Rate       []float64 `json:"rate_n_per_mm"`
	QuickForce []float64 `json:"quick_force_n,omitempty"`
	QuickRate  []float64 `json:"quick_rate_n_per_mm,omitempty"`
}

// steps is how many steps the curves take.
const steps = 120

// laws are the springs of an end, as recommended, at its wheel.
type laws struct {
	curve       *linkage.Curve
	slow, quick *linkage.WheelLaw // quick is nil for a coil
}

// fitted makes the laws of what a sheet recommends for a job.
func fitted(job *sag.EndJob, e *sag.EndSheet, ambient units.AbsolutePressure) (laws, error) {
	curve, err := linkage.New(job.Curve)
	if err != nil {
		return laws{}, units.At("curve", err)
	}
	l := laws{curve: curve}
	if e.Coil != nil {
		best := e.Coil.Candidates[0]
		travel := curve.Stroke()
		if best.SolidKnown && best.SolidReserve < 0 {
			travel += best.SolidReserve // it goes no further
		}
		coil, err := spring.NewLinear(spring.Linear{Rate: best.Rate, Travel: travel, Preload: best.Preload})
		if err != nil {
			return laws{}, units.At("coil", err)
		}
		l.slow, err = linkage.AtWheel(curve, coil)
		return l, err
	}
	spec := job.Air.Spec
	best := e.Air.Options[0]
	spec.Fill, spec.Spacers = best.Fill, best.Spacers
	if spec.Ambient == 0 {
		spec.Ambient = ambient
	}
	if spec.Travel == 0 {
		spec.Travel = curve.Stroke()
	}
	for _, one := range []struct {
		exponent float64
		to       **linkage.WheelLaw
	}{{1, &l.slow}, {job.Air.Exponent, &l.quick}} {
		spec.Exponent = one.exponent
		air, err := airspring.New(spec)
		if err != nil {
			return laws{}, units.At("air", err)
		}
		if *one.to, err = linkage.AtWheel(curve, air); err != nil {
			return laws{}, err
		}
	}
	return l, nil
}

// curves samples the laws.
func (l laws) curves(e *sag.EndSheet) Curves {
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
