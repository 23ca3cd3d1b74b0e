package spring_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

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
