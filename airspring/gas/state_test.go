package gas_test

import (
	"math"
	"testing"

	"example.com/wheelrate/airspring/gas"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

type stateRow struct{ kelvin, pascals, z, gamma, exponent float64 }

// airRows are the equation of state of Lemmon and others (J. Phys. Chem. Ref.
// Data 29 (2000) 331), evaluated in 40 digits by a program that is not part of
// this project from coefficients that two public transcriptions agree on: K, Pa
// absolute, Z, cp/cv and −(∂ln p/∂ln v)_s. The dataset has 30 states more of each gas.
var airRows = []stateRow{
	{250.0, 100000.0, 0.9990526275686757, 1.4035604856951003, 1.40223592773338},
	{250.0, 1000000.0, 0.9908488855327193, 1.4279721847334603, 1.4154022008378202},
	{250.0, 2000000.0, 0.9823897457770735, 1.4561278653963976, 1.4324421485497132},
	{250.0, 4000000.0, 0.9674914793184597, 1.5152867112637889, 1.4740524934884633},
	{293.15, 100000.0, 0.9996286463353988, 1.4019437268350032, 1.4014272081152632},
	{293.15, 1000000.0, 0.9965432934252103, 1.4184332175558878, 1.4139242800761045},
	{293.15, 2000000.0, 0.9936316550259107, 1.436910987303557, 1.429285779835813},
	{293.15, 4000000.0, 0.9893308455047805, 1.474171408807348, 1.4643441021816084},
	{350.0, 100000.0, 1.0000123673056647, 1.3992906654926753, 1.399310765567433},
	{350.0, 1000000.0, 1.0002987520359354, 1.4099682718335667, 1.4106569579493757},
	{350.0, 2000000.0, 1.0009668304913035, 1.4217146812893802, 1.4241146381431242},
	{350.0, 4000000.0, 1.0033113563820333, 1.444803905496975, 1.4534330225131966},
}

// nitrogenRows are the same of the equation of state of Span and others (J. Phys.
// Chem. Ref. Data 29 (2000) 1361).
var nitrogenRows = []stateRow{
	{250.0, 100000.0, 0.9992120888154031, 1.402413412072968, 1.4013126746310482},
	{250.0, 1000000.0, 0.9923991386851312, 1.4264571092666418, 1.4160621906489834},
	{250.0, 2000000.0, 0.9854457919157338, 1.4539767583159078, 1.4347188716660477},
	{250.0, 4000000.0, 0.9736753472727537, 1.5107954711013178, 1.47964787435471},
	{293.15, 100000.0, 0.9997602580169711, 1.401373033203782, 1.4010403513523164},
	{293.15, 1000000.0, 0.9978150353364326, 1.4176509587667958, 1.41488963915488},
	{293.15, 2000000.0, 0.9961088723844976, 1.4358263798270199, 1.4316206549567474},
	{293.15, 4000000.0, 0.9941760910623704, 1.4720874094566552, 1.4693512526102348},
	{350.0, 100000.0, 1.0001192792373068, 1.3999215639841194, 1.400090720132835},
	{350.0, 1000000.0, 1.0013321953759213, 1.4105042589916637, 1.4126015609585028},
	{350.0, 2000000.0, 1.00297257099304, 1.4221368394172351, 1.4272417491987401},
	{350.0, 4000000.0, 1.0071691629530002, 1.4448703120077564, 1.4587838903794619},
}

// strokeRows are compressions of air computed in the same way, from 293.15 K and
// a fill in Pa above 101 325 Pa, by a ratio: the pressures after a slow
// and a fast stroke, the exponent and the temperature of the fast one.
var strokeRows = []strokeRow{
	{300000.0, 2, 801556.7748724126, 1064230.2529843922, 1.40696738608576, 387.44468333898527},
	{300000.0, 3, 1200805.5411596945, 1884748.639026454, 1.40793816534097, 455.65837879188405},
	{500000.0, 2, 1200316.2701734193, 1599471.6367850467, 1.4113785648323316, 387.9657016050681},
	{500000.0, 3, 1797332.047525481, 2842240.4195721857, 1.41379480508236, 456.84817146386985},
	{800000.0, 2, 1797801.1023565696, 2408845.034968273, 1.4182222732649679, 388.75445060675906},
	{800000.0, 3, 2690582.898357318, 4303148.940880036, 1.42291913056065, 458.65652422478854},
	{1000000.0, 2, 2195792.441702557, 2952981.053435618, 1.4229318303350647, 389.28507441557247},
	{1000000.0, 3, 3285458.348376416, 5294525.222227814, 1.429220595428695, 459.8779021877079},
	{1500000.0, 2, 3190110.0616489234, 4330308.736880254, 1.4352037455442177, 390.6283151770739},
	{1500000.0, 3, 4772407.119690137, 7838978.980857347, 1.4457121940935143, 462.9869821465818},
	{2000000.0, 2, 4184319.966253409, 5733696.80919333, 1.4481663059491388, 391.99529390927137},
	{2000000.0, 3, 6262375.242333396, 10486524.570442755, 1.4632304563926113, 466.17632090320524},
	{2500000.0, 2, 5179466.853534989, 7165411.147584088, 1.4618028323915486, 393.38597190927123},
	{2500000.0, 3, 7759767.222485773, 13248722.025607578, 1.4817603835965767, 469.4472241526189},
	{3500000.0, 2, 7176929.805170462, 10123245.814947437, 1.491072229423468, 396.23867511216656},
	{3500000.0, 3, 10796410.44503684, 19167930.963284582, 1.5218624479311817, 476.2405443032381},
}

// nitrogenStrokeRows are the same of nitrogen.
var nitrogenStrokeRows = []strokeRow{
	{300000.0, 2, 801962.1122908553, 1065201.4014018024, 1.4082832969298724, 387.61940974554625},
	{300000.0, 3, 1202004.8594589587, 1889550.339716233, 1.4102541973802938, 456.4001771074448},
	{500000.0, 2, 1201209.159281318, 1601417.1050209666, 1.4131322763469616, 388.17508883986636},
	{500000.0, 3, 1799968.295488331, 2851223.8591293297, 1.4166672516142431, 457.6777105389371},
	{800000.0, 2, 1799763.8570284878, 2412837.74793876, 1.4206115920062403, 389.01520276848186},
	{800000.0, 3, 2696388.1644729017, 4320588.648569649, 1.4266006729349547, 459.6162894523254},
	{1000000.0, 2, 2198692.673938094, 2958724.1320993863, 1.425734917922874, 389.57969255852754},
	{1000000.0, 3, 3294069.791113888, 5319075.496297942, 1.4334315438015193, 460.9236814935324},
	{1500000.0, 2, 3196162.9597099167, 4341787.718482486, 1.4390230479676218, 391.0064682138221},
	{1500000.0, 3, 4790669.03311214, 7886704.2820623545, 1.451237114557035, 464.2455469623839},
	{2000000.0, 2, 4194769.724669421, 5752928.352625334, 1.4529971901943715, 392.4556687263971},
	{2000000.0, 3, 6294539.661346316, 10565760.774838828, 1.4700823720683314, 467.64532621033453},
	{2500000.0, 2, 5195706.698810195, 7194553.900631302, 1.4676585796555044, 393.9275925222229},
	{2500000.0, 3, 7810735.358919244, 13368716.841262804, 1.4899673886870466, 471.125257151172},
	{3500000.0, 2, 7209581.458855432, 10179366.58849063, 1.4990480865485254, 396.9409526512457},
	{3500000.0, 3, 10901881.824731905, 19400801.761671957, 1.5328542900938669, 478.33510620180647},
}

type strokeRow struct{ fill, ratio, slow, fast, exponent, kelvin float64 }

// gases lists each gas with what is known of it.
var gases = []struct {
	gas     gas.Species
	states  []stateRow
	strokes []strokeRow
}{
	{gas.DryAir, airRows, strokeRows},
	{gas.Nitrogen, nitrogenRows, nitrogenStrokeRows},
}

func TestStatesOfTheTables(t *testing.T) {
	for _, g := range gases {
		for _, r := range g.states {
			state, err := gas.StateAt(g.gas, units.AbsolutePressure(r.pascals), units.Temperature(r.kelvin))
			if err != nil {
				t.Fatal(err)
			}
			unitstest.Near(t, "Z", state.Compressibility, r.z, close12)
			unitstest.Near(t, "heat ratio", state.HeatRatio, r.gamma, close12)
			unitstest.Near(t, "exponent", state.EffectiveExponent, r.exponent, close12)
		}
	}
}

func TestCompressionsOfTheTables(t *testing.T) {
	for _, g := range gases {
		for _, r := range g.strokes {
			p := units.AbsolutePressure(r.fill + 101325)
			out, err := gas.Compress(g.gas, p, 293.15, r.ratio)
			if err != nil {
				t.Fatal(err)
			}
			unitstest.Near(t, "slow", out.Slow, units.AbsolutePressure(r.slow), close12)
			unitstest.Near(t, "fast", out.Fast, units.AbsolutePressure(r.fast), unitstest.Rel(1e-11))
			unitstest.Near(t, "exponent", out.Exponent, r.exponent, unitstest.Rel(1e-11))
			unitstest.Near(t, "temperature", out.Temperature, units.Temperature(r.kelvin), unitstest.Rel(1e-11))
		}
	}
}

// Towards no pressure air is an ideal gas, with the heat ratio of NBS Circular
// 564 (1955) as quoted in public course notes, to one unit of the last digit.
func TestStateAtLowPressure(t *testing.T) {
	for kelvin, gamma := range map[units.Temperature]float64{250: 1.401, 300: 1.400, 350: 1.398} {
		state, err := gas.StateAt(gas.DryAir, 1e-3, kelvin)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "Z", state.Compressibility, 1, unitstest.Rel(1e-9))
		unitstest.Near(t, "exponent", state.EffectiveExponent, state.HeatRatio, unitstest.Rel(1e-8))
		unitstest.Near(t, "heat ratio", state.HeatRatio, gamma, unitstest.Abs(0.001))
	}
	// Nitrogen has 7/2 and 5/2 of R where its molecules don't vibrate yet; at 300 K
	// they do by 1e-4 of R.
	state, err := gas.StateAt(gas.Nitrogen, 1e-3, 300)
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "heat ratio", state.HeatRatio, 1.4, unitstest.Abs(5e-4))
	unitstest.Near(t, "exponent", state.EffectiveExponent, state.HeatRatio, unitstest.Rel(1e-8))
}

