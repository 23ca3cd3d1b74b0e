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
	"gonum.org/v1/gonum/num/dual"

	"example.com/wheelrate/spring"
	"example.com/wheelrate/spring/coil"
	"example.com/wheelrate/units"
)

// What must hold of every law that can be built here, over laws drawn at
// random. Each is drawn together with a model of it, written apart from the
// library: force over travel and travel over force, in dual numbers, whose
// second part is the exact derivative. Everything in series is solved by
// halving an interval of the force, everything in parallel is summed.

// model is a law written out anew.
type model struct {
	travel float64
	kinks  []float64                   // where force or rate jumps, inside the travel
	force  func(x float64) dual.Number // and dF/dx
	at     func(f float64) dual.Number // the travel at which f is first reached, and dx/dF
	// held tells where less than a thousandth of a spring of even pitch is open,
	// so that its Rate stays where it is. nil for nowhere.
	held func(x float64) bool
}

func (m *model) holds(x float64) bool { return m.held != nil && m.held(x) }

// ends returns 0, the kinks in order and the travel.
func (m *model) ends() []float64 {
	list := []float64{0, m.travel}
	for _, x := range m.kinks {
		if x > 1e-9*m.travel && x < (1-1e-9)*m.travel {
			list = append(list, x)
		}
	}
	slices.Sort(list)
	return slices.CompactFunc(list, func(a, b float64) bool { return math.Abs(a-b) < 1e-9*m.travel })
}

// levels returns the forces on both sides of every kink and at the ends.
func (m *model) levels() []float64 {
	ends := m.ends()
	list := []float64{m.force(0).Real, m.force(m.travel).Real}
	for _, x := range ends[1 : len(ends)-1] {
		list = append(list, m.force(x-1e-12*m.travel).Real, m.force(x+1e-12*m.travel).Real)
	}
	return list
}

// halve returns neighbouring numbers between which a rising function passes want.
func halve(lo, hi, want float64, f func(float64) float64) (float64, float64) {
	for {
		mid := lo + (hi-lo)/2
		if !(mid > lo && mid < hi) {
			return lo, hi
		}
		if f(mid) < want {
			lo = mid
		} else {
			hi = mid
		}
	}
}

// modelOf makes a model of what is known as travel over force.
func modelOf(at func(f dual.Number) dual.Number, low, high float64, kinkForces ...float64) *model {
	m := &model{travel: at(dual.Number{Real: high}).Real}
	m.at = func(f float64) dual.Number {
		switch {
		case f <= low:
			return dual.Number{}
		case f >= high:
			return dual.Number{Real: m.travel}
		}
		return at(dual.Number{Real: f, Emag: 1})
	}
	m.force = func(x float64) dual.Number {
		lo, hi := halve(low, high, x, func(f float64) float64 { return at(dual.Number{Real: f}).Real })
		if at(dual.Number{Real: hi}).Real-at(dual.Number{Real: lo}).Real > 1e-9*m.travel {
			return dual.Number{Real: hi} // level ground
		}
		return dual.Number{Real: lo, Emag: 1 / at(dual.Number{Real: lo + (hi-lo)/2, Emag: 1}).Emag}
	}
	for _, f := range kinkForces {
		if f > low && f < high {
			m.kinks = append(m.kinks, at(dual.Number{Real: f}).Real)
		}
	}
	return m
}

// modelBy makes a model of what is known as force over travel.
func modelBy(force func(x dual.Number) dual.Number, travel float64, kinks ...float64) *model {
	m := &model{travel: travel, kinks: kinks}
	m.force = func(x float64) dual.Number { return force(dual.Number{Real: x, Emag: 1}) }
	m.at = func(f float64) dual.Number {
		switch {
		case f <= m.force(0).Real:
			return dual.Number{}
		case f >= m.force(travel).Real:
			return dual.Number{Real: travel}
		}
		x, _ := halve(0, travel, f, func(x float64) float64 { return m.force(x).Real })
		if on := m.force(x); math.Abs(on.Real-f) < 1e-9*math.Abs(f) {
			return dual.Number{Real: x, Emag: 1 / on.Emag}
		}
		return dual.Number{Real: x} // inside a jump
	}
	return m
}

