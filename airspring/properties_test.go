package airspring_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/spring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// kindsOfSpring draws an air spring of every kind: with an exponent of 1, of
// next to 1, of 1.4, or any.
var kindsOfSpring = []struct {
	name string
	draw func(rng *rand.Rand) airspring.Spec
}{
	{"one chamber", bareSpec},
	{"spacers and oil", func(rng *rand.Rand) airspring.Spec {
		s := bareSpec(rng)
		room := s.PositiveVolume - sweptBy(s)
		s.Spacers, s.OilVolume = 1+rng.IntN(5), room*units.Volume(0.3*rng.Float64())
		s.SpacerVolume = room * 0.65 / units.Volume(s.Spacers) * units.Volume(rng.Float64())
		return s
	}},
	{"negative chamber", func(rng *rand.Rand) airspring.Spec { return withNegative(rng, bareSpec(rng), 0) }},
	{"negative chamber and a deep port", func(rng *rand.Rand) airspring.Spec { return withNegative(rng, bareSpec(rng), 0.9) }},
	{"second chamber", func(rng *rand.Rand) airspring.Spec { return withSecond(rng, bareSpec(rng), 1.1, 4) }},
	{"softer second chamber", func(rng *rand.Rand) airspring.Spec { return withSecond(rng, bareSpec(rng), 0.3, 0.999) }},
	{"everything", func(rng *rand.Rand) airspring.Spec {
		return withSecond(rng, withNegative(rng, bareSpec(rng), 0.3), 0.5, 3)
	}},
}

func sweptBy(s airspring.Spec) units.Volume {
	return units.Volume(math.Pi / 4 * float64(s.Bore) * float64(s.Bore) * float64(s.Travel))
}

func bareSpec(rng *rand.Rand) airspring.Spec {
	between := func(lo, hi float64) float64 { return lo + (hi-lo)*rng.Float64() }
	s := one(between(10, 80), between(20, 300), 0, between(0.5, 30), []float64{1, 1 + 1e-9, 1.4, between(1, 2)}[rng.IntN(4)])
	s.PositiveVolume = sweptBy(s) * units.Volume(between(1.05, 5))
	s.Ambient = units.AbsolutePressure(between(60e3, 103e3))
	return s
}

func withNegative(rng *rand.Rand, s airspring.Spec, deep float64) airspring.Spec {
	s.Shaft = s.Bore * units.Length(0.1+0.8*rng.Float64())
	s.NegativeVolume = sweptBy(s) * units.Volume(0.05+2*rng.Float64())
	s.PortTravel = s.Travel * units.Length(deep*rng.Float64())
	return s
}

func withSecond(rng *rand.Rand, s airspring.Spec, lo, hi float64) airspring.Spec {
	s.SecondVolume = s.PositiveVolume * units.Volume(0.05+rng.Float64())
	s.SecondFill = s.Fill * units.GaugePressure(lo+(hi-lo)*rng.Float64())
	return s
}

// eachSpec runs a check on springs of every kind, on a quarter of them unless heavy
// sweeps are wanted.
func eachSpec(t *testing.T, seed uint64, of int, check func(t *testing.T, rng *rand.Rand, s airspring.Spec)) {
	t.Helper()
	if !unitstest.Long() {
		of = (of + 3) / 4
	}
	for _, kind := range kindsOfSpring {
		t.Run(kind.name, func(t *testing.T) {
			for i := range of {
				rng := rand.New(rand.NewPCG(seed, uint64(i)))
				s := kind.draw(rng)
				if check(t, rng, s); t.Failed() {
					t.Fatalf("seed %d, %d: %#v", seed, i, s)
				}
			}
		})
	}
}

// Force and rate are those of the textbook in dual numbers, energy is the
// integral of force, and force rises.
func TestEveryKindAgainstTextbook(t *testing.T) {
	eachSpec(t, 201, 40, func(t *testing.T, _ *rand.Rand, s airspring.Spec) { checkLaw(t, s) })
}

