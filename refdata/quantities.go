package refdata

import (
	"reflect"

	"example.com/wheelrate/units"
)

// quantity is one kind of quantity as a case file may hold it.
type quantity struct {
	kind  string // as "units.convert" calls it
	parse func(text string) (any, error)
	goal  reflect.Type
}

// quantities lists every kind of quantity a computation may take or give.
var quantities = []quantity{
	quantityOf("length", units.ParseLength),
	quantityOf("mass", units.ParseMass),
	quantityOf("force", units.ParseForce),
	quantityOf("stiffness", units.ParseStiffness),
	quantityOf("gauge_pressure", units.ParseGaugePressure),
	quantityOf("absolute_pressure", units.ParseAbsolutePressure),
	quantityOf("stress", units.ParseStress),
	quantityOf("volume", units.ParseVolume),
	quantityOf("area", units.ParseArea),
	quantityOf("torque", units.ParseTorque),
	quantityOf("energy", units.ParseEnergy),
	quantityOf("temperature", units.ParseTemperature),
	quantityOf("angle", units.ParseAngle),
	quantityOf("frequency", units.ParseFrequency),
	quantityOf("density", units.ParseDensity),
	quantityOf("time", units.ParseTime),
	quantityOf("ratio_slope", units.ParseRatioSlope),
}

func quantityOf[Q ~float64](kind string, parse func(string) (Q, error)) quantity {
	return quantity{kind: kind, goal: reflect.TypeFor[Q](), parse: func(text string) (any, error) {
		return parse(text)
	}}
}

// quantityByKind finds a quantity by its name, nil where there is none.
func quantityByKind(kind string) *quantity {
	for i := range quantities {
		if quantities[i].kind == kind {
			return &quantities[i]
		}
	}
	return nil
}

// quantityByType finds the quantity that a Go type stands for, nil where it
// stands for none.
func quantityByType(t reflect.Type) *quantity {
	for i := range quantities {
		if quantities[i].goal == t {
			return &quantities[i]
		}
	}
	return nil
}
