package pivots_test

import (
	_ "embed"
	"encoding/json"
	"testing"

	"example.com/wheelrate/linkage/pivots"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

//go:embed testdata/bars.json
var bars []byte

// bar is a search that an earlier one, by differences and with quadratic programs in its steps, has
// answered: three points within ±12 mm, and the mechanism's own curve with its start and its end changed.
type bar struct {
	Mechanism string   `json:"mechanism"`
	Move      []string `json:"move"`
	Bound     float64  `json:"bound_mm"`
	Start     float64  `json:"start_factor"`
	End       float64  `json:"end_factor"`
	AnyShock  bool     `json:"any_shock"`
	AntiSquat *float64 `json:"anti_squat,omitempty"` // at 0.3 of the stroke; 1 % counts as 0.002 of the ratio
	Sum       float64  `json:"sum"`                  // of squares that it came to
}

// ask returns the search of a bar.
func (b *bar) ask() pivots.Search {
	k := solved(b.Mechanism)
	curve := &pivots.Target[float64]{Within: 1}
	for i := range 11 {
		share := float64(i) / 10
		curve.At = append(curve.At, share)
		curve.Value = append(curve.Value, k.Pose(k.Stroke()*units.Length(share)).LeverRatio*(b.Start+(b.End-b.Start)*share))
	}
	ask := pivots.Search{Mechanism: k.Spec(), AnyShock: b.AnyShock, Targets: pivots.Targets{LeverRatio: curve}}
	for _, point := range b.Move {
		ask.Move = append(ask.Move, around(point, b.Bound))
	}
	if b.AntiSquat != nil {
		d := drive(32, 24, nil)
		ask.Drive = &d
		ask.Targets.AntiSquat = &pivots.Target[float64]{At: []float64{0.3}, Value: []float64{*b.AntiSquat}, Within: 5}
	}
	// The weights as they are used, relative to each other.
	curve.Within /= 100
	if ask.Targets.AntiSquat != nil {
		ask.Targets.AntiSquat.Within /= 100
	}
	return ask
}

// around is a point that may go as far either way along both axes, in mm.
func around(point string, by float64) pivots.Movable {
	room := pivots.Bounds{Min: -mm(by), Max: mm(by)}
	return pivots.Movable{Point: point, X: room, Y: room}
}

func readBars(tb testing.TB) (list []bar) {
	if err := json.Unmarshal(bars, &list); err != nil {
		tb.Fatal(err)
	}
	return list
}

// No answer is worse than that of the earlier search.
func TestFindIsNoWorseThanItWas(t *testing.T) {
	for i, b := range readBars(t) {
		if i%3 != 1 && !unitstest.Long() {
			continue // those with a shock of its length are the hardest
		}
		ask := b.ask()
		fit, err := pivots.Find(ask)
		if err != nil {
			t.Fatal(b.Mechanism, err)
		}
		sum := 0.0
		for _, m := range fit.Misses {
			sum += m.RMS * m.RMS / 1e4
		}
		if !(sum <= 1.001*b.Sum+1e-10) {
			t.Errorf("%s, %v: a sum of %.4g, and it was %.4g", b.Mechanism, b.Move, sum, b.Sum)
		}
	}
}

// Budget: 50 ms for a search of a four-bar with six coordinates. It allocates the mechanisms that it tries.
func BenchmarkFind(b *testing.B) {
	for _, bar := range readBars(b) {
		if bar.Mechanism != "c1" && bar.Mechanism != "c2" {
			continue
		}
		b.Run(bar.Mechanism+" "+bar.Move[0], func(b *testing.B) {
			b.ReportAllocs()
			ask := bar.ask()
			for b.Loop() {
				if _, err := pivots.Find(ask); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