// Force rises strictly between travels as far apart as rounding tells, and never
// falls by more than rounding, at the travel where the second chamber opens
// and next to it as anywhere.
func TestForceNeverFalls(t *testing.T) {
	eachSpec(t, 202, 200, func(t *testing.T, rng *rand.Rand, s airspring.Spec) {
		law := make1(t, s)
		xs := []units.Length{0, s.Travel}
		for range 100 {
			xs = append(xs, s.Travel*units.Length(rng.Float64()))
		}
		for _, x := range []units.Length{0, law.OpeningTravel(), s.PortTravel, s.Travel} {
			for _, off := range []float64{-1e-6, -1e-9, -1e-12, -1e-15, 0, 1e-15, 1e-12, 1e-9, 1e-6} {
				xs = append(xs, x+s.Travel*units.Length(off))
			}
		}
		slices.Sort(xs)
		for i, x := range xs[1:] {
			from, to := float64(law.Force(xs[i])), float64(law.Force(x))
			size := float64(law.PositivePressure(x)) * math.Pi / 4 * float64(s.Bore*s.Bore)
			rise := float64(law.Rate(x)) * float64(spring.Clamp(x, s.Travel)-spring.Clamp(xs[i], s.Travel))
			if !(to >= from-1e-14*size) || rise > 1e-12*size && !(to > from) {
				t.Errorf("force from %v to %v between %v and %v", from, to, float64(xs[i]), float64(x))
			}
		}
	})
}

// moles of an ideal gas.
func moles(p units.AbsolutePressure, v units.Volume) float64 {
	const r, temperature = 8.314462618, 293.15
	return float64(p) * float64(v) / (r * temperature)
}

// Over a stroke every chamber, that behind the free piston too, keeps its p·Vⁿ, which is
// the amount of its gas where the stroke is slow. At the port a slow stroke has one
// pressure in both chambers.
func TestGasIsKeptOverTheStroke(t *testing.T) {
	eachSpec(t, 205, 200, func(t *testing.T, rng *rand.Rand, s airspring.Spec) {
		fast := s.Exponent
		for _, n := range []float64{1, fast} {
			s.Exponent = n
			law := make1(t, s)
			bore, shaft := float64(s.Bore), float64(s.Shaft)
			around := units.Volume(math.Pi / 4 * (bore*bore - shaft*shaft))
			whole := s.PositiveVolume - s.OilVolume - units.Volume(s.Spacers)*s.SpacerVolume
			second := law.OpeningTravel()
			kept := func(p units.AbsolutePressure, v units.Volume) float64 {
				return moles(1, 1) * float64(p) * math.Pow(float64(v), n)
			}
			first0 := kept(s.Fill.Absolute(s.Ambient), whole)
			behind0 := kept(s.SecondFill.Absolute(s.Ambient), s.SecondVolume)
			negative0 := kept(law.NegativePressure(0), s.NegativeVolume)
			before := law.PositivePressure(0)
			for i := range 21 {
				x := s.Travel * units.Length(i) / 20
				p := law.PositivePressure(x)
				if !(p >= before) {
					t.Errorf("the pressure falls to %v at %v", p, x)
				}
				before = p
				behind := law.SecondVolume(x)
				// What the free piston gives way is the first chamber's.
				own := whole - units.Volume(math.Pi/4*bore*bore)*units.Volume(x) + (s.SecondVolume - behind)
				unitstest.Near(t, "gas of the first chamber", kept(p, own), first0, unitstest.Rel(1e-11))
				if s.SecondVolume > 0 && x >= second {
					unitstest.Near(t, "gas behind the free piston", kept(p, behind), behind0, unitstest.Rel(1e-11))
				}
				if s.NegativeVolume > 0 {
					unitstest.Near(t, "gas of the negative chamber", kept(law.NegativePressure(x), s.NegativeVolume+around*units.Volume(x)), negative0, unitstest.Rel(1e-11))
				}
			}
			if s.NegativeVolume > 0 && n == 1 {
				unitstest.Near(t, "pressure at the port", law.NegativePressure(s.PortTravel), law.PositivePressure(s.PortTravel), unitstest.Rel(1e-12))
			}
		}
	})
}

