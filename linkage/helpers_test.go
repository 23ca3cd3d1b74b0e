package linkage_test

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/stretchr/testify/require"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/internal/linkagetest"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
)

// The helpers of all linkage packages, by short names.
var (
	mm        = linkagetest.MM
	at        = linkagetest.At
	spec      = linkagetest.Spec
	movable   = linkagetest.Movable
	solved    = linkagetest.Solved
	finite    = linkagetest.Finite
	allFinite = linkagetest.AllFinite
	above     = linkagetest.Above
	below     = linkagetest.Below
	strokesOf = linkagetest.Strokes
	badFields = linkagetest.BadFields
	refuses   = linkagetest.Refuses
	named     = linkagetest.Named
)

// lengths are lengths in millimetres.
func lengths(v ...float64) []units.Length {
	list := make([]units.Length, len(v))
	for i := range v {
		list[i] = mm(v[i])
	}
	return list
}

// read decodes a file of testdata.
func read(t testing.TB, name string, v any) {
	t.Helper()
	text, err := os.ReadFile(filepath.Join("testdata", name))
	require.NoError(t, err)
	require.NoError(t, json.Unmarshal(text, v))
}

// refTable is a table of testdata/tables.json, in mm, with what goes through it.
type refTable struct {
	Name               string
	Stroke, Travel, At []float64
	SciPy, Exact       map[linkage.Method]struct {
		Travel, Ratio, Slope []float64
		Min, Max             float64
		RMS                  float64
		ReadingError         float64   `json:"reading_error"`
		RatioError           []float64 `json:"ratio_error"`
	}
}

func (r *refTable) table(method linkage.Method) linkage.Table {
	return linkage.Table{Stroke: lengths(r.Stroke...), Travel: lengths(r.Travel...), Method: method}
}

// refTables returns the tables of testdata/tables.json.
func refTables(t testing.TB) []refTable {
	t.Helper()
	var file struct{ Tables []refTable }
	read(t, "tables.json", &file)
	require.Len(t, file.Tables, 4)
	return file.Tables
}

// curve makes a curve of a table, which must do.
func curve(t testing.TB, table linkage.Table) *linkage.Curve {
	t.Helper()
	c, err := linkage.NewTable(table)
	require.NoError(t, err)
	return c
}

// points returns n points of a curve at even steps of its stroke.
func points(c *linkage.Curve, n int, method linkage.Method) linkage.Table {
	t := linkage.Table{Method: method}
	for s := range c.Samples(n) {
		t.Stroke, t.Travel = append(t.Stroke, s.Stroke), append(t.Travel, s.Travel)
	}
	return t
}

// bent is a curve known in closed form, w = 2.95·s − 4.25/m·s² over 65 mm,
// invented. A cubic spline goes through a parabola exactly.
func bent(t testing.TB) *linkage.Curve {
	t.Helper()
	var table linkage.Table
	for s := 0.0; s < 66; s += 5 {
		table.Stroke = append(table.Stroke, mm(s))
		table.Travel = append(table.Travel, mm(2.95*s-0.00425*s*s))
	}
	table.Method = linkage.Smooth
	return curve(t, table)
}

func linear(t testing.TB, rate units.Stiffness, travel, preload units.Length) spring.LinearSpring {
	t.Helper()
	law, err := spring.NewLinear(spring.Linear{Rate: rate, Travel: travel, Preload: preload})
	require.NoError(t, err)
	return law
}

// pivot is a swingarm on one pivot that drives the shock directly, in mm: its
// travel and lever ratio are closed forms of the triangle pivot, lower eye,
// upper eye.
type pivot struct {
	px, py, ax, ay, s1x, s1y, s2x, s2y float64
	stroke                             float64
}

// at returns wheel travel and lever ratio at a stroke.
func (g pivot) at(s float64) (travel, ratio float64) {
	d1, d2 := math.Hypot(g.s1x-g.px, g.s1y-g.py), math.Hypot(g.s2x-g.px, g.s2y-g.py)
	full := math.Hypot(g.s1x-g.s2x, g.s1y-g.s2y)
	angle := func(length float64) float64 {
		return math.Acos((d1*d1 + d2*d2 - length*length) / (2 * d1 * d2))
	}
	length := full - s
	turn := angle(length) - angle(full) // clockwise positive: the eyes close up
	rx, ry := g.ax-g.px, g.ay-g.py
	travel = rx*math.Sin(turn) + ry*math.Cos(turn) - ry
	perStroke := -length / (d1 * d2 * math.Sin(angle(length)))
	return travel, (rx*math.Cos(turn) - ry*math.Sin(turn)) * perStroke
}

