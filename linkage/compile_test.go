package linkage_test

import (
	"testing"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// Over a stroke of next to nothing, rounding must neither spoil the curve nor
// make it endless pieces.
func TestShortStrokes(t *testing.T) {
	for _, name := range movable() {
		full := solved(name)
		for _, stroke := range []units.Length{mm(0.002), mm(0.003), mm(0.1), mm(1), mm(3)} {
			m := spec(name)
			m.Stroke = stroke
			k, err := mechanism.New(m)
			if err != nil {
				t.Fatal(name, stroke, err)
			}
			if n := linkage.PiecesOf(compiled(t, k)); n > 110 {
				t.Errorf("%s over %v: %d pieces", name, stroke, n)
			}
			for i := range 31 {
				s := stroke * units.Length(i) / 30
				want := full.Pose(s)
				c := compiled(t, k)
				unitstest.Near(t, name+" travel", c.TravelAt(s), want.Travel, unitstest.Abs(mm(1e-6)))
				unitstest.Near(t, name+" ratio", c.LeverRatio(s), want.LeverRatio, unitstest.Abs(1e-7))
				unitstest.Near(t, name+" slope", c.LeverRatioSlope(s), want.LeverRatioSlope, unitstest.Rel(1e-5), unitstest.Abs(units.RatioSlope(1e-5)))
				unitstest.Near(t, name+" path", k.PathLength(s), full.PathLength(s), unitstest.Abs(mm(1e-9)))
			}
		}
	}
}