// What is pumped in, less what is let out, is what both chambers hold more at the
// end of topping up than before, by sums of p·V/(R·T) over every step. A step
// starts where the last one ended. After a cycle both chambers had one pressure at
// the port, and the reading is off by Δ·β^k. The last reading alone is within the
// limit. Of a spring from which air is let out, it holds where the spring stands.
func TestTopUpKeepsTheGas(t *testing.T) {
	for i := range 400 {
		rng := rand.New(rand.NewPCG(206, uint64(i)))
		spec := withNegative(rng, bareSpec(rng), 0.9)
		ask := airspring.TopUpOf(spec, units.GaugePressure(0.5e5+30e5*rng.Float64()), units.GaugePressure(math.Pow(10, 1+4*rng.Float64())))
		if rng.IntN(4) == 0 {
			ask.OldFill = 0
		}
		plan, err := airspring.PlanTopUp(ask)
		if err != nil {
			t.Fatalf("seed 206, %d: %#v: %v", i, ask, err)
		}
		vp, vn := ask.PositiveVolume, ask.NegativeVolume
		port := func(v units.Volume, d2 float64) units.Volume {
			return v + units.Volume(math.Pi/4*d2)*units.Volume(ask.PortTravel)
		}
		bore2, shaft2 := float64(ask.Bore*ask.Bore), float64(ask.Shaft*ask.Shaft)
		open, around := port(vp, -bore2), port(vn, bore2-shaft2)
		pn := ask.Ambient
		if ask.OldFill > 0 { // settled at the old fill: one pressure at the port
			pn = ask.OldFill.Absolute(ask.Ambient) * units.AbsolutePressure(vp/open*around/vn)
		}
		start := moles(ask.OldFill.Absolute(ask.Ambient), vp) + moles(pn, vn)
		// The positive chamber where the spring stands: at full extension, but for letting air out.
		room := func(stands units.Length) units.Volume { return vp - units.Volume(math.Pi/4*bore2)*units.Volume(stands) }
		pumped, cycle, shown, before := 0.0, 0, plan.Steps[0].Before, vp
		if lowers := ask.Fill < ask.OldFill; lowers {
			before = vp * units.Volume(ask.OldFill.Absolute(ask.Ambient)/shown.Absolute(ask.Ambient))
		} else if shown != ask.OldFill {
			t.Errorf("%v is raised from %v", ask.OldFill, shown)
		}
		for _, step := range plan.Steps {
			if step.Before != shown || step.Action == airspring.Pump && step.After != ask.Fill {
				t.Errorf("%+v where the gauge shows %v", step, shown)
			}
			if step.Stands > 0 && !(step.Stands <= plan.PullIn && plan.PullIn < ask.PortTravel && plan.PullIn > 0) {
				t.Errorf("%+v: not to be pulled in by more than %v", step, plan.PullIn)
			}
			shown = step.After
			was, is := moles(step.Before.Absolute(ask.Ambient), before), moles(step.After.Absolute(ask.Ambient), room(step.Stands))
			before = room(step.Stands)
			if step.Action != airspring.Cycle {
				pumped += is - was
				if up := is > was; up != (step.Action == airspring.Pump) {
					t.Errorf("%+v", step)
				}
				continue
			}
			held := was + moles(pn, vn)
			pn = plan.NegativePressure[cycle]
			unitstest.Near(t, "gas over a cycle", is+moles(pn, vn), held, unitstest.Rel(1e-12))
			unitstest.Near(t, "gas at full extension", moles(plan.Reading[cycle].Absolute(ask.Ambient), vp), is, unitstest.Rel(1e-12))
			cycle++
		}
		end := moles(plan.Reading[plan.Cycles-1].Absolute(ask.Ambient), vp) + moles(plan.NegativePressure[plan.Cycles-1], vn)
		unitstest.Near(t, "gas at the end", end, start+pumped, unitstest.Rel(1e-11))
		for k, reading := range plan.Reading {
			off := float64(ask.Fill - reading)
			if last := k == plan.Cycles-1; last != (math.Abs(off) <= float64(ask.Within)) {
				t.Errorf("cycle %d of %d ends %v Pa off", k+1, plan.Cycles, off)
			}
			p := plan.NegativePressure[k] * units.AbsolutePressure(vn/around)
			unitstest.Near(t, "pressure at the port", p, reading.Absolute(ask.Ambient)*units.AbsolutePressure(vp/open), close12)
			// And both chambers had one pressure at the port before, and the whole change was made at once.
			if ask.OldFill > 0 && plan.PullIn == 0 {
				want := float64(ask.Fill-ask.OldFill) * math.Pow(plan.Carry, float64(k+1))
				unitstest.Near(t, "closed form", off, want, unitstest.Rel(1e-6), unitstest.Abs(1e-9*float64(ask.Fill)))
			}
		}
		if t.Failed() {
			t.Fatalf("seed 206, %d: %#v", i, ask)
		}
	}
}

