package certainty

import (
	"math"
	"reflect"

	"example.com/wheelrate/linkage"
	"example.com/wheelrate/sag"
	"example.com/wheelrate/units"
)

// stage is how many answers one end has, each stage more than the last.
type stage int

const (
	nothing stage = iota // no wheel carries this load, or no curve or spring is made of these inputs
	sprung               // the load, what the target needs, and what the spring takes over its travel
	placed               // and where the wheel stands, be it held at an end of the travel
	resting              // and the rates there, for the spring alone carries the load
)

// outcome is what one end does; NaN stands for a quantity that it does not have.
type outcome struct {
	stage stage
	state sag.State
	// What the target needs, whatever is fitted.
	idealRate     units.Stiffness
	preloadWanted units.Length
	fillWanted    units.GaugePressure
	misread       units.Length // how far off the ring is read
	curve         *linkage.Curve
}

// answers are those for one end, in the order of the fields of [EndBudget] and [EndSimulation].
var answers = [...]struct {
	field string
	from  stage // the first that has it
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

// Where the answers of the two ends stand in a vector, and their frequency ratio.
const (
	perEnd      = len(answers)
	ratioAnswer = 2 * perEnd
)

// vector is all answers; NaN stands for one that the bike does not have.
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

// fill sets the answers of a [Budget] or a [Simulation], each by its make from a source that has
// them all in the order of a vector.
func fill[S any](b any, source S) {
	set := func(field reflect.Value, k int) {
		one := reflect.New(field.Type().Elem())
		if one.Interface().(interface{ make(S, int) bool }).make(source, k) {
			field.Set(one)
		}
	}
	v := reflect.ValueOf(b).Elem()
	for k, a := range answers {
		set(v.FieldByName("Front").FieldByName(a.field), k)
		set(v.FieldByName("Rear").FieldByName(a.field), perEnd+k)
	}
	set(v.FieldByName("FrequencyRatio"), ratioAnswer)
}
