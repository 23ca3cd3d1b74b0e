package certainty

import (
	"math"
	"reflect"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// stage is how much of an outcome exists. Each stage includes those before it.
type stage int

const (
	nothing stage = iota // the inputs are impossible: no sprung load, no curve or no spring
	sprung               // the load, what meets the target, and the reserve
	placed               // where the wheel stands, also at an end of its travel
	resting              // the rates there: the spring alone carries the load
)

// outcome is what one end does. A quantity that it does not have is NaN.
type outcome struct {
	stage stage
	state sag.State
	// What meets the target.
	idealRate     units.Stiffness
	preloadWanted units.Length
	fillWanted    units.GaugePressure
	misread       units.Length // error of the reading of the ring
	curve         *linkage.Curve
	held          sag.End     // with friction left at the spring; no curve if too little is known of the spring
	landing       sag.Landing // of the drop; its Travel is 0 without one
}

// answer is an answer of one end: its field in [EndBudget], and the first stage that has it.
type answer struct {
	field string
	from  stage
	of    func(o *outcome) float64
}

// answers lists the answers for one end.
var answers = [...]answer{
	{"Load", sprung, func(o *outcome) float64 { return float64(o.state.Load) }},
	{"IdealRate", sprung, func(o *outcome) float64 { return float64(o.idealRate) }},
	{"PreloadWanted", sprung, func(o *outcome) float64 { return float64(o.preloadWanted) }},
	{"FillWanted", sprung, func(o *outcome) float64 { return float64(o.fillWanted) }},
	{"Sag", placed, func(o *outcome) float64 { return o.state.Rest.Sag }},
	{"ShockSag", placed, func(o *outcome) float64 { return o.state.Rest.ShockSag }},
	{"Travel", placed, func(o *outcome) float64 { return float64(o.state.Rest.Travel) }},
	{"Stroke", placed, func(o *outcome) float64 { return float64(o.state.Rest.Stroke) }},
	{"StrokeReading", placed, func(o *outcome) float64 { return float64(o.state.Rest.Stroke + o.misread) }},
	{"WheelRate", resting, func(o *outcome) float64 { return float64(o.state.Rest.WheelRate) }},
	{"Frequency", resting, func(o *outcome) float64 { return stated(o.state.Rest.Frequency) }},
	{"FastWheelRate", resting, func(o *outcome) float64 { return float64(o.state.FastWheelRate) }},
	{"FastFrequency", resting, func(o *outcome) float64 { return stated(o.state.FastFrequency) }},
	{"TravelLeft", placed, func(o *outcome) float64 { return float64(o.state.TravelLeft) }},
	{"EnergyLeft", placed, func(o *outcome) float64 { return float64(o.state.EnergyLeft) }},
	{"Energy", sprung, func(o *outcome) float64 { return float64(o.state.Reserve.Energy) }},
	{"DropHeight", sprung, func(o *outcome) float64 { return float64(o.state.Reserve.DropHeight) }},
	{"FullForce", sprung, func(o *outcome) float64 { return float64(o.state.Reserve.FullForce) }},
	{"FullRatio", sprung, func(o *outcome) float64 { return o.state.FullRatio }},
	landed("LandingTravel", func(l *sag.Landing) float64 { return float64(l.Travel) }),
	landed("LandingUsed", func(l *sag.Landing) float64 { return l.Used }),
	landed("LandingPeakForce", func(l *sag.Landing) float64 { return float64(l.PeakForce) }),
	landed("LandingDamperWork", func(l *sag.Landing) float64 { return float64(l.DamperWork) }),
	landed("LandingTime", func(l *sag.Landing) float64 { return float64(l.Time) }),
	landed("LandingEnergyLeft", func(l *sag.Landing) float64 { return float64(l.EnergyLeft) }),
}

// landed is an answer about the landing, which an end without a drop does not have.
func landed(field string, of func(*sag.Landing) float64) answer {
	return answer{field, sprung, func(o *outcome) float64 {
		if !(o.landing.Height > 0) {
			return math.NaN()
		}
		return of(&o.landing)
	}}
}

// coupled lists the answers for both ends settled together, by their fields in [CoupledBudget].
var coupled = [...]struct {
	field string
	of    func(s *sag.Stance) float64
}{
	{"FrontSag", func(s *sag.Stance) float64 { return s.FrontSag }},
	{"RearSag", func(s *sag.Stance) float64 { return s.RearSag }},
	{"FrontStroke", func(s *sag.Stance) float64 { return float64(s.FrontStroke) }},
	{"RearStroke", func(s *sag.Stance) float64 { return float64(s.RearStroke) }},
	{"Pitch", func(s *sag.Stance) float64 { return float64(s.Pitch) }},
	{"RearShare", func(s *sag.Stance) float64 { return s.RearShare }},
	{"Wheelbase", func(s *sag.Stance) float64 { return float64(s.Wheelbase) }},
	{"HeadAngle", func(s *sag.Stance) float64 { return stated(s.HeadAngle) }},
	{"Trail", func(s *sag.Stance) float64 { return stated(s.Trail) }},
	{"BottomBracketHeight", func(s *sag.Stance) float64 { return stated(s.BottomBracketHeight) }},
}

// stated returns a quantity as a number, NaN if it is 0 for want of what it needs, as a frequency without a rate.
func stated[Q ~float64](q Q) float64 {
	if q == 0 {
		return math.NaN()
	}
	return float64(q)
}

// A vector holds perEnd answers of the front, perEnd of the rear, those of both settled together, and
// the frequency ratio.
const (
	perEnd      = len(answers)
	together    = 2 * perEnd
	ratioAnswer = together + len(coupled)
)

// vector is all answers for a bike. One that the bike does not have is NaN.
type vector [ratioAnswer + 1]float64

// bike is what a bike does: each end by itself, and both settled together.
type bike struct {
	ends   [2]outcome
	stance sag.Stance
	stands bool // there is a stance
}

// vector returns the answers of a bike.
func (b *bike) vector() (v vector) {
	for i := range v {
		v[i] = math.NaN()
	}
	for i := range b.ends {
		o := &b.ends[i]
		for k := range answers {
			if a := &answers[k]; o.stage >= a.from {
				v[i*perEnd+k] = a.of(o)
			}
		}
	}
	if b.stands {
		for k := range coupled {
			v[together+k] = coupled[k].of(&b.stance)
		}
	}
	if front, rear := &b.ends[0], &b.ends[1]; front.stage == resting && rear.stage == resting {
		v[ratioAnswer] = stated(front.state.FastFrequency) / stated(rear.state.FastFrequency)
	}
	return v
}

// results are the answers with their uncertainties: to first order, or drawn.
type results struct {
	value, uncertainty vector
	names              []string // of the inputs that are uncertain, each once
	effects            []vector // of one standard uncertainty, by name
	drawn              *draws   // nil to first order
}

// budget returns the answers of a model.
func (m *model) budget(r *results) *Budget {
	b := &Budget{Exact: m.exact, NotUsed: m.notUsed, Front: new(EndBudget), Rear: new(EndBudget), Coupled: new(CoupledBudget)}
	for i, side := range []**EndBudget{&b.Front, &b.Rear} {
		if m.ends[i].name == "" {
			*side = nil
			continue
		}
		fields := reflect.ValueOf(*side).Elem()
		for k := range answers {
			r.set(fields.FieldByName(answers[k].field), i*perEnd+k)
		}
	}
	fields := reflect.ValueOf(b.Coupled).Elem()
	for k := range coupled {
		r.set(fields.FieldByName(coupled[k].field), together+k)
	}
	if fields.IsZero() {
		b.Coupled = nil
	}
	r.set(reflect.ValueOf(&b.FrequencyRatio).Elem(), ratioAnswer)
	return b
}

// set sets a field to answer k. The field stays nil if the budget has no such answer.
func (r *results) set(field reflect.Value, k int) {
	if r.has(k) {
		one := reflect.New(field.Type().Elem())
		one.Interface().(interface{ make(*results, int) }).make(r, k)
		field.Set(one)
	}
}

// has reports whether the value of answer k and its uncertainty are finite.
func (r *results) has(k int) bool {
	return math.Abs(r.value[k]) <= math.MaxFloat64 && r.uncertainty[k] <= math.MaxFloat64
}
