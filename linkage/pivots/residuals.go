package pivots

import (
	"maps"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"

	"example.com/wheelrate/linkage/drivetrain"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
)

// moved returns the mechanism with each coordinate moved by its share of the bound, from −1 to 1.
func (p *problem) moved(x []float64) mechanism.Spec {
	m := p.Mechanism
	m.Points = maps.Clone(m.Points)
	for i, a := range p.axes {
		at := m.Points[a.point]
		at[a.xy] += units.Length(x[i] * a.bound)
		m.Points[a.point] = at
	}
	return m
}

const (
	searchSteps = 16  // even steps in which a mechanism is followed during the search
	shockWeight = 1e4 // lever ratio that weighs as much as 1 m of the shock: its length comes first
)

// residuals returns the differences from what is wanted with the coordinates moved, or nil if the
// mechanism locks: those of the lever ratios, each over the root of their number, then those of the
// shock's length and of the anti-squat, by their weights.
func (p *problem) residuals(x []float64) []float64 {
	p.tried++
	m, err := mechanism.NewCoarse(p.moved(x), searchSteps)
	if err != nil {
		p.locked++
		return nil
	}
	n := len(p.Stroke)
	r := make([]float64, n, n+2)
	for i, s := range p.Stroke {
		r[i] = (m.Pose(s).LeverRatio - p.LeverRatio[i]) / math.Sqrt(float64(n))
	}
	if p.shock > 0 {
		r = append(r, (float64(m.ShockLength())-p.shock)*shockWeight)
	}
	if a := p.AntiSquat; a != nil {
		d, err := drivetrain.New(m, *p.Drive)
		if err != nil {
			p.locked++
			return nil
		}
		r = append(r, (d.At(a.At).AntiSquat-a.Value)*a.Weight)
	}
	return r
}

// starts returns where the search starts from: the points as given, and four
// places spread over half the bounds.
func (p *problem) starts() [][]float64 {
	list := [][]float64{make([]float64, len(p.axes))}
	for i := range 4 {
		x := make([]float64, len(p.axes))
		for k := range x {
			// Multiples of the golden ratio fill an interval evenly.
			_, f := math.Modf(float64(1+i*len(x)+k) * math.Phi)
			x[k] = f - 0.5
		}
		list = append(list, x)
	}
	return list
}

// linearise returns the derivatives of the residuals r at x by the coordinates, from central
// differences, or nil if one of the mechanisms needed locks.
func (p *problem) linearise(x, r []float64) *mat.Dense {
	j, moved := mat.NewDense(len(r), len(x), nil), slices.Clone(x)
	for i, a := range p.axes {
		h := 2e-6 / a.bound // 2 µm: the residuals are exact to 1e-13, and smooth over centimetres
		at := func(x float64) []float64 { moved[i] = x; return p.residuals(moved) }
		before, after := at(x[i]-h), at(x[i]+h)
		moved[i] = x[i]
		if after == nil || before == nil {
			return nil
		}
		for row := range r {
			j.Set(row, i, (after[row]-before[row])/(2*h))
		}
	}
	return j
}

// fitShock moves the shock's ends in place, if they may move, by as little as gives
// the shock the wanted length, or as near to it as the bounds permit.
func (p *problem) fitShock(x []float64) {
	if p.shock == 0 {
		return
	}
	ends := p.Mechanism.Shock
	for range 20 {
		m := p.moved(x)
		a, b := m.Points[ends[0]], m.Points[ends[1]]
		along := [2]float64{float64(b[0] - a[0]), float64(b[1] - a[1])}
		length := math.Hypot(along[0], along[1])
		miss := p.shock - length
		if !(math.Abs(miss) > 1e-10) || !(length > 0) {
			return
		}
		// By how much the length grows with each coordinate, and the squares of
		// those that have room.
		grows, sum := make([]float64, len(x)), 0.0
		for i, a := range p.axes {
			switch a.point {
			case ends[0]:
				grows[i] = -along[a.xy] / length
			case ends[1]:
				grows[i] = along[a.xy] / length
			}
			if x[i] == math.Copysign(1, grows[i]*miss) {
				grows[i] = 0 // no room that way
			}
			sum += grows[i] * grows[i]
		}
		if !(sum > 1e-6) {
			return
		}
		for i, a := range p.axes {
			x[i] = min(max(x[i]+grows[i]*miss/sum/a.bound, -1), 1)
		}
	}
}