// Chamber and hose keep their gas, by sums of p·V/(R·T): before, the chamber is at its
// fill and the hose at the ambient; after, both are at the reading. A larger hose has a
// lower reading, from the fill without one to nearly 0. HoseFill inverts HoseReading.
func TestHoseKeepsTheGas(t *testing.T) {
	for i := range 1000 {
		rng := rand.New(rand.NewPCG(207, uint64(i)))
		chamber := units.Volume(math.Pow(10, -9+8*rng.Float64()))
		hose := min(chamber*units.Volume(math.Pow(10, -6+8*rng.Float64())), 1)
		fill, ambient := units.GaugePressure(math.Pow(10, 3+4.5*rng.Float64())), units.AbsolutePressure(60e3+45e3*rng.Float64())
		must := func(p units.GaugePressure, err error) units.GaugePressure {
			if err != nil {
				t.Fatalf("seed 207, %d: %v", i, err)
			}
			return p
		}
		reading := must(airspring.HoseReading(chamber, hose, fill))
		before := moles(fill.Absolute(ambient), chamber) + moles(ambient, hose)
		after := moles(reading.Absolute(ambient), chamber) + moles(reading.Absolute(ambient), hose)
		unitstest.Near(t, "gas", after, before, unitstest.Rel(1e-13))
		if back := must(airspring.HoseFill(chamber, hose, reading)); math.Abs(float64(back-fill)) > 1e-14*float64(fill) {
			t.Errorf("filled to %v, it had %v", fill, back)
		}
		if none := must(airspring.HoseReading(chamber, 0, fill)); none != fill {
			t.Errorf("without a hose %v shows %v", fill, none)
		}
		if more := must(airspring.HoseReading(chamber, min(hose*2, 1), fill)); hose <= 0.5 && !(more < reading) {
			t.Errorf("twice the hose shows %v after %v", more, reading)
		}
		if huge := must(airspring.HoseReading(1e-9, 1, fill)); !(huge < 2e-9*fill) {
			t.Errorf("a huge hose shows %v of %v", huge, fill)
		}
		if t.Failed() {
			t.Fatalf("seed 207, %d: chamber %v, hose %v, fill %v", i, float64(chamber), float64(hose), float64(fill))
		}
	}
}

