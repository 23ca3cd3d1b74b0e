package units_test

import (
	"math"
	"math/big"
	"math/rand/v2"
	"strconv"
	"strings"
	"testing"

	"example.com/wheelrate/units"
)

// made is what the typed constant, or the function where there is one, makes of a
// number of the unit that a symbol names, in SI.
var made = map[string]func(n float64) float64{
	"Length mm": times1(units.Millimetre), "Length cm": times1(units.Centimetre), "Length m": times1(units.Metre),
	"Length in": times1(units.Inch), "Length ft": times1(units.Foot),
	"Area mm²": times1(units.SquareMillimetre), "Area cm²": times1(units.SquareCentimetre), "Area m²": times1(units.SquareMetre), "Area in²": times1(units.SquareInch),
	"Volume cm³": times1(units.CubicCentimetre), "Volume mm³": times1(units.CubicMillimetre), "Volume ml": times1(units.CubicCentimetre),
	"Volume l": times1(units.Litre), "Volume m³": times1(units.CubicMetre), "Volume in³": times1(units.CubicInch),
	"Mass kg": times1(units.Kilogram), "Mass g": times1(units.Gram), "Mass lb": times1(units.Pound), "Mass oz": times1(units.Ounce),
	"Force N": times1(units.Newton), "Force kN": times1(units.Kilonewton), "Force lbf": times1(units.PoundForce), "Force kgf": times1(units.KilogramForce),
	"Stiffness N/mm": times1(units.NewtonPerMillimetre), "Stiffness N/m": times1(units.NewtonPerMetre),
	"Stiffness lbf/in": times1(units.PoundForcePerInch), "Stiffness kgf/mm": times1(units.KilogramForcePerMillimetre),
	"GaugePressure kPa(g)": by(units.KilopascalGauge), "GaugePressure bar": by(units.BarGauge), "GaugePressure psi": by(units.PSIGauge),
	"GaugePressure MPa(g)":    func(n float64) float64 { return n * float64(units.Megapascal) },
	"GaugePressure Pa(g)":     by(units.PascalGauge),
	"AbsolutePressure kPa(a)": times1(units.KilopascalAbsolute), "AbsolutePressure Pa(a)": times1(units.PascalAbsolute),
	"AbsolutePressure bar(a)": times1(units.BarAbsolute), "AbsolutePressure psia": times1(units.PSIAbsolute), "AbsolutePressure atm(a)": times1(units.StandardAtmosphere),
	"Stress MPa": times1(units.Megapascal), "Stress Pa": times1(units.Pascal), "Stress kPa": times1(units.Kilopascal), "Stress GPa": times1(units.Gigapascal),
	"Stress psi": times1(units.PoundForcePerSquareInch), "Stress kpsi": times1(units.Kpsi), "Stress Mpsi": times1(units.Mpsi),
	"Damping N·s/m": times1(units.NewtonSecondPerMetre), "Damping N·s/mm": times1(units.NewtonSecondPerMillimetre), "Damping lbf·s/in": times1(units.PoundForceSecondPerInch),
	"Torque N·m": times1(units.NewtonMetre), "Torque lbf·in": times1(units.PoundForceInch), "Torque lbf·ft": times1(units.PoundForceFoot),
	"Energy J": times1(units.Joule), "Energy kJ": times1(units.Kilojoule), "Energy ft·lbf": times1(units.FootPoundForce),
	"Temperature °C": by(units.Celsius), "Temperature K": times1(units.Kelvin), "Temperature °F": by(units.Fahrenheit),
	"Angle °": times1(units.Degree), "Angle rad": times1(units.Radian), "Frequency Hz": times1(units.Hertz),
	"Density kg/m³": times1(units.KilogramPerCubicMetre), "Density g/cm³": times1(units.GramPerCubicCentimetre),
	"Time s": times1(units.Second), "Time ms": times1(units.Millisecond), "RatioSlope 1/m": times1(units.PerMetre),
}

func times1[Q ~float64](unit Q) func(float64) float64 {
	return func(n float64) float64 { return float64(Q(n) * unit) }
}

func by[Q ~float64](f func(float64) Q) func(float64) float64 {
	return func(n float64) float64 { return float64(f(n)) }
}

// anyNumber draws a number of any magnitude that occurs, of either sign, round
// now and then.
func anyNumber(random *rand.Rand) float64 {
	n := math.Pow(10, 18*random.Float64()-9)
	if random.IntN(3) == 0 {
		n, _ = strconv.ParseFloat(strconv.FormatFloat(n, 'g', 1+random.IntN(4), 64), 64)
	}
	if random.IntN(4) == 0 {
		n = -n
	}
	return n
}

