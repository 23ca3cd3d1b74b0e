package mechanism_test

import (
	"fmt"
	"maps"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/wheelrate/linkage/mechanism"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// A mechanism drawn at random is the same one seen in a mirror, turned, from
// elsewhere, at another size, with its points, its bodies and its shock's ends in
// other names and another order, and with points that nothing hangs on. Turned,
// its path is turned too; the others keep travel and ratio.
func TestEveryMechanismOtherwise(t *testing.T) {
	made := 0
	for i := range 60 {
		rng := rand.New(rand.NewPCG(306, uint64(i)))
		m, says := drawMechanism(rng)
		k, err := mechanism.New(m)
		if err != nil {
			continue
		}
		made++
		for range 20 { // the compiled curve, at what it promises
			s := m.Stroke * units.Length(rng.Float64())
			p, c := k.Pose(s), compiled(t, k)
			unitstest.Near(t, "compiled travel", c.TravelAt(s), p.Travel, unitstest.Abs(mm(1e-6)))
			unitstest.Near(t, "compiled ratio", c.LeverRatio(s), p.LeverRatio, unitstest.Abs(1e-7))
			unitstest.Near(t, "compiled slope", c.LeverRatioSlope(s), p.LeverRatioSlope, unitstest.Rel(1e-5), unitstest.Abs(units.RatioSlope(1e-5)))
		}
		by, turn, move := 0.2+4*rng.Float64(), cmplx.Rect(1, (rng.Float64()-0.5)*0.5), complex(rng.Float64()-0.5, rng.Float64()-0.5)
		id := func(z complex128) complex128 { return z }
		changes := []struct {
			what  string
			place func(complex128) complex128 // of every point
			size  float64
			m     func() mechanism.Spec
		}{
			{"mirrored", func(z complex128) complex128 { return -cmplx.Conj(z) }, 1, nil},
			{"turned", func(z complex128) complex128 { return z * turn }, 1, nil},
			{"moved", func(z complex128) complex128 { return z + move }, 1, nil},
			{"larger", func(z complex128) complex128 { return z * complex(by, 0) }, by, nil},
			{"all of it", func(z complex128) complex128 { return -cmplx.Conj(z)*turn*complex(by, 0) + move }, by, nil},
			{"with its shock turned round", id, 1, func() mechanism.Spec {
				c := m
				c.Shock = [2]string{m.Shock[1], m.Shock[0]}
				return c
			}},
			{"in other names and another order", id, 1, func() mechanism.Spec { return renamed(rng, m) }},
			{"solved by Newton's method", id, 1, nil},
		}
		for _, ch := range changes {
			source := m
			if ch.m != nil {
				source = ch.m()
			}
			other := source
			other.Points = map[string]mechanism.Point{}
			for name, p := range source.Points {
				z := ch.place(complex(float64(p[0]), float64(p[1])))
				other.Points[name] = mechanism.Point{units.Length(real(z)), units.Length(imag(z))}
			}
			other.Stroke *= units.Length(ch.size)
			solve := mechanism.New
			if ch.what == "solved by Newton's method" {
				solve = mechanism.NewByNewton
			}
			o, err := solve(other)
			if err != nil {
				if ch.what != "turned" && ch.what != "all of it" { // turned, the wheel may not rise
					t.Errorf("%s: %v", ch.what, err)
				}
				continue
			}
			at := func(p mechanism.Point) complex128 { return complex(float64(p[0]), float64(p[1])) }
			for j := range 9 {
				s := m.Stroke * units.Length(j) / 8
				a, b := k.Pose(s), o.Pose(s*units.Length(ch.size))
				unitstest.Near(t, ch.what+": what the axle rises", b.Travel, b.Axle[1]-o.Pose(0).Axle[1], unitstest.Abs(units.Length(1e-12*ch.size)))
				if off := cmplx.Abs(at(b.Axle) - ch.place(at(a.Axle))); off > 1e-11*ch.size {
					t.Errorf("%s: axle %v off at %v", ch.what, off, s)
				}
				// dP/ds as the places show it, less where the origin went to.
				way := ch.place(complex(a.AxleForward, a.LeverRatio)) - ch.place(0)
				got := complex(b.AxleForward, b.LeverRatio) * complex(ch.size, 0)
				if cmplx.Abs(got-way) > 1e-8*cmplx.Abs(way) {
					t.Errorf("%s: the axle goes %v per stroke at %v, want %v", ch.what, got, s, way)
				}
				unitstest.Near(t, ch.what+": path", float64(o.PathLength(s*units.Length(ch.size))), ch.size*float64(k.PathLength(s)), unitstest.Abs(1e-11*ch.size))
				unitstest.Near(t, ch.what+": turn of the carrier", math.Abs(float64(b.CarrierTurn)), math.Abs(float64(a.CarrierTurn)), unitstest.Abs(1e-9))
				if ch.what == "turned" || ch.what == "all of it" {
					continue
				}
				unitstest.Near(t, ch.what+": travel", float64(b.Travel), ch.size*float64(a.Travel), unitstest.Abs(1e-11*ch.size))
				unitstest.Near(t, ch.what+": compiled ratio", compiled(t, o).LeverRatio(s*units.Length(ch.size)), compiled(t, k).LeverRatio(s), unitstest.Abs(3e-7))
				unitstest.Near(t, ch.what+": slope", float64(b.LeverRatioSlope)*ch.size, float64(a.LeverRatioSlope), unitstest.Rel(1e-6), unitstest.Abs(1e-5))
			}
		}
		if t.Failed() {
			t.Fatalf("seed 306, %d: %s", i, says)
		}
	}
	if made < 30 {
		t.Errorf("%d of 60 draws are linkages: the test looks at too little", made)
	}
}

// renamed gives every point and every body but the frame another name, lists
// them in another order, and adds a mark that hangs on nothing.
func renamed(rng *rand.Rand, m mechanism.Spec) mechanism.Spec {
	names := map[string]string{}
	for _, p := range slices.Sorted(maps.Keys(m.Points)) {
		names[p] = fmt.Sprintf("%c%d", 'a'+rng.IntN(26), len(names))
	}
	c := mechanism.Spec{Points: map[string]mechanism.Point{}, Bodies: map[string][]string{}, Axle: names[m.Axle], Stroke: m.Stroke}
	c.Shock = [2]string{names[m.Shock[0]], names[m.Shock[1]]}
	for old, p := range m.Points {
		c.Points[names[old]] = p
	}
	c.Points["a mark"] = mechanism.Point{mm(10), mm(10)}
	for i, body := range slices.Sorted(maps.Keys(m.Bodies)) {
		points := make([]string, len(m.Bodies[body]))
		for j, p := range m.Bodies[body] {
			points[j] = names[p]
		}
		rng.Shuffle(len(points), func(a, b int) { points[a], points[b] = points[b], points[a] })
		if body != mechanism.Frame {
			body = fmt.Sprintf("%c%d", 'a'+rng.IntN(26), i)
		}
		c.Bodies[body] = points
	}
	return c
}

// drawMechanism moves every point of an invented mechanism by up to 8 mm.
func drawMechanism(rng *rand.Rand) (mechanism.Spec, string) {
	names := movable()
	name := names[rng.IntN(len(names))]
	m := spec(name)
	for _, p := range slices.Sorted(maps.Keys(m.Points)) {
		v := m.Points[p]
		m.Points[p] = mechanism.Point{v[0] + mm(16*rng.Float64()-8), v[1] + mm(16*rng.Float64()-8)}
	}
	return m, fmt.Sprintf("%s as %v", name, m.Points)
}
