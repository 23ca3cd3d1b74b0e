// Package amounts reads the numbers that the page writes, with their units.
package amounts

import (
	"math"
	"regexp"
	"strconv"
	"strings"
)

// What the units of the page rest on.
const (
	Gravity = 9.80665                           // m/s²
	Pound   = 0.45359237                        // kg, international yard and pound agreement of 1959, from memory
	PSI     = Pound * Gravity / 0.0254 / 0.0254 // Pa
)

// Unit is one that the page writes: of which system, and how much it is in the SI.
type Unit struct {
	Customary bool
	SI        float64
	Quantity  string
}

// Units are those of the page, by how it writes them.
var Units = map[string]Unit{
	"bar": {false, 1e5, "pressure"}, "psi": {true, PSI, "pressure"}, "kPa(a)": {false, 1e3, "absolute"}, "psia": {true, PSI, "absolute"},
	"mm": {false, 1e-3, "length"}, "m": {false, 1, "length"}, "in": {true, 0.0254, "length"}, "ft": {true, 0.3048, "length"},
	"N": {false, 1, "force"}, "lbf": {true, Pound * Gravity, "force"}, "kg": {false, 1, "mass"}, "lb": {true, Pound, "mass"},
	"N/mm": {false, 1e3, "rate"}, "lbf/in": {true, Pound * Gravity / 0.0254, "rate"}, "J": {false, 1, "energy"}, "ft·lbf": {true, Pound * Gravity * 0.3048, "energy"},
	"Hz": {false, 1, "frequency"}, "per min": {true, 1. / 60, "frequency"},
}

// Amount is a number as the page writes it, and the unit behind it.
type Amount struct {
	Text  string
	Value float64 // in the SI
	Half  float64 // half of the last digit shown, in the SI
	Unit
}

// NumberForm is a regular expression for a number.
const NumberForm = `[-−+]?\d+(?:\.\d+)?`

var amountForm = regexp.MustCompile(`^(` + NumberForm + `) ?(bar|psia|psi|kPa\(a\)|mm|N/mm|N|lbf/in|lbf|ft·lbf|in|ft|kg|lb|Hz|per min|J|m|%)?`)

// Of reads the number that a text starts with.
func Of(text string) (a Amount, ok bool) {
	m := amountForm.FindStringSubmatch(text)
	if m == nil {
		return a, false
	}
	a = Amount{Text: m[0], Unit: Unit{SI: 1}}
	switch u, known := Units[m[2]]; {
	case known:
		a.Unit = u
	case m[2] == "%":
		a.Unit = Unit{SI: 0.01}
	}
	v, err := strconv.ParseFloat(strings.Replace(m[1], "−", "-", 1), 64)
	if err != nil {
		return a, false
	}
	_, decimals, _ := strings.Cut(m[1], ".")
	a.Value, a.Half = v*a.SI, 0.5*math.Pow(10, -float64(len(decimals)))*a.SI
	return a, true
}