// A spring with every pressure doubled, the ambient too, has twice the force, rate and
// energy at the same travel, and the same sag under twice the load. A spring c times as
// large has c² times the force, c times the rate and c³ times the energy.
func TestSimilarity(t *testing.T) {
	eachSpec(t, 208, 200, func(t *testing.T, rng *rand.Rand, s airspring.Spec) {
		c := 0.5 + rng.Float64()
		double, long := s, s
		double.Fill, double.SecondFill, double.Ambient = 2*s.Fill, 2*s.SecondFill, 2*s.Ambient
		for _, l := range []*units.Length{&long.Bore, &long.Shaft, &long.Travel, &long.PortTravel} {
			*l *= units.Length(c)
		}
		for _, v := range []*units.Volume{&long.PositiveVolume, &long.NegativeVolume, &long.OilVolume, &long.SpacerVolume, &long.SecondVolume} {
			*v *= units.Volume(c * c * c)
		}
		law, twice, longer := make1(t, s), make1(t, double), make1(t, long)
		size := units.Force(float64(law.PositivePressure(s.Travel)) * float64(s.Bore*s.Bore))
		for range 8 {
			x := s.Travel * units.Length(rng.Float64())
			y := x * units.Length(c)
			f, k, e := law.Force(x), law.Rate(x), law.Energy(x)
			slack := unitstest.Abs(1e-13 * float64(size))
			work := unitstest.Abs(1e-13 * float64(size) * float64(s.Travel))
			unitstest.Near(t, "twice the force", float64(twice.Force(x)), 2*float64(f), slack)
			unitstest.Near(t, "twice the rate", float64(twice.Rate(x)), 2*float64(k), unitstest.Rel(1e-12))
			unitstest.Near(t, "twice the energy", float64(twice.Energy(x)), 2*float64(e), work)
			unitstest.Near(t, "force of the longer", float64(longer.Force(y))/(c*c), float64(f), slack)
			unitstest.Near(t, "rate of the longer", float64(longer.Rate(y))/c, float64(k), unitstest.Rel(1e-10))
			unitstest.Near(t, "energy of the longer", float64(longer.Energy(y))/(c*c*c), float64(e), work)
		}
		if load := law.Force(s.Travel * 0.6); load > 0 {
			a, err := spring.Settle(law, load)
			b, err2 := spring.Settle(twice, 2*load)
			if err != nil || err2 != nil || math.Abs(float64(a-b)) > 1e-11*float64(s.Travel) {
				t.Errorf("twice the load settles at %v, %v, want %v, %v", b, err2, a, err)
			}
		}
	})
}

// Beyond full extension the force rises with the exponent, and an exponent near 1 has
// nearly the force of 1. Spacers that are not fitted have no effect, and fitted ones that
// of as much oil. Pressure and work are those of a polytropic change, and the rate at full
// extension is n·p·A²/V, that of a small vibration.
func TestLimitingCases(t *testing.T) {
	eachSpec(t, 209, 200, func(t *testing.T, rng *rand.Rand, s airspring.Spec) {
		x := s.Travel * units.Length(0.05+0.95*rng.Float64())
		at := func(n float64, s airspring.Spec) *airspring.Spring {
			s.Exponent = n
			return make1(t, s)
		}
		if s.SecondVolume == 0 || s.SecondFill > s.Fill {
			before := at(1, s).Force(x)
			for _, n := range []float64{1.1, 1.25, 1.4, 1.7, 2} {
				f := at(n, s).Force(x)
				if !(f > before) {
					t.Errorf("at %v an exponent of %v gives %v N after %v", x, n, float64(f), float64(before))
				}
				before = f
			}
		}
		slow := at(1, s)
		size := float64(slow.PositivePressure(x)) * float64(s.Bore*s.Bore)
		for _, d := range []float64{1e-6, 1e-10, 0x1p-52} {
			near, off := at(1+d, s), (100*d+1e-13)*size
			unitstest.Near(t, "force towards 1", float64(near.Force(x)), float64(slow.Force(x)), unitstest.Abs(off))
			unitstest.Near(t, "energy towards 1", float64(near.Energy(x)), float64(slow.Energy(x)), unitstest.Abs(off*float64(s.Travel)))
		}

		law, n := make1(t, s), s.Exponent
		if s.Spacers == 0 {
			idle := s
			idle.SpacerVolume = s.PositiveVolume / 2 // not fitted
			if other := make1(t, idle); other.Force(x) != law.Force(x) || other.Rate(x) != law.Rate(x) || other.Energy(x) != law.Energy(x) {
				t.Error("a spacer that is not fitted counts")
			}
		} else {
			filled := s
			filled.Spacers, filled.OilVolume = 0, s.OilVolume+units.Volume(s.Spacers)*s.SpacerVolume
			unitstest.Near(t, "oil for spacers", float64(make1(t, filled).Force(x)), float64(law.Force(x)), unitstest.Abs(1e-10*size))
		}
		if s.SecondVolume > 0 {
			return
		}
		from, to := law.PositiveVolume(0), law.PositiveVolume(x)
		change, err := gas.Polytropic(gas.PolytropicChange{Pressure: law.PositivePressure(0), Volume: from, ToVolume: to, Exponent: n})
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "pressure", float64(change.Pressure), float64(law.PositivePressure(x)), unitstest.Rel(1e-12))
		if s.NegativeVolume > 0 {
			return
		}
		area := math.Pi / 4 * float64(s.Bore*s.Bore)
		unitstest.Near(t, "work", float64(change.Work)-float64(s.Ambient)*area*float64(x), float64(law.Energy(x)), unitstest.Rel(1e-10), unitstest.Abs(1e-13*size*float64(s.Travel)))
		small := n * area * area * float64(law.PositivePressure(0)) / float64(from)
		unitstest.Near(t, "rate of a small stroke", float64(law.Rate(0)), small, unitstest.Rel(1e-12))
		for _, w := range []float64{0, 1e12} {
			r, err := gas.Vibrate(gas.Vibration{Area: units.Area(area), Volume: from, Fill: s.Fill, Ambient: s.Ambient, HeatRatio: n, OmegaTau: w})
			if err != nil {
				t.Fatal(err)
			}
			want := small
			if w == 0 {
				want /= n
			}
			unitstest.Near(t, "rate of a vibration", float64(r.StorageRate), want, unitstest.Rel(1e-11))
		}
	})
}