func TestSmallCompressionsHaveTheExponentOfTheState(t *testing.T) {
	for _, g := range gases {
		// Small strokes start with the effective exponent, on both sides of none.
		state, _ := gas.StateAt(g.gas, 20e5, 293.15)
		for _, ratio := range []float64{1 - 2e-6, 1 - 1e-9, 1, 1 + 1e-9, 1 + 2e-6} {
			out, err := gas.Compress(g.gas, 20e5, 293.15, ratio)
			if err != nil {
				t.Fatal(err)
			}
			unitstest.Near(t, "exponent", out.Exponent, state.EffectiveExponent, unitstest.Rel(1e-5))
		}
	}
}

// Over the whole scope and a little beyond each end of it: answers are finite,
// a fast stroke ends above a slow one, and what lies outside is refused.
func TestRealGasOverItsWholeRange(t *testing.T) {
	for _, g := range gases {
		for _, p := range []units.AbsolutePressure{1e-3, 1e5, 40e5} {
			for _, kelvin := range []units.Temperature{250, 300, 350} {
				state, err := gas.StateAt(g.gas, p, kelvin)
				if err != nil || !finite(state.Compressibility, state.HeatRatio, state.EffectiveExponent) || !(state.HeatRatio > 1.39) {
					t.Errorf("%s at %v, %v: %+v %v", g.gas, p, kelvin, state, err)
				}
				for _, ratio := range []float64{0.2, 5} {
					out, err := gas.Compress(g.gas, p, kelvin, ratio)
					if err != nil || !finite(float64(out.Slow), float64(out.Fast), out.Exponent) || (out.Fast > out.Slow) != (ratio > 1) {
						t.Errorf("%s from %v, %v by %g: %+v %v", g.gas, p, kelvin, ratio, out, err)
					}
				}
			}
		}
	}
}