func groupsModel(groups []spring.Group) *model {
	var closures []float64
	for _, g := range groups {
		closures = append(closures, float64(g.Rate)*float64(g.Gap))
	}
	return modelOf(func(f dual.Number) dual.Number {
		var x dual.Number
		for i, g := range groups {
			if f.Real < closures[i] {
				x = dual.Add(x, dual.Scale(1/float64(g.Rate), f))
			} else {
				x.Real += float64(g.Gap)
			}
		}
		return x
	}, 0, slices.Max(closures), closures...)
}

// pitchModel adds up equal force in every coil of a spring of even pitch.
func pitchModel(perTurn, coils, small, large float64) *model {
	m := modelOf(func(f dual.Number) dual.Number {
		u := dual.Scale(1/perTurn, f)
		x := dual.Scale(coils, u)
		if over := u.Real - small; over > 0 {
			past := dual.Sub(u, dual.Number{Real: small})
			x = dual.Sub(x, dual.Scale(coils/(2*(large-small)), dual.Mul(past, past)))
		}
		return x
	}, 0, perTurn*large, perTurn*small)
	m.held = func(x float64) bool {
		f := m.force(x).Real
		return f > perTurn*(large-(large-small)/500) && x < m.travel
	}
	return m
}

func seriesModel(members []*model) *model {
	low, high := math.Inf(1), math.Inf(-1)
	var levels []float64
	for _, m := range members {
		low, high = min(low, m.force(0).Real), max(high, m.force(m.travel).Real)
		levels = append(levels, m.levels()...)
	}
	stack := modelOf(func(f dual.Number) dual.Number {
		var x dual.Number
		for _, m := range members {
			at := m.at(f.Real)
			x.Real, x.Emag = x.Real+at.Real, x.Emag+at.Emag*f.Emag
		}
		return x
	}, low, high, levels...)
	stack.held = func(x float64) bool {
		f := stack.force(x).Real
		return slices.ContainsFunc(members, func(m *model) bool { return m.holds(m.at(f).Real) })
	}
	return stack
}

func parallelModel(members []*model, starts []float64) *model {
	travel := math.Inf(1)
	for i, m := range members {
		travel = min(travel, starts[i]+m.travel)
	}
	var kinks []float64
	for i, m := range members {
		for _, x := range append(m.ends(), 0) {
			if x += starts[i]; x < travel {
				kinks = append(kinks, x)
			}
		}
	}
	stack := modelBy(func(x dual.Number) dual.Number {
		var sum dual.Number
		for i, m := range members {
			if into := x.Real - starts[i]; into >= 0 {
				sum = dual.Add(sum, m.force(min(into, m.travel)))
			}
		}
		return sum
	}, travel, kinks...)
	stack.held = func(x float64) bool {
		for i, m := range members {
			if m.holds(x - starts[i]) {
				return true
			}
		}
		return false
	}
	return stack
}

func (m *model) preloaded(by float64) *model {
	var kinks []float64
	for _, x := range m.kinks {
		if x > by {
			kinks = append(kinks, x-by)
		}
	}
	low, high, travel := m.force(by).Real, m.force(m.travel).Real, m.travel-by
	return &model{
		travel: travel, kinks: kinks, held: func(x float64) bool { return m.holds(x + by) },
		force: func(x float64) dual.Number { return m.force(min(x+by, m.travel)) },
		at: func(f float64) dual.Number {
			switch {
			case f <= low:
				return dual.Number{}
			case f >= high:
				return dual.Number{Real: travel}
			}
			x := m.at(f)
			return dual.Number{Real: max(x.Real-by, 0), Emag: x.Emag}
		},
	}
}

// drawn is a law drawn at random. Its build makes it with every stiffness and
// every length multiplied.
type drawn struct {
	says    string
	exact   bool // rates are constant between kinks, and nothing is hidden
	stepped bool // a part of it is solved in steps
	build   func(stiffness, length float64) (spring.Law, error)
	model   *model
}