// A sealed spring brought to another temperature and ambient keeps its gas, by
// p·V/(R·T) of every chamber, and has its old fill again once it is brought back.
func TestConditionsKeepTheGas(t *testing.T) {
	eachSpec(t, 210, 200, func(t *testing.T, rng *rand.Rand, s airspring.Spec) {
		from, to := units.Temperature(250+80*rng.Float64()), units.Temperature(250+80*rng.Float64())
		ambient := units.AbsolutePressure(70e3 + 30e3*rng.Float64())
		moved, err := airspring.SpecAt(s, from, to, ambient)
		if err != nil {
			if f := units.Fields(err); len(f) != 1 || f[0].Field != "to_ambient" { // the cold may take all of a small fill
				t.Error(err)
			}
			return
		}
		a, b := make1(t, s), make1(t, moved)
		for range 5 {
			x := s.Travel * units.Length(rng.Float64())
			unitstest.Near(t, "positive", float64(b.PositivePressure(x))/float64(to), float64(a.PositivePressure(x))/float64(from), unitstest.Rel(1e-11))
			if s.NegativeVolume > 0 {
				unitstest.Near(t, "negative", float64(b.NegativePressure(x))/float64(to), float64(a.NegativePressure(x))/float64(from), unitstest.Rel(1e-11))
			}
		}
		back, err := airspring.SpecAt(moved, to, from, s.Ambient)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "fill", float64(back.Fill), float64(s.Fill), unitstest.Abs(1e-12*float64(s.Fill.Absolute(s.Ambient))))
		unitstest.Near(t, "second fill", float64(back.SecondFill), float64(s.SecondFill), unitstest.Abs(1e-12*float64(s.SecondFill.Absolute(s.Ambient))))
	})
}

// FillFor returns the fill that a force came from, for every kind of spring, and a higher
// one for a greater force.
func TestFillForInverts(t *testing.T) {
	eachSpec(t, 211, 200, func(t *testing.T, rng *rand.Rand, s airspring.Spec) {
		x := s.Travel * units.Length(0.2+0.8*rng.Float64())
		load := make1(t, s).Force(x)
		fill, err := airspring.FillFor(s, load, x)
		if err != nil {
			if f := units.Fields(err); len(f) != 1 || f[0].Field != "at" { // more fill may pull in harder
				t.Error(err)
			}
			return
		}
		filled := s
		filled.Fill = fill
		size := float64(make1(t, s).PositivePressure(x)) * float64(s.Bore*s.Bore)
		unitstest.Near(t, "force", float64(make1(t, filled).Force(x)), float64(load), unitstest.Abs(1e-11*size))
		if s.SecondVolume > 0 { // two fills may carry the force
			return
		}
		unitstest.Near(t, "fill", float64(fill), float64(s.Fill), unitstest.Rel(1e-9))
		if more, err := airspring.FillFor(s, load*units.Force(1.01), x); err == nil && load > 0 && !(more > fill) {
			t.Errorf("more load takes a fill of %v after %v", more, fill)
		}
	})
}