func TestRealGasAllocatesNothing(t *testing.T) {
	for _, g := range gases {
		if n := testing.AllocsPerRun(20, func() {
			_, _ = gas.StateAt(g.gas, 20e5, 300)
			_, _ = gas.Compress(g.gas, 20e5, 300, 3)
		}); n != 0 {
			t.Errorf("%s: %v allocations", g.gas, n)
		}
	}
}

// Without giving off heat a stroke can be taken back: a gas let out to a larger
// volume and compressed again is what it was, and the exponent of the stroke as a
// whole, ln(p₂/p₁)/ln(V₁/V₂), is that of both ways.
func TestRealStrokeThereAndBack(t *testing.T) {
	for _, species := range []gas.Species{gas.DryAir, gas.Nitrogen} {
		for _, pressure := range []units.AbsolutePressure{1e5, 10e5, 39e5} {
			for _, ratio := range []float64{0.65, 0.8, 0.99, 0.999999} {
				out, err := gas.Compress(species, pressure, 305, ratio)
				wantFields(t, "out", err)
				unitstest.Near(t, "exponent", out.Exponent, math.Log(float64(out.Fast/pressure))/math.Log(ratio), unitstest.Rel(1e-8))
				back, err := gas.Compress(species, out.Fast, out.Temperature, 1/ratio)
				wantFields(t, "back", err)
				unitstest.Near(t, "pressure", back.Fast, pressure, unitstest.Rel(1e-12))
				unitstest.Near(t, "temperature", back.Temperature, 305, unitstest.Rel(1e-12))
				unitstest.Near(t, "exponent", back.Exponent, out.Exponent, unitstest.Rel(1e-8))
			}
		}
	}
}