// Two invented linkages; linkages a1 and a2 of testdata/noise.json are the same.
var (
	lowPivot  = pivot{12, 72, -438, 28, -92, 238, 112, 292, 57.5}
	highPivot = pivot{-22, 186, -436, 22, -70, 338, 128, 282, 62.5}
)

// soundCurve checks what must hold of every curve: it starts at 0, rises, has
// a positive ratio between its least and its greatest, goes back and forth,
// and clamps.
func soundCurve(t *testing.T, c *linkage.Curve) {
	t.Helper()
	stroke, travel, p := c.Stroke(), c.Travel(), c.Progression()
	if !(stroke > 0) || !(travel > 0) || !finite(float64(stroke)) || !finite(float64(travel)) {
		t.Fatalf("stroke %v, travel %v", stroke, travel)
	}
	if c.TravelAt(0) != 0 || c.StrokeAt(0) != 0 || c.TravelAt(stroke) != travel || c.StrokeAt(travel) != stroke {
		t.Errorf("ends: travel %v and %v, stroke %v and %v", c.TravelAt(0), c.TravelAt(stroke), c.StrokeAt(0), c.StrokeAt(travel))
	}
	if !(p.Min > 0) || !finite(p.Max) || p.Start < p.Min || p.End < p.Min || p.Start > p.Max || p.End > p.Max ||
		p.Start != c.LeverRatio(0) || p.End != c.LeverRatio(stroke) || p.Value != (p.Start-p.End)/p.Start {
		t.Errorf("progression %+v", p)
	}
	const eps = 1e-12
	before := units.Length(-1)
	for i := range 401 {
		s := stroke * units.Length(i) / 400
		w, r, slope := c.TravelAt(s), c.LeverRatio(s), c.LeverRatioSlope(s)
		if !(w > before) || !(w <= travel*(1+eps)) {
			t.Fatalf("travel %v after %v at %v of %v", w, before, s, stroke)
		}
		before = w
		if !(r >= p.Min*(1-eps)-eps*p.Max) || !(r <= p.Max*(1+eps)) {
			t.Fatalf("ratio %v at %v, outside %v to %v", r, s, p.Min, p.Max)
		}
		if !finite(float64(slope)) {
			t.Fatalf("slope %v at %v", float64(slope), s)
		}
		// The travel at the stroke found is the travel asked for, to rounding.
		if back := c.TravelAt(c.StrokeAt(w)); math.Abs(float64(back-w)) > 4e-15*float64(w)+2e-15*r*float64(s) {
			t.Fatalf("travel %v gives stroke %v, and that %v", float64(w), c.StrokeAt(w), float64(back))
		}
	}
	for _, x := range []struct{ x, as units.Length }{
		{-1, 0}, {units.Length(math.NaN()), 0}, {units.Length(math.Inf(-1)), 0},
		{2 * stroke, stroke}, {units.Length(math.Inf(1)), stroke},
	} {
		if c.TravelAt(x.x) != c.TravelAt(x.as) || c.LeverRatio(x.x) != c.LeverRatio(x.as) || c.LeverRatioSlope(x.x) != c.LeverRatioSlope(x.as) {
			t.Errorf("stroke %v is not taken as %v", float64(x.x), x.as)
		}
	}
	for _, x := range []struct{ x, as units.Length }{
		{-1, 0}, {units.Length(math.NaN()), 0}, {2 * travel, stroke}, {units.Length(math.Inf(1)), stroke},
	} {
		if c.StrokeAt(x.x) != x.as {
			t.Errorf("travel %v gives stroke %v, want %v", float64(x.x), c.StrokeAt(x.x), x.as)
		}
	}
}

// compiled returns the curve of a mechanism.
func compiled(t testing.TB, m *mechanism.Mechanism) *linkage.Curve {
	t.Helper()
	c, err := linkage.Compile(m)
	if err != nil {
		t.Fatal(err)
	}
	return c
}
