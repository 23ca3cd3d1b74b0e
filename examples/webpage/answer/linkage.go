package answer

import (
	"fmt"
	"strings"

	"example.com/wheelrate/examples/internal/csvcurve"
	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/strictjson"
)

// Linkage is what the page draws of a mechanism while its points are moved about. Either Faults or
// everything else is there. Places are in millimetres, forward and up from the bottom bracket.
type Linkage struct {
	Faults     []*units.FieldError   `json:"faults,omitempty"`
	Points     map[string][2]float64 `json:"points,omitempty"` // at full extension
	Full       map[string][2]float64 `json:"full,omitempty"`   // at full travel
	Path       [][2]float64          `json:"path,omitempty"`   // of the axle
	Travel     []float64             `json:"travel_mm,omitempty"`
	LeverRatio []float64             `json:"lever_ratio,omitempty"`
	// Band is how far the lever ratio may be off to either side, at every fifth of these points, with
	// each hole within the tolerance asked for; none without one.
	Band  []float64 `json:"band,omitempty"`
	Table *Table    `json:"table,omitempty"` // every fifth of the points
	Says  string    `json:"says,omitempty"`  // what it does, in a line
}

// WorkLinkage reads a mechanism and moves it. Within is how far every hole may be off its place, a
// length as text, or empty. It is made for every step of a pointer: the answer is short.
func WorkLinkage(text []byte, within string) *Linkage {
	var spec mechanism.Spec
	if err := strictjson.Unmarshal("linkage", text, &spec); err != nil {
		return &Linkage{Faults: units.Faults(err)}
	}
	m, err := mechanism.New(spec)
	if err != nil {
		return &Linkage{Faults: units.Faults(err)}
	}
	tolerance, err := toleranceOf(m, within)
	if err != nil {
		return &Linkage{Faults: units.Faults(err)}
	}
	l := &Linkage{Points: places(m.Positions(0)), Full: places(m.Positions(m.Stroke()))}
	const steps, each = 60, 5
	l.Table = &Table{Caption: "Lever ratio over the travel", Head: []string{"Wheel travel, mm", "Lever ratio"}}
	if tolerance != nil {
		l.Table.Head = append(l.Table.Head, "± with the holes off")
	}
	for i := range steps + 1 {
		p := m.Pose(m.Stroke() * units.Length(i) / steps)
		l.Path = append(l.Path, millimetres(p.Axle))
		l.Travel, l.LeverRatio = append(l.Travel, p.Travel.Millimetres()), append(l.LeverRatio, p.LeverRatio)
		if i%each != 0 {
			continue
		}
		row := []string{fmt.Sprintf("%.1f", p.Travel.Millimetres()), fmt.Sprintf("%.3f", p.LeverRatio)}
		if tolerance != nil {
			off := tolerance.Spread(m.PoseGradient(m.Stroke() * units.Length(i) / steps).LeverRatio).WorstCase
			l.Band, row = append(l.Band, off), append(row, fmt.Sprintf("%.3f", off))
		}
		l.Table.Rows = append(l.Table.Rows, row)
	}
	start, end := l.LeverRatio[0], l.LeverRatio[steps]
	l.Says = fmt.Sprintf("Travel %.1f mm. Lever ratio %.3f to %.3f, a progression of %.1f %%. Shock %.1f mm, eye to eye.",
		l.Travel[steps], start, end, 100*(start-end)/start, m.ShockLength().Millimetres())
	return l
}

// toleranceOf returns the tolerances of a mechanism whose every hole is within a length, nil for "".
func toleranceOf(m *mechanism.Mechanism, within string) (*mechanism.Tolerance, error) {
	if within == "" {
		return nil, nil
	}
	every, err := units.Parse[units.Length](within)
	if err != nil {
		return nil, &units.FieldError{Package: "mechanism", Field: "within", Value: within, Want: units.Want{Text: "a length with its unit, such as 0.2 mm"}, Class: units.ErrSyntax}
	}
	t, err := mechanism.NewTolerance(m, mechanism.Tolerances{Every: every})
	return t, units.At("within", err)
}

func places(points map[string]mechanism.Point) map[string][2]float64 {
	list := make(map[string][2]float64, len(points))
	for name, p := range points {
		list[name] = millimetres(p)
	}
	return list
}

func millimetres(p mechanism.Point) [2]float64 {
	return [2]float64{p[0].Millimetres(), p[1].Millimetres()}
}

// Pasted is the table of a curve that was pasted as CSV. Either Faults or Table is there.
type Pasted struct {
	Faults []*units.FieldError `json:"faults,omitempty"`
	Table  *linkage.Table      `json:"table,omitempty"`
}

// ReadTable reads a table as package csvcurve does.
func ReadTable(text string) Pasted {
	table, err := csvcurve.Read(strings.NewReader(text), "")
	if err != nil {
		return Pasted{Faults: units.Faults(err)}
	}
	return Pasted{Table: &table}
}