// A number and any spelling of any unit of any quantity parses to the very bits
// that the typed constant makes, which are those of the exact definition to within
// the rounding of the factor and the product, or with a zero of its own of the sum
// too; and a larger number to no less.
func TestEveryUnitTimesItsConstant(t *testing.T) {
	for i, s := range symbols {
		q := quantityNamed(t, s.quantity)
		spellings := strings.Split(s.spellings, ",")
		constant, ok := made[s.quantity+" "+spellings[0]]
		if !ok {
			t.Errorf("no constant for %s %s", s.quantity, spellings[0])
			continue
		}
		random := rand.New(rand.NewPCG(501, uint64(i)))
		before, last := math.Inf(-1), math.Inf(-1)
		for range 500 {
			number := anyNumber(random)
			text := strconv.FormatFloat(number, 'g', -1, 64)
			exact := new(big.Rat).SetFloat64(number)
			size := math.Abs(number)
			if s.zero != nil {
				exact.Add(exact, s.zero)
				zero, _ := s.zero.Float64()
				size += zero
			}
			exact.Mul(exact, s.scale)
			scale, _ := s.scale.Float64()
			for _, symbol := range spellings {
				got, err := q.parse(text + " " + symbol)
				if q.floor && constant(number) < 0 {
					if err == nil {
						t.Errorf("seed 501, %d: %s %s %s = %v, below its floor", i, s.quantity, text, symbol, got)
					}
					continue
				}
				if err != nil {
					t.Errorf("seed 501, %d: %v", i, err)
					continue
				}
				if want := constant(number); math.Float64bits(got) != math.Float64bits(want) {
					t.Errorf("seed 501, %d: %s %s %s = %.17g, the constant makes %.17g", i, s.quantity, text, symbol, got, want)
				}
				off := new(big.Rat).Sub(new(big.Rat).SetFloat64(got), exact)
				if miss, _ := off.Abs(off).Float64(); miss > 3*0x1p-53*size*scale {
					t.Errorf("seed 501, %d: %s %s %s = %.17g, off by %g", i, s.quantity, text, symbol, got, miss)
				}
				if number >= before && got < last || number <= before && got > last && !math.IsInf(last, -1) {
					t.Errorf("seed 501, %d: %s %s %s = %v, and %v was %v", i, s.quantity, text, symbol, got, before, last)
				}
				before, last = number, got
			}
		}
	}
	if len(made) != len(symbols) {
		t.Errorf("%d constants for %d symbols", len(made), len(symbols))
	}
}

// A quantity written out in any of its units, to 17 digits of the exact quotient,
// reads back to within the rounding of the digits, the factor and the product; and
// in the unit that it prints, to the very bits of its text.
func TestEveryUnitRoundTrips(t *testing.T) {
	for i, s := range symbols {
		q := quantityNamed(t, s.quantity)
		symbol, _, _ := strings.Cut(s.spellings, ",")
		random := rand.New(rand.NewPCG(502, uint64(i)))
		for range 500 {
			si := anyNumber(random)
			if q.floor {
				si = math.Abs(si)
			}
			roundTrip(t, q, si)
			number := over(new(big.Rat).SetFloat64(si), s.scale)
			size := math.Abs(si)
			if s.zero != nil {
				number.Sub(number, s.zero)
				zero, _ := times(s.zero, s.scale).Float64()
				size += 2 * zero // the number and the sum are rounded where they are of its size
			}
			text := new(big.Float).SetPrec(300).SetRat(number).Text('g', 17)
			back, err := q.parse(text + " " + symbol)
			if q.floor && s.zero != nil && si < 1e-10 {
				continue // rounded, it may be a hair below absolute zero
			}
			if err != nil || math.Abs(back-si) > 5*0x1p-53*size {
				t.Errorf("seed 502, %d: %s %.17g, %s %s, reads back as %.17g, %v", i, s.quantity, si, text, symbol, back, err)
			}
		}
	}
}

// A getter gives back what its constant multiplied, to two units in the last place
// at most.
func TestEveryGetterTurnsItsConstantRound(t *testing.T) {
	for i, g := range getters {
		random := rand.New(rand.NewPCG(503, uint64(i)))
		for range 1000 {
			n := anyNumber(random)
			if got := g.back(n); math.Abs(got-n) > 0x1p-52*math.Abs(n) {
				t.Errorf("seed 503, %d: %.17g %s comes back as %.17g", i, n, g.name, got)
			}
		}
	}
	random := rand.New(rand.NewPCG(504, 0))
	for range 1000 { // degrees have a zero of their own
		n := 1000 * random.Float64()
		if got := units.Celsius(n).Celsius(); math.Abs(got-n) > 3*0x1p-53*1300 {
			t.Errorf("%v °C comes back as %v", n, got)
		}
		if got := units.Fahrenheit(n).Fahrenheit(); math.Abs(got-n) > 6*0x1p-53*1500 {
			t.Errorf("%v °F comes back as %v", n, got)
		}
		ambient := units.AbsolutePressure(1e5 * random.Float64())
		if got := units.PSIGauge(n).Absolute(ambient).Gauge(ambient); math.Abs(float64(got-units.PSIGauge(n))) > 0x1p-52*(1e5+7e6) {
			t.Errorf("%v psi above %v come back as %v", n, ambient, got)
		}
	}
}
