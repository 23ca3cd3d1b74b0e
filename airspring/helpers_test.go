package airspring_test

import (
	"encoding/binary"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"gonum.org/v1/gonum/num/dual"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/spring/springtest"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

const (
	mm  = units.Millimetre
	cm3 = units.CubicCentimetre
)

// one, two and so on are specs in the units of the tables.
func one(bore, travel, volume, fill, n float64) airspring.Spec {
	return airspring.Spec{
		Bore: units.Length(bore) * mm, Travel: units.Length(travel) * mm, PositiveVolume: units.Volume(volume) * cm3,
		Fill: units.BarGauge(fill), Ambient: airspring.SeaLevel, Exponent: n,
	}
}

func (r twoRow) spec() airspring.Spec {
	s := one(r.bore, r.travel, r.positive, r.fill, r.n)
	s.Shaft, s.NegativeVolume, s.PortTravel = units.Length(r.shaft)*mm, units.Volume(r.negative)*cm3, units.Length(r.port)*mm
	return s
}

func make1(t testing.TB, s airspring.Spec) *airspring.Spring {
	t.Helper()
	law, err := airspring.New(s)
	if err != nil {
		t.Fatal(err)
	}
	return law
}

// textbook is the force of a spec written out anew in dual numbers, whose
// second part is the exact derivative. It knows nothing of what New prepares.
func textbook(s airspring.Spec, x float64) (force, rate float64) {
	c := func(v float64) dual.Number { return dual.Number{Real: v} }
	at := dual.Number{Real: x, Emag: 1}
	pa, n := float64(s.Ambient), s.Exponent
	ap := math.Pi * float64(s.Bore) * float64(s.Bore) / 4
	as := math.Pi * float64(s.Shaft) * float64(s.Shaft) / 4
	pf := float64(s.Fill) + pa
	v0 := float64(s.PositiveVolume) - float64(s.OilVolume) - float64(s.SpacerVolume)*float64(s.Spacers)
	vp := dual.Sub(c(v0), dual.Scale(ap, at))
	pp := dual.Scale(pf*math.Pow(v0, n), dual.PowReal(vp, -n))
	if s.SecondVolume > 0 {
		v2, p2 := float64(s.SecondVolume), float64(s.SecondFill)+pa
		if pp.Real >= p2 || p2 <= pf {
			sum := v0*math.Pow(pf, 1/n) + v2*math.Pow(p2, 1/n)
			pp = dual.PowReal(dual.Scale(1/sum, dual.Add(vp, c(v2))), -n)
		}
	}
	f := dual.Scale(ap, pp)
	if s.NegativeVolume == 0 {
		f = dual.Sub(f, c(ap*pa))
		return f.Real, f.Emag
	}
	an, xt, vn0 := ap-as, float64(s.PortTravel), float64(s.NegativeVolume)
	pt := pf * v0 / (v0 - ap*xt)
	if v2, p2 := float64(s.SecondVolume), float64(s.SecondFill)+pa; v2 > 0 && (pt >= p2 || p2 <= pf) {
		pt = (v0*pf + v2*p2) / (v0 + v2 - ap*xt)
	}
	pn0 := pt * (vn0 + an*xt) / vn0
	vn := dual.Add(c(vn0), dual.Scale(an, at))
	pn := dual.Scale(pn0*math.Pow(vn0, n), dual.PowReal(vn, -n))
	f = dual.Sub(dual.Sub(f, dual.Scale(an, pn)), c(as*pa))
	return f.Real, f.Emag
}

// checkLaw compares the force and the rate of a spring with the textbook. The spring
// keeps the contract of a law, with a kink where the second chamber opens, and rests
// where its force is 0.
func checkLaw(t *testing.T, s airspring.Spec) {
	t.Helper()
	law := make1(t, s)
	if law.Travel() != s.Travel {
		t.Fatalf("travel %v of %v", law.Travel(), s.Travel)
	}
	var kinks []units.Length
	if x := law.OpeningTravel(); x > 0 && x < s.Travel {
		kinks = append(kinks, x)
	}
	if err := springtest.TestLaw(law, kinks...); err != nil {
		t.Error(err)
	}
	if rest := law.RestTravel(); rest > 0 && rest < s.Travel {
		unitstest.Near(t, "force at rest", law.Force(rest), 0, unitstest.Abs(1e-12*law.Force(s.Travel)))
	}
	top, before := float64(law.Force(s.Travel)), math.Inf(-1)
	for i := range 42 {
		x := float64(s.Travel) * (float64(i) + 0.5) / 42
		f, k := textbook(s, x)
		got := float64(law.Force(units.Length(x)))
		if !(math.Abs(got-f) <= 1e-12*(math.Abs(f)+top)) {
			t.Errorf("force at %v: %v, want %v", x, got, f)
		}
		unitstest.Near(t, "rate", float64(law.Rate(units.Length(x))), k, unitstest.Rel(1e-11))
		if !(got > before) {
			t.Errorf("force does not rise at %v", x)
		}
		before = got
	}
}

// fieldsOf lists the fields an error names, sorted.
func fieldsOf(err error) []string {
	var names []string
	for _, f := range units.Fields(err) {
		names = append(names, f.Field)
	}
	slices.Sort(names)
	return names
}

func wantFields(t *testing.T, what string, err error, want ...string) {
	t.Helper()
	slices.Sort(want)
	if diff := cmp.Diff(want, fieldsOf(err)); diff != "" {
		t.Errorf("%s: fields (-want +got):\n%s%v", what, diff, err)
	}
}

var nan, inf = math.NaN(), math.Inf(1)

var close12 = unitstest.Rel(1e-12)

// randomSpec draws a spring of ordinary size.
func randomSpec(rng *rand.Rand) airspring.Spec {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	bore, travel := between(25, 55), between(35, 200)
	swept := math.Pi / 4 * bore * bore * travel / 1e3
	s := one(bore, travel, swept*between(1.1, 3), between(1, 25), []float64{1, 1 + 1e-7, 1.2, 1.4, between(1, 2)}[rng.IntN(5)])
	if rng.IntN(2) == 0 {
		s.Shaft, s.NegativeVolume = units.Length(between(6, 16))*mm, units.Volume(swept*between(0.1, 1))*cm3
		s.PortTravel = units.Length(between(0, travel*0.1)) * mm
	}
	if rng.IntN(2) == 0 {
		s.SpacerVolume, s.Spacers = (s.PositiveVolume-units.Volume(swept)*cm3)/10, rng.IntN(6)
		s.OilVolume = s.SpacerVolume / 3
	}
	return s
}

// roomy is a spring that holds whatever one of its sizes is set to: neither bore
// nor travel sweeps a chamber of 0.9 m³ away.
func roomy() airspring.Spec {
	return airspring.Spec{
		Bore: 36 * mm, Shaft: 10 * mm, Travel: 160 * mm, PositiveVolume: 0.9, NegativeVolume: 50 * cm3, PortTravel: 8 * mm,
		Fill: units.BarGauge(5), Ambient: airspring.SeaLevel, Exponent: 1,
	}
}

// numbers reads float64 values as they come, NaN and infinities included.
func numbers(data []byte, n int) []float64 {
	list := make([]float64, n)
	for i := range list {
		if len(data) >= 8 {
			list[i] = math.Float64frombits(binary.LittleEndian.Uint64(data))
			data = data[8:]
		}
	}
	return list
}

func bytesOf(list ...float64) []byte {
	var b []byte
	for _, v := range list {
		b = binary.LittleEndian.AppendUint64(b, math.Float64bits(v))
	}
	return b
}

func finite(list ...float64) bool {
	for _, v := range list {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

// named fails where an error names no field.
func named(t *testing.T, what string, err error) {
	t.Helper()
	if len(units.Fields(err)) == 0 {
		t.Fatalf("%s: an error that names no field: %v", what, err)
	}
}

func (r stagedRow) spec() airspring.Spec {
	s := one(r.bore, r.travel, r.volume, r.fill, r.n)
	s.SecondVolume, s.SecondFill = units.Volume(r.second)*cm3, units.BarGauge(r.secondFill)
	return s
}
