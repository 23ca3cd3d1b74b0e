package sag

import (
	"math"
	"testing"

	"github.com/stretchr/testify/require"
	"gonum.org/v1/gonum/stat/distuv"

	"example.com/wheelrate/units"
)

// rivalJob is handJob with a shelf whose springs all get the same preload.
func rivalJob(rates ...units.Stiffness) Job {
	j := handJob()
	j.Rear.Coil.Shelf = nil
	for _, k := range rates {
		j.Rear.Coil.Shelf = append(j.Rear.Coil.Shelf, ShelfSpring{Rate: k, SolidTravel: 0.08})
	}
	return j
}

// handIdeal is the ideal rate of handJob's rear: 1397.4476 N over 20.8 mm.
const handIdeal = (tShare*(tRider+tBike) - tUnsprungRear) * tG * tRatio / (tSag*tStroke + tPreload)

// With one preload for all, springs k₁ and k₂ miss alike under the load at
// which F/k₁ + F/k₂ = 2·(s* + p): the ideal rate of the edge is the harmonic
// mean H = 2·k₁k₂/(k₁ + k₂). A relative error u of both moves it by
// H·u·√(k₁² + k₂²)/(k₁ + k₂), for ∂ln H/∂ln k₁ = k₂/(k₁ + k₂).
func TestRivalsByHand(t *testing.T) {
	const soft, mid, hard, u = 60e3, 68e3, 76e3, 0.02 // the ideal rate is 67.2 N/mm
	harmonic := func(a, b float64) float64 { return 2 * a * b / (a + b) }
	uLoad := 2.5 * tShare * tG * handIdeal / ((tShare*(tRider+tBike) - tUnsprungRear) * tG)
	list := propagate(t, rivalJob(hard, soft, mid), Uncertainty{RiderMass: 2.5, Rear: EndUncertainty{SpringRate: u}}).Rear.Rivals
	require.Len(t, list, 2)
	for i, want := range []struct {
		code  Finding
		other float64
	}{{SofterRival, soft}, {HarderRival, hard}} {
		got, edge := list[i], harmonic(mid, want.other)
		if got.Code != want.code || got.Recommended != mid || got.Rate != units.Stiffness(want.other) {
			t.Errorf("rival %+v, want %s %v", got, want.code, want.other)
		}
		near(t, "edge", float64(got.EdgeRate), edge, 1e-10)
		uEdge := handIdeal * edge / handIdeal * u * math.Hypot(mid, want.other) / (mid + want.other)
		sum := math.Hypot(uLoad, uEdge)
		near(t, "probability", got.Probability, distuv.UnitNormal.CDF(-math.Abs(edge-handIdeal)/sum), 1e-6)
		if got.Input != "rider_mass" {
			t.Errorf("input %q", got.Input)
		}
		near(t, "share", got.Share, uLoad*uLoad/(sum*sum), 1e-6)
	}
	// Where the rates are known worse than the rider, these decide.
	list = propagate(t, rivalJob(soft, mid, hard), Uncertainty{RiderMass: 0.5, Rear: EndUncertainty{SpringRate: u}}).Rear.Rivals
	for _, r := range list {
		if r.Input != "rear.spring_rate" || !(r.Share > 0.5) {
			t.Errorf("%+v", r)
		}
	}
	// Nothing uncertain: the rivals are there, and are not right.
	for _, r := range propagate(t, rivalJob(soft, mid, hard), Uncertainty{}).Rear.Rivals {
		if r.Probability != 0 || r.Input != "" || r.Share != 0 {
			t.Errorf("%+v", r)
		}
	}
}

// Where the collar brings both on target, the harder spring takes over as soon
// as it comes within half a per cent of the travel with the least preload:
// k₂·(s* − 0.005·L + p_min) = F, so the edge is k₂·(1 − 0.005·L/(s* + p_min)),
// whatever k₁ is.
func TestRivalsWithACollar(t *testing.T) {
	const mid, hard, u, least = 68e3, 76e3, 0.02, 1e-3
	j := rivalJob(mid, hard)
	j.Rear.Coil.PreloadMin, j.Rear.Coil.PreloadMax = least, 8e-3
	b := propagate(t, j, Uncertainty{Rear: EndUncertainty{SpringRate: u}}).Rear
	list := b.Rivals
	require.Len(t, list, 1)
	edge := hard * (1 - 0.005*tStroke/(tSag*tStroke+least))
	ideal := handIdeal * (tSag*tStroke + tPreload) / (tSag*tStroke + least)
	near(t, "ideal", float64(b.IdealRate.Value), ideal, 1e-12)
	got := list[0]
	// 78.5 N/mm are wanted and the edge is at 74.7: the harder one is recommended.
	if got.Recommended != hard || got.Rate != mid || got.Code != SofterRival || got.Input != "rear.spring_rate" {
		t.Errorf("%+v", got)
	}
	near(t, "edge", float64(got.EdgeRate), edge, 1e-9)
	near(t, "probability", got.Probability, distuv.UnitNormal.CDF(-(ideal-edge)/(edge*u)), 1e-6)
}

func TestRivalsWithoutAny(t *testing.T) {
	u := Uncertainty{RiderMass: 3}
	for name, j := range map[string]Job{
		"one spring":      rivalJob(68e3),
		"two alike":       rivalJob(68e3, 68e3),
		"beyond the pale": rivalJob(10e3, 68e3),
	} {
		if list := propagate(t, j, u).Rear.Rivals; len(list) != 0 {
			t.Errorf("%s: %+v", name, list)
		}
	}
	// A spring that goes solid is never the one to recommend while another isn't.
	j := rivalJob(60e3, 68e3, 76e3)
	j.Rear.Coil.Shelf[2].SolidTravel = 0.05
	list := propagate(t, j, u).Rear.Rivals
	require.Len(t, list, 1)
	if list[0].Rate != 60e3 {
		t.Errorf("%+v", list[0])
	}
}
