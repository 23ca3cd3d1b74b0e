package spring_test

import (
	"cmp"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"gonum.org/v1/gonum/integrate/quad"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// Travel, force and rate are those of the model.
func TestEveryLawIsItsModel(t *testing.T) {
	eachDrawn(t, 101, 16, func(t *testing.T, r dice, d *drawn) {
		law := d.make(t, 1, 1)
		clamped(t, law)
		agree(t, "travel", float64(law.Travel()), d.model.travel, 1e-11)
		top := math.Abs(d.model.force(d.model.travel).Real)
		for _, x := range places(r, d.model, 12) {
			want := d.model.force(x)
			if got := float64(law.Force(units.Length(x))); math.Abs(got-want.Real) > 1e-10*math.Abs(want.Real)+1e-13*top {
				t.Errorf("force at %v = %v, want %v", x, got, want.Real)
			}
			if got := float64(law.Rate(units.Length(x))); math.Abs(got-want.Emag) > 1e-7*want.Emag {
				t.Errorf("rate at %v = %v, want %v", x, got, want.Emag)
			}
		}
	})
}

// Force never falls: over drawn travels, the kinks and the numbers next to them.
// Where a stack is solved in steps it may fall by the rounding of force and of
// travel: where a spring of even pitch goes solid, the last digit of the travel
// is a hundred millionth of the force.
func TestForceNeverFalls(t *testing.T) {
	eachDrawn(t, 102, 60, func(t *testing.T, r dice, d *drawn) {
		law := d.make(t, 1, 1)
		var xs []units.Length
		for range 100 {
			xs = append(xs, law.Travel()*units.Length(r.Float64()))
		}
		for _, x := range d.model.ends() {
			for _, off := range []float64{-1e-9, -1e-12, -3e-14, -1e-14, -1e-15, 0, 1e-15, 1e-14, 3e-14, 1e-12, 1e-9} {
				xs = append(xs, units.Length(x)+units.Length(off)*law.Travel())
			}
			xs = append(xs, units.Length(math.Nextafter(x, 0)), units.Length(math.Nextafter(x, 2*x+1)))
		}
		slices.Sort(xs)
		before := law.Force(0)
		for _, x := range xs {
			f := law.Force(x)
			slack := 0.0
			if d.stepped && f < before {
				near, at := 5e-14*d.model.travel, max(0, min(float64(x), d.model.travel))
				slack = 1e-12*math.Abs(float64(before)) +
					d.model.force(min(at+near, d.model.travel)).Real - d.model.force(max(at-near, 0)).Real
			}
			if !(f >= before-units.Force(slack)) {
				t.Errorf("force falls from %v to %v (by %g) at %v", float64(before), float64(f), float64(before-f), float64(x))
			}
			before = f
		}
	})
}

// Energy is the integral of force, from kink to kink. The travel is taken as
// to − (to − from)·t², so that the square root with which a spring of even
// pitch goes solid is smooth.
func TestEnergyIsTheIntegralOfForce(t *testing.T) {
	eachDrawn(t, 103, 25, func(t *testing.T, _ dice, d *drawn) {
		law := d.make(t, 1, 1)
		ends, sum := d.model.ends(), 0.0
		for i := range len(ends) - 1 {
			from, to := ends[i], ends[i+1]
			work := func(t float64) float64 {
				return float64(law.Force(units.Length(to-(to-from)*t*t))) * 2 * (to - from) * t
			}
			// Beside a stiff spring the root lies just beyond the kink.
			for _, part := range [][2]float64{{0, 1e-3}, {1e-3, 0.01}, {0.01, 0.1}, {0.1, 1}} {
				sum += quad.Fixed(work, part[0], part[1], 12, quad.Legendre{}, 0)
			}
			got, whole := float64(law.Energy(units.Length(to))), float64(law.Energy(law.Travel()))
			if math.Abs(got-sum) > 1e-10*sum+1e-14*whole {
				t.Errorf("energy at %v = %v, want %v", to, got, sum)
			}
		}
		if law.Energy(0) != 0 {
			t.Errorf("energy at 0 = %v", law.Energy(0))
		}
	})
}

// The rate is the slope of the force by central differences, extrapolated once
// (Richardson): what no model has a part in.
func TestRateIsTheSlopeOfForce(t *testing.T) {
	eachDrawn(t, 104, 16, func(t *testing.T, r dice, d *drawn) {
		law := d.make(t, 1, 1)
		ends := d.model.ends()
		for i := range len(ends) - 1 {
			from, to := ends[i], ends[i+1]
			for range 3 {
				x, h := from+(to-from)*r.between(0.05, 0.95), (to-from)*2e-3
				if d.model.holds(x) {
					continue
				}
				slope := func(h float64) float64 {
					return float64(law.Force(units.Length(x+h))-law.Force(units.Length(x-h))) / (2 * h)
				}
				want, noise := (4*slope(h/2)-slope(h))/3, 1e-13*math.Abs(float64(law.Force(units.Length(x))))/h
				if got := float64(law.Rate(units.Length(x))); math.Abs(got-want) > 1e-6*want+noise {
					t.Errorf("rate at %v = %v, want %v", x, got, want)
				}
			}
		}
	})
}

// Exactly at a kink the rate is the right-hand one, at full travel the left-hand
// one, where the kink is known from the law itself; and from number to number
// across it the force does not fall by a bit.
func TestKinksOfGroups(t *testing.T) {
	for i := range 400 {
		r := dice{rand.New(rand.NewPCG(105, uint64(i)))}
		groups := make([]spring.Group, 2+r.IntN(4))
		for i := range groups {
			groups[i] = spring.Group{Rate: units.Stiffness(r.log(1e3, 1e5)), Gap: units.Length(r.log(1e-3, 0.1))}
		}
		law := groupsOf(t, groups...)
		start := law.Travel() * units.Length(r.between(0.05, 0.95))
		kinks := []units.Length{start}
		for j, at := range ends(law) {
			kinks = append(kinks, units.Length(at.travel))
			open := 0.0 // the compliance of the groups that are still open, from the input
			for _, g := range groups {
				if float64(g.Rate)*float64(g.Gap) > at.force {
					open += 1 / float64(g.Rate)
				}
			}
			if j == len(groups)-1 {
				last := slices.MaxFunc(groups, func(a, b spring.Group) int { return cmp.Compare(a.Rate.Times(a.Gap), b.Rate.Times(b.Gap)) })
				open = 1 / float64(last.Rate)
			}
			agree(t, fmt.Sprintf("%d: %v: rate at the closure %v", i, groups, at.travel), float64(law.Rate(units.Length(at.travel))), 1/open, 1e-12)
		}
		for _, second := range []spring.Law{law, opaque{law}} {
			side := parallelOf(t, spring.Member{Law: law}, spring.Member{Law: second, StartsAt: start})
			agree(t, fmt.Sprintf("%d: rate where the second starts, %v", i, start), side.Rate(start), law.Rate(start)+law.Rate(0), 1e-12)
			for _, one := range []spring.Law{law, side} {
				for _, kink := range kinks {
					x := kink
					for range 150 {
						x = units.Length(math.Nextafter(float64(x), 0))
					}
					before := one.Force(x)
					for range 300 {
						x = units.Length(math.Nextafter(float64(x), 1))
						f := one.Force(x)
						if f < before {
							t.Fatalf("%d: %v: force falls from %v to %v at %v", i, groups, float64(before), float64(f), float64(x))
						}
						before = f
					}
				}
			}
		}
	}
}

// Settle inverts: the force at the travel it finds is the load to 1e-12, or as
// near as a travel in float64, and the 1e-13 of the travel that Settle gives,
// let it be; the travel at which a load was taken is found again; the ends are
// exact, and a hair beyond them the load topples the spring out. Loads inside a
// jump of the force are refused as such.
func TestSettleInvertsEveryLaw(t *testing.T) {
	eachDrawn(t, 106, 16, func(t *testing.T, r dice, d *drawn) {
		law := d.make(t, 1, 1)
		low, high, travel := law.Force(0), law.Force(law.Travel()), float64(law.Travel())
		if x, err := spring.Settle(law, low); x != 0 || err != nil {
			t.Errorf("the force at full extension settles at %v, %v", x, err)
		}
		if x, err := spring.Settle(law, high); x != law.Travel() || err != nil {
			t.Errorf("the force at full travel settles at %v, %v", x, err)
		}
		if _, err := spring.Settle(law, units.Force(math.Nextafter(float64(low), math.Inf(-1)))); !errors.Is(err, spring.ErrToppedOut) {
			t.Errorf("below the force at full extension: %v", err)
		}
		if _, err := spring.Settle(law, units.Force(math.Nextafter(float64(high), math.Inf(1)))); !errors.Is(err, spring.ErrBottomedOut) {
			t.Errorf("above the force at full travel: %v", err)
		}
		for _, x := range places(r, d.model, 8) {
			load := law.Force(units.Length(x))
			got, err := spring.Settle(law, load)
			if err != nil {
				t.Errorf("the force at %v settles: %v", x, err)
				continue
			}
			rate := float64(law.Rate(units.Length(x)))
			back := float64(law.Force(got))
			if math.Abs(back-float64(load)) > 1e-12*math.Abs(float64(load))+1e-13*travel*max(rate, float64(law.Rate(got))) {
				t.Errorf("%v N settles where the force is %v", float64(load), back)
			}
			if rate > 0 && math.Abs(float64(got)-x) > 1e-12*travel+1e-12*math.Abs(float64(load))/rate {
				t.Errorf("the force at %v settles at %v", x, float64(got))
			}
		}
		ends := d.model.ends()
		for i := 1; i < len(ends)-1; i++ { // a jump
			below, above := d.model.force(ends[i]-1e-7*travel).Real, d.model.force(ends[i]+1e-7*travel).Real
			if above-below > 1e-3*float64(high-low) {
				if x, err := spring.Settle(law, units.Force((below+above)/2)); !errors.Is(err, spring.ErrJump) {
					t.Errorf("a load inside the jump at %v settles at %v, %v", ends[i], x, err)
				}
			}
		}
	})
}

// Every stiffness times a, every length times b: travel times b, rate times a,
// force times a·b, energy times a·b²; and a load times a·b settles at b times the
// travel, so that doubling loads and stiffnesses keeps the sag.
func TestSimilarity(t *testing.T) {
	eachDrawn(t, 107, 10, func(t *testing.T, r dice, d *drawn) {
		a, b := r.log(0.1, 10), r.log(0.5, 2)
		law, other := d.make(t, 1, 1), d.make(t, a, b)
		agree(t, "travel", float64(other.Travel()), b*float64(law.Travel()), 1e-12)
		doubled := d.make(t, 2, 1)
		for _, at := range places(r, d.model, 4) {
			x, y := units.Length(at), units.Length(b*at)
			agree(t, fmt.Sprint("force at ", at), float64(other.Force(y)), a*b*float64(law.Force(x)), 1e-9)
			agree(t, fmt.Sprint("rate at ", at), float64(other.Rate(y)), a*float64(law.Rate(x)), 1e-7)
			agree(t, fmt.Sprint("energy at ", at), float64(other.Energy(y)), a*b*b*float64(law.Energy(x)), 1e-9)
			if rate := float64(law.Rate(x)); rate > 0 {
				sag, err := spring.Settle(doubled, 2*law.Force(x))
				if err != nil || math.Abs(float64(sag)-at) > 1e-11*(float64(law.Travel())+math.Abs(float64(law.Force(x)))/rate) {
					t.Errorf("twice the load on twice the spring settles at %v, %v, want %v", float64(sag), err, at)
				}
			}
		}
	})
}

// What stacks come to where there is nothing to stack: one spring alone; one
// beside it next to nothing, or at the end of it next to rigid; n of a kind; in
// another order; a preload in two goes.
func TestStackLimits(t *testing.T) {
	eachDrawn(t, 108, 25, func(t *testing.T, r dice, d *drawn) {
		law := d.make(t, 1, 1)
		travel, high := float64(law.Travel()), float64(law.Force(law.Travel()))
		n := 2 + r.IntN(2)
		if !d.exact {
			n = 2 // each further one is inverted in every step
		}
		same, beside := make([]spring.Law, n), make([]spring.Member, n)
		for i := range same {
			same[i], beside[i] = law, spring.Member{Law: law}
		}
		other := linearOf(t, high/travel, 3*travel)
		rigid := linearOf(t, 1e12*high/travel, 2e-12*travel)
		soft := linearOf(t, 1e-12*high/travel, 2*travel)
		by := law.Travel() * units.Length(r.between(0.1, 0.4))
		once, twice := preloadedOf(t, law, 2*by), preloadedOf(t, preloadedOf(t, law, by), by)
		stacks := []struct {
			name     string
			law, as  spring.Law
			along, n units.Length // travel and force of the law are these times the other's
			off      float64      // how far off a limit is, as a share of travel and force
		}{
			{"one in series", seriesOf(t, law), law, 1, 1, 0},
			{"one in parallel", parallelOf(t, spring.Member{Law: law}), law, 1, 1, 0},
			{"on end with a rigid one", seriesOf(t, law, rigid), law, 1, 1, 1e-11},
			{"beside a soft one", parallelOf(t, spring.Member{Law: law}, spring.Member{Law: soft}), law, 1, 1, 1e-11},
			{"alike, in series", seriesOf(t, same...), law, units.Length(n), 1, 0},
			{"alike, in parallel", parallelOf(t, beside...), law, 1, units.Length(n), 0},
			{"series the other way round", seriesOf(t, law, other), seriesOf(t, other, law), 1, 1, 0},
			{"parallel the other way round", parallelOf(t, spring.Member{Law: law}, spring.Member{Law: other}),
				parallelOf(t, spring.Member{Law: other}, spring.Member{Law: law}), 1, 1, 0},
			{"preloaded twice", twice, once, 1, 1, 0},
		}
		for _, s := range stacks {
			full := float64(s.as.Travel())
			agree(t, s.name+": travel", float64(s.law.Travel()), float64(s.along)*full, 1e-11)
			for range 6 {
				part := r.between(0.01, 0.98)
				x := units.Length(part * full)
				got, want := s.law.Force(s.along*x), units.Force(s.n)*s.as.Force(x)
				rate := float64(s.as.Rate(x))
				slack := 1e-9*math.Abs(float64(want)) + s.off*(high+rate*full)
				if near := float64(s.as.Force(x*(1+1e-9)) - s.as.Force(x*(1-1e-9))); near > 1e-6*math.Abs(float64(want)) {
					continue // at a jump
				}
				if math.Abs(float64(got-want)) > slack {
					t.Errorf("%s: force at %v = %v, want %v", s.name, float64(x), got, want)
				}
				gotE, wantE := float64(s.law.Energy(s.along*x)), float64(s.along*s.n)*float64(s.as.Energy(x))
				if math.Abs(gotE-wantE) > 1e-8*wantE+(s.off+1e-12)*high*full*float64(s.along) {
					t.Errorf("%s: energy at %v = %v, want %v", s.name, float64(x), gotE, wantE)
				}
			}
		}
	})
}

// outside are arguments that no spring has a travel for.
var outside = []units.Length{units.Length(math.NaN()), units.Length(math.Inf(-1)), -1e308, -5e-324, 1e308, units.Length(math.Inf(1))}

// named fails where an error names no field.
func named(t *testing.T, what string, err error) {
	t.Helper()
	if len(units.Fields(err)) == 0 {
		t.Fatalf("%s: an error that names no field: %v", what, err)
	}
}

// soundLaw holds a law to what package spring promises of every law, for any
// argument: finite answers, a force that doesn't fall, a rate that isn't
// negative, an energy that starts at 0 and doesn't fall where the force pushes,
// and a Settle that finds a travel of the force asked for.
func soundLaw(t *testing.T, law spring.Law) {
	t.Helper()
	clamped(t, law)
	for _, x := range outside {
		if f, k, e := law.Force(x), law.Rate(x), law.Energy(x); !finite(float64(f)) || !finite(float64(k)) || !finite(float64(e)) {
			t.Fatalf("at %v: force %v, rate %v, energy %v", float64(x), float64(f), float64(k), float64(e))
		}
	}
	finiteLaw(t, law)
	full := law.Travel()
	first, last := law.Force(0), law.Force(full)
	rounding := 1e-9 * (math.Abs(float64(last)) + math.Abs(float64(first))) * float64(full)
	before := law.Energy(0)
	for i := range 33 {
		x := full * units.Length(i) / 32
		e := law.Energy(x)
		if first >= 0 && !(e >= before-units.Energy(rounding)) {
			t.Fatalf("energy falls from %v to %v at %v", float64(before), float64(e), float64(x))
		}
		if k := law.Rate(x); !(k >= 0) {
			t.Fatalf("rate %v at %v", float64(k), float64(x))
		}
		before = e
		load := law.Force(x)
		at, err := spring.Settle(law, load)
		if err != nil {
			t.Fatalf("the force %v at %v: %v", float64(load), float64(x), err)
		}
		if !(at >= 0 && at <= full) {
			t.Fatalf("settles at %v of %v", float64(at), float64(full))
		}
		if got := law.Force(at); math.Abs(float64(got-load)) > 1e-6*math.Abs(float64(last-first))+1e-12*math.Abs(float64(load)) {
			t.Fatalf("settles at %v with %v, asked for %v", float64(at), float64(got), float64(load))
		}
	}
	if below := math.Nextafter(float64(first), math.Inf(-1)); finite(below) {
		if _, err := spring.Settle(law, units.Force(below)); !errors.Is(err, spring.ErrToppedOut) {
			t.Fatalf("a load below the force at full extension: %v", err)
		}
	}
	if above := math.Nextafter(float64(last), math.Inf(1)); finite(above) {
		if _, err := spring.Settle(law, units.Force(above)); !errors.Is(err, spring.ErrBottomedOut) {
			t.Fatalf("a load above the force at full travel: %v", err)
		}
	}
}

// FuzzLaws makes every kind of law from the same few numbers, and stacks of
// those that can be made.
func FuzzLaws(f *testing.F) {
	f.Add(60e3, 90e3, 0.020, 0.045, 0.002, 0.006, 0.0305, 18.0, 79.5e9, uint8(0))
	f.Add(52.5e3, 87.5e3, 0.022, 0.060, 0.005, 0.010, 0.046, 5.5, 79.5e9, uint8(7))
	f.Add(1e300, 1e-300, 1e-300, 1e300, 0.0, 1e-300, 1.0, 1e300, 1e300, uint8(255))
	f.Add(60e3, 140e3, 0.012, 0.025, 0.0, 90e3, 0.02, 5e-324, 1e308, uint8(2))
	f.Add(52.5e3, 87.5e3, 0.022, 0.06, 0.0819999999999, 5e-324, 5e-324, 0.0, 1.0, uint8(1))
	f.Add(60e3, 60e3, 0.06, 0.06, math.Nextafter(0.06, 0), 1e300, 1e-300, math.NaN(), math.Inf(1), uint8(0))
	f.Fuzz(func(t *testing.T, k1, k2, g1, g2, preload, wire, mean, coils, shear float64, order uint8) {
		var laws []spring.Law
		take := func(what string, law spring.Law, err error) {
			t.Helper()
			if err != nil {
				named(t, what, err)
				return
			}
			soundLaw(t, law)
			laws = append(laws, law)
		}
		linear, err := spring.NewLinear(spring.Linear{Rate: units.Stiffness(k1), Travel: units.Length(g1), Preload: units.Length(preload)})
		take("linear", linear, err)
		dual, err := spring.NewDualRate(spring.DualRate{SoftRate: units.Stiffness(k1), MainRate: units.Stiffness(k2),
			SoftTravel: units.Length(g1), MainTravel: units.Length(g2), Preload: units.Length(preload)})
		take("dual", dual, err)
		groups, err := spring.NewGroups(spring.Groups{Groups: []spring.Group{
			{Rate: units.Stiffness(k1), Gap: units.Length(g1)}, {Rate: units.Stiffness(k2), Gap: units.Length(g2)}, {Rate: units.Stiffness(wire), Gap: units.Length(mean)}}})
		take("groups", groups, err)
		pitch, err := coil.NewLinearPitch(coil.LinearPitch{WireDiameter: units.Length(wire), MeanDiameter: units.Length(mean),
			ActiveCoils: coils, ShearModulus: units.Stress(shear), FirstGap: units.Length(min(g1, g2)), LastGap: units.Length(max(g1, g2))})
		take("pitch", pitch, err)
		made, err := coil.New(coil.Spec{WireDiameter: units.Length(wire), MeanDiameter: units.Length(mean), ActiveCoils: coils,
			ShearModulus: units.Stress(shear), FreeLength: units.Length(g2)})
		if err != nil {
			named(t, "coil", err)
		} else {
			of, err := made.WithPreload(units.Length(preload))
			take("coil", of, err)
		}
		if len(laws) == 0 {
			return
		}
		a, b := laws[int(order)%len(laws)], laws[int(order/8)%len(laws)]
		series, err := spring.NewSeries(a, b)
		take("series", series, err)
		last := laws[len(laws)-1]
		for _, hide := range []func(spring.Law) spring.Law{func(l spring.Law) spring.Law { return l }, func(l spring.Law) spring.Law { return opaque{l} }} {
			parallel, err := spring.NewParallel(spring.Member{Law: a}, spring.Member{Law: hide(b), StartsAt: units.Length(preload)})
			take("parallel", parallel, err)
			preloaded, err := spring.NewPreloaded(hide(last), units.Length(preload))
			take("preloaded", preloaded, err)
		}
	})
}

// Pieces too short to keep in a stack leave nothing behind: its energy counts from 0.
func TestEnergyOfAStackCountsFromZero(t *testing.T) {
	if e := seriesOf(t, linearOf(t, 1e6, 1e-16), linearOf(t, 1e3, 0.1, 1e-13)).Energy(0); e != 0 {
		t.Errorf("energy at 0 = %v", float64(e))
	}
}