func (d *drawn) make(t *testing.T, stiffness, length float64) spring.Law {
	t.Helper()
	law, err := d.build(stiffness, length)
	if err != nil {
		t.Fatalf("%s: %v", d.says, err)
	}
	return law
}

type dice struct{ *rand.Rand }

func (r dice) between(lo, hi float64) float64 { return lo + (hi-lo)*r.Float64() }

// log draws evenly over the orders of magnitude.
func (r dice) log(lo, hi float64) float64 { return lo * math.Pow(hi/lo, r.Float64()) }

// none is 0 every other time.
func (r dice) none(lo, hi float64) float64 {
	if r.IntN(2) == 0 {
		return 0
	}
	return r.between(lo, hi)
}

type kindOfLaw struct {
	name string
	deep bool // holds others
	draw func(r dice, depth int) *drawn
}

// kindsOfLaw draws a law of every kind. Those that hold others draw them with
// one less of depth.
func kindsOfLaw() []kindOfLaw {
	return []kindOfLaw{
		{"linear", false, func(r dice, _ int) *drawn {
			spec := spring.Linear{Rate: units.Stiffness(r.log(10, 1e6)), Travel: units.Length(r.log(1e-3, 1))}
			spec.Preload = spec.Travel * units.Length(r.none(0, 2))
			return &drawn{fmt.Sprintf("%#v", spec), true, false, func(k, l float64) (spring.Law, error) {
				return spring.NewLinear(spring.Linear{Rate: spec.Rate * units.Stiffness(k), Travel: spec.Travel * units.Length(l), Preload: spec.Preload * units.Length(l)})
			}, modelBy(func(x dual.Number) dual.Number {
				return dual.Scale(float64(spec.Rate), dual.Add(x, dual.Number{Real: float64(spec.Preload)}))
			}, float64(spec.Travel))}
		}},
		{"coil", false, drawCoil},
		{"groups", false, func(r dice, _ int) *drawn {
			groups := make([]spring.Group, 1+r.IntN(6))
			rate, gap := r.log(1e3, 1e5), r.log(1e-3, 0.1)
			for i := range groups {
				groups[i] = spring.Group{Rate: units.Stiffness(rate * r.log(0.1, 10)), Gap: units.Length(gap * r.log(0.1, 10))}
			}
			return &drawn{fmt.Sprintf("%#v", groups), true, false, func(k, l float64) (spring.Law, error) {
				own := slices.Clone(groups)
				for i := range own {
					own[i].Rate *= units.Stiffness(k)
					own[i].Gap *= units.Length(l)
				}
				return spring.NewGroups(spring.Groups{Groups: own})
			}, groupsModel(groups)}
		}},
		{"dual rate", false, func(r dice, _ int) *drawn {
			soft, gap := r.log(5e3, 5e4), r.between(3e-3, 50e-3)
			main := soft * r.log(0.3, 30)
			room := soft * gap / main * r.between(1.1, 5)
			preload := (gap + room) * r.none(0, 0.9)
			pair := []spring.Group{{Rate: units.Stiffness(soft), Gap: units.Length(gap)}, {Rate: units.Stiffness(main), Gap: units.Length(room)}}
			return &drawn{fmt.Sprintf("dual rate %#v, preload %v", pair, preload), true, false, func(k, l float64) (spring.Law, error) {
				return spring.NewDualRate(spring.DualRate{
					SoftRate: units.Stiffness(soft * k), MainRate: units.Stiffness(main * k),
					SoftTravel: units.Length(gap * l), MainTravel: units.Length(room * l), Preload: units.Length(preload * l),
				})
			}, groupsModel(pair).preloaded(preload)}
		}},
		{"linear pitch", false, func(r dice, _ int) *drawn {
			spec := coil.LinearPitch{
				WireDiameter: units.Length(r.between(2e-3, 20e-3)), ActiveCoils: r.between(1, 15), ShearModulus: units.Stress(r.between(40e9, 90e9)),
				FirstGap: units.Length(r.none(1e-4, 10e-3)), LastGap: units.Length(r.between(11e-3, 20e-3)),
			}
			spec.MeanDiameter = spec.WireDiameter * units.Length(r.between(3, 14))
			if r.IntN(2) == 0 {
				spec.FirstGap, spec.LastGap = spec.LastGap, spec.FirstGap
			}
			perTurn := float64(spec.ShearModulus) * math.Pow(float64(spec.WireDiameter), 4) / (8 * math.Pow(float64(spec.MeanDiameter), 3))
			return &drawn{fmt.Sprintf("%#v", spec), false, false, func(k, l float64) (spring.Law, error) {
				own, by := spec, units.Length(l)
				own.WireDiameter, own.MeanDiameter, own.FirstGap, own.LastGap = by*own.WireDiameter, by*own.MeanDiameter, by*own.FirstGap, by*own.LastGap
				own.ShearModulus *= units.Stress(k / l)
				return coil.NewLinearPitch(own)
			}, pitchModel(perTurn, spec.ActiveCoils, float64(min(spec.FirstGap, spec.LastGap)), float64(max(spec.FirstGap, spec.LastGap)))}
		}},
		{"series", true, func(r dice, depth int) *drawn {
			d := &drawn{says: "series of", exact: true}
			var parts []*drawn
			var models []*model
			for range 1 + r.IntN(3) {
				p := drawLaw(r, depth-1)
				if !p.exact && slices.ContainsFunc(parts, func(o *drawn) bool { return !o.exact }) {
					continue // one that is solved step by step is enough for the time it takes
				}
				parts, models = append(parts, p), append(models, p.model)
				d.says += " (" + p.says + ")"
				d.exact = d.exact && p.exact
			}
			d.build = func(k, l float64) (spring.Law, error) {
				laws, err := buildAll(parts, k, l)
				if err != nil {
					return nil, err
				}
				return spring.NewSeries(laws...)
			}
			d.model, d.stepped = seriesModel(models), !d.exact
			return d
		}},
		{"parallel", true, func(r dice, depth int) *drawn {
			d := &drawn{says: "parallel of", exact: true}
			var parts []*drawn
			var models []*model
			var starts []float64
			end := math.Inf(1)
			for i := range 1 + r.IntN(3) {
				p, start := drawLaw(r, depth-1), 0.0
				if i > 0 || r.IntN(8) == 0 {
					start = min(end, p.model.travel) * r.none(0, 0.9)
				}
				if first := min(end, start+p.model.travel); len(starts) > 0 && !(slices.Max(starts) < 0.99*first) {
					continue
				} else {
					end = first
				}
				parts, models, starts = append(parts, p), append(models, p.model), append(starts, start)
				d.says += fmt.Sprintf(" (from %v: %s)", start, p.says)
				d.exact, d.stepped = d.exact && p.exact, d.stepped || p.stepped
			}
			d.build = func(k, l float64) (spring.Law, error) {
				laws, err := buildAll(parts, k, l)
				if err != nil {
					return nil, err
				}
				members := make([]spring.Member, len(laws))
				for i := range laws {
					members[i] = spring.Member{Law: laws[i], StartsAt: units.Length(starts[i] * l)}
				}
				return spring.NewParallel(members...)
			}
			d.model = parallelModel(models, starts)
			return d
		}},
		{"preloaded", true, func(r dice, depth int) *drawn {
			p := drawLaw(r, depth-1)
			by := p.model.travel * r.none(0, 0.9)
			return &drawn{fmt.Sprintf("preloaded by %v: (%s)", by, p.says), p.exact, p.stepped, func(k, l float64) (spring.Law, error) {
				law, err := p.build(k, l)
				if err != nil {
					return nil, err
				}
				return spring.NewPreloaded(law, units.Length(by*l))
			}, p.model.preloaded(by)}
		}},
		{"hidden", true, func(r dice, depth int) *drawn {
			p := drawLaw(r, depth-1)
			return &drawn{"hidden " + p.says, false, p.stepped, func(k, l float64) (spring.Law, error) {
				law, err := p.build(k, l)
				return opaque{law}, err
			}, p.model}
		}},
	}
}

