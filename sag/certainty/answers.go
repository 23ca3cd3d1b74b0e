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
}

// answers lists the answers for one end in the order of the fields of [EndBudget].
var answers = [...]struct {
	field string
	from  stage // the first stage that has the answer
	of    func(o *outcome) float64
}{
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
	{"Frequency", resting, func(o *outcome) float64 { return existing(o.state.Rest.Frequency) }},
	{"FastWheelRate", resting, func(o *outcome) float64 { return float64(o.state.FastWheelRate) }},
	{"FastFrequency", resting, func(o *outcome) float64 { return existing(o.state.FastFrequency) }},
	{"TravelLeft", placed, func(o *outcome) float64 { return float64(o.state.TravelLeft) }},
	{"EnergyLeft", placed, func(o *outcome) float64 { return float64(o.state.EnergyLeft) }},
	{"Energy", sprung, func(o *outcome) float64 { return float64(o.state.Reserve.Energy) }},
	{"DropHeight", sprung, func(o *outcome) float64 { return float64(o.state.Reserve.DropHeight) }},
	{"FullForce", sprung, func(o *outcome) float64 { return float64(o.state.Reserve.FullForce) }},
	{"FullRatio", sprung, func(o *outcome) float64 { return o.state.FullRatio }},
}

// existing returns a frequency as a number, NaN if there is none.
func existing(f units.Frequency) float64 {
	if f > 0 {
		return float64(f)
	}
	return math.NaN()
}

// A vector holds perEnd answers of the front, perEnd of the rear and the frequency ratio.
const (
	perEnd      = len(answers)
	ratioAnswer = 2 * perEnd
)

// vector is all answers for a bike. One that the bike does not have is NaN.
type vector [ratioAnswer + 1]float64

// join returns the answers of both ends.
func join(ends *[2]outcome) (v vector) {
	for i := range v {
		v[i] = math.NaN()
	}
	for i := range ends {
		for k, a := range answers {
			if ends[i].stage >= a.from {
				v[i*perEnd+k] = a.of(&ends[i])
			}
		}
	}
	if ends[0].stage == resting && ends[1].stage == resting {
		v[ratioAnswer] = existing(ends[0].state.FastFrequency) / existing(ends[1].state.FastFrequency)
	}
	return v
}

// has returns a new value for end i, nil where the setup does not have that end.
func has[V any](m *model, i int) *V {
	if m.ends[i].name == "" {
		return nil
	}
	return new(V)
}

// fill sets the answers of a [Budget] or a [Simulation]. The make method of each takes answer k of
// a vector from the source, and reports whether the answer exists; if not, it stays nil.
func fill[S any](b any, source S) {
	set := func(field reflect.Value, k int) {
		one := reflect.New(field.Type().Elem())
		if one.Interface().(interface{ make(S, int) bool }).make(source, k) {
			field.Set(one)
		}
	}
	v := reflect.ValueOf(b).Elem()
	for i, name := range []string{"Front", "Rear"} {
		if side := v.FieldByName(name); !side.IsNil() {
			for k, a := range answers {
				set(side.Elem().FieldByName(a.field), i*perEnd+k)
			}
		}
	}
	set(v.FieldByName("FrequencyRatio"), ratioAnswer)
}