func buildAll(parts []*drawn, k, l float64) ([]spring.Law, error) {
	laws := make([]spring.Law, len(parts))
	for i, p := range parts {
		var err error
		if laws[i], err = p.build(k, l); err != nil {
			return nil, err
		}
	}
	return laws, nil
}

// drawLaw draws a law of any kind.
func drawLaw(r dice, depth int) *drawn {
	kinds := kindsOfLaw()
	for {
		if kind := kinds[r.IntN(len(kinds))]; depth > 0 || !kind.deep {
			return kind.draw(r, depth)
		}
	}
}

// drawCoil draws a coil spring with any ends, given in any of the ways there are.
func drawCoil(r dice, _ int) *drawn {
	wire, shear, coils := r.between(1e-3, 20e-3), r.between(20e9, 90e9), r.between(1, 20)
	mean := wire * r.between(2, 20)
	ends := []coil.Ends{coil.Plain, coil.PlainGround, coil.Squared, coil.SquaredGround, ""}[r.IntN(5)]
	dead := map[coil.Ends]float64{coil.PlainGround: 1, coil.Squared: 2, coil.SquaredGround: 2, "": 2}[ends]
	solid := (coils + dead) * wire
	if ends == coil.Plain || ends == coil.Squared {
		solid += wire
	}
	room := solid * r.log(0.01, 3)
	preload := room * r.none(0, 0.95)
	diameter, count := r.IntN(3), r.IntN(2)
	rate := shear * math.Pow(wire, 4) / (8 * math.Pow(mean, 3) * coils)
	return &drawn{
		fmt.Sprintf("coil of wire %v, mean %v (way %d), G %v, %v coils (way %d), ends %q, free %v, preload %v", wire, mean, diameter, shear, coils, count, ends, solid+room, preload),
		true, false, func(k, l float64) (spring.Law, error) {
			spec := coil.Spec{WireDiameter: units.Length(wire * l), ShearModulus: units.Stress(shear * k / l), FreeLength: units.Length((solid + room) * l), Ends: ends}
			switch diameter {
			case 0:
				spec.MeanDiameter = units.Length(mean * l)
			case 1:
				spec.OuterDiameter = units.Length((mean + wire) * l)
			default:
				spec.InnerDiameter = units.Length((mean - wire) * l)
			}
			if spec.ActiveCoils = coils; count == 1 {
				spec.ActiveCoils, spec.TotalCoils = 0, coils+dead
			}
			s, err := coil.New(spec)
			if err != nil {
				return nil, err
			}
			return s.WithPreload(units.Length(preload * l))
		}, modelBy(func(x dual.Number) dual.Number {
			return dual.Scale(rate, dual.Add(x, dual.Number{Real: preload}))
		}, room-preload),
	}
}

// eachDrawn runs a check on laws of every kind, of two levels of nesting.
func eachDrawn(t *testing.T, seed uint64, of int, check func(t *testing.T, r dice, d *drawn)) {
	t.Helper()
	for _, kind := range kindsOfLaw() {
		t.Run(kind.name, func(t *testing.T) {
			for i := range of {
				r := dice{rand.New(rand.NewPCG(seed, uint64(i)))}
				d := kind.draw(r, 1+i%2)
				if check(t, r, d); t.Failed() {
					t.Fatalf("seed %d, %d: %s", seed, i, d.says)
				}
			}
		})
	}
}

// places draws travels of a law that are not at a kink, nor where its rate is held.
func places(r dice, m *model, n int) []float64 {
	var list []float64
	ends := m.ends()
	for i := range len(ends) - 1 {
		from, to := ends[i], ends[i+1]
		for range max(2, n/len(ends)) {
			list = append(list, from+(to-from)*r.between(1e-3, 1-1e-3))
		}
		list = append(list, from+(to-from)*1e-3, to-(to-from)*1e-3)
	}
	list = slices.DeleteFunc(list, m.holds)
	slices.Sort(list)
	return list
}

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
