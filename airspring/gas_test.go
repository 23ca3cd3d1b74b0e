package airspring_test

import (
	"math"
	"testing"

	"example.com/wheelrate/airspring"
	"example.com/wheelrate/units"
	"example.com/wheelrate/units/unitstest"
)

// airRows are the equation of state of Lemmon and others (J. Phys. Chem. Ref.
// Data 29 (2000) 331), evaluated in 40 digits by a program that is not part of
// this project from coefficients that two public transcriptions agree on: K, Pa
// absolute, Z, cp/cv and −(∂ln p/∂ln v)_s.
var airRows = []struct{ kelvin, pascals, z, gamma, exponent float64 }{
	{250.0, 100000.0, 0.9990526275686757, 1.4035604856951003, 1.40223592773338},
	{250.0, 500000.0, 0.9953356559453367, 1.414299208353097, 1.407828801568775},
	{250.0, 1000000.0, 0.9908488855327193, 1.4279721847334603, 1.4154022008378202},
	{250.0, 2000000.0, 0.9823897457770735, 1.4561278653963976, 1.4324421485497132},
	{250.0, 3000000.0, 0.9746024728625041, 1.4852850115124157, 1.4519798223295313},
	{250.0, 3500000.0, 0.9709613062480615, 1.5001930368878964, 1.4626944361695238},
	{250.0, 4000000.0, 0.9674914793184597, 1.5152867112637889, 1.4740524934884633},
	{273.15, 100000.0, 0.9994061416798139, 1.4027077615128745, 1.4018793712725135},
	{273.15, 500000.0, 0.9970959063219377, 1.4113771680582192, 1.407391898428764},
	{273.15, 1000000.0, 0.99435115609314, 1.422320309080761, 1.414731454597443},
	{273.15, 2000000.0, 0.989319705510707, 1.444540480612349, 1.430847400126236},
	{273.15, 3000000.0, 0.9848765588342442, 1.4671489263122266, 1.4488138708287728},
	{273.15, 3500000.0, 0.9828709047210938, 1.4785691182163783, 1.4584794680133193},
	{273.15, 4000000.0, 0.9810084398282538, 1.4900464273664706, 1.468599301813068},
	{293.15, 100000.0, 0.9996286463353988, 1.4019437268350032, 1.4014272081152632},
	{293.15, 500000.0, 0.9982010663774749, 1.4092544548747286, 1.406819890938446},
	{293.15, 1000000.0, 0.9965432934252103, 1.4184332175558878, 1.4139242800761045},
	{293.15, 2000000.0, 0.9936316550259107, 1.436910987303557, 1.429285779835813},
	{293.15, 3000000.0, 0.9912339920760151, 1.45551148214296, 1.4461101910522023},
	{293.15, 3500000.0, 0.9902214200025143, 1.46483875545954, 1.4550529763542661},
	{293.15, 4000000.0, 0.9893308455047805, 1.474171408807348, 1.4643441021816084},
	{300.0, 100000.0, 0.9996916194530764, 1.4016676179265728, 1.4012392924007981},
	{300.0, 500000.0, 0.9985134384175167, 1.4085819788118874, 1.406584259173712},
	{300.0, 1000000.0, 0.9971619011840852, 1.4172500395794692, 1.413604597495761},
	{300.0, 2000000.0, 0.9948446926781158, 1.4346577978675754, 1.4287178234774423},
	{300.0, 3000000.0, 0.9930173009592089, 1.4521291093941848, 1.445186633992728},
	{300.0, 3500000.0, 0.9922805197777311, 1.4608724484189077, 1.453910395412589},
	{300.0, 4000000.0, 0.9916592389740495, 1.4696101854087718, 1.4629541593893078},
	{320.0, 100000.0, 0.9998453820881238, 1.4008014471145174, 1.4005882897707864},
	{320.0, 500000.0, 0.9992753466416379, 1.4067170310530055, 1.4057817904160785},
	{320.0, 1000000.0, 0.9986687679569132, 1.4141059880477715, 1.4125525907448133},
	{320.0, 2000000.0, 0.9977920616476391, 1.4288589997702408, 1.426970891579},
	{320.0, 3000000.0, 0.9973400470567342, 1.443560152414469, 1.4424862968735723},
	{320.0, 3500000.0, 0.9972662622112473, 1.4508815518427751, 1.4506355248312652},
	{320.0, 4000000.0, 0.9972911134463809, 1.4581769544321626, 1.4590382677252236},
	{350.0, 100000.0, 1.0000123673056647, 1.3992906654926753, 1.399310765567433},
	{350.0, 500000.0, 1.0001013064507294, 1.404048555566898, 1.4042592646146852},
	{350.0, 1000000.0, 1.0002987520359354, 1.4099682718335667, 1.4106569579493757},
	{350.0, 2000000.0, 1.0009668304913035, 1.4217146812893802, 1.4241146381431242},
	{350.0, 3000000.0, 1.0019778612396832, 1.4333310146781022, 1.4383923489777588},
	{350.0, 3500000.0, 1.0026053772891372, 1.4390864777012626, 1.4458201701705962},
	{350.0, 4000000.0, 1.0033113563820333, 1.444803905496975, 1.4534330225131966},
}

// strokeRows are compressions of air computed in the same way, from 293.15 K and
// a fill in Pa above 101 325 Pa, by a ratio: Z before, the pressures after a slow
// and a fast stroke, the exponent and the temperature of the fast one.
var strokeRows = []struct{ fill, ratio, z, slow, fast, exponent, kelvin float64 }{
	{300000.0, 2, 0.9985447295012767, 801556.7748724126, 1064230.2529843922, 1.40696738608576, 387.44468333898527},
	{300000.0, 3, 0.9985447295012767, 1200805.5411596945, 1884748.639026454, 1.40793816534097, 455.65837879188405},
	{500000.0, 2, 0.9978538918931703, 1200316.2701734193, 1599471.6367850467, 1.4113785648323316, 387.9657016050681},
	{500000.0, 3, 0.9978538918931703, 1797332.047525481, 2842240.4195721857, 1.41379480508236, 456.84817146386985},
	{800000.0, 2, 0.9968595298086754, 1797801.1023565696, 2408845.034968273, 1.4182222732649679, 388.75445060675906},
	{800000.0, 3, 0.9968595298086754, 2690582.898357318, 4303148.940880036, 1.42291913056065, 458.65652422478854},
	{1000000.0, 2, 0.9962240756318741, 2195792.441702557, 2952981.053435618, 1.4229318303350647, 389.28507441557247},
	{1000000.0, 3, 0.9962240756318741, 3285458.348376416, 5294525.222227814, 1.429220595428695, 459.8779021877079},
	{1500000.0, 2, 0.9947293867211645, 3190110.0616489234, 4330308.736880254, 1.4352037455442177, 390.6283151770739},
	{1500000.0, 3, 0.9947293867211645, 4772407.119690137, 7838978.980857347, 1.4457121940935143, 462.9869821465818},
	{2000000.0, 2, 0.9933657221702321, 4184319.966253409, 5733696.80919333, 1.4481663059491388, 391.99529390927137},
	{2000000.0, 3, 0.9933657221702321, 6262375.242333396, 10486524.570442755, 1.4632304563926113, 466.17632090320524},
	{2500000.0, 2, 0.992129754674878, 5179466.853534989, 7165411.147584088, 1.4618028323915486, 393.38597190927123},
	{2500000.0, 3, 0.992129754674878, 7759767.222485773, 13248722.025607578, 1.4817603835965767, 469.4472241526189},
	{3500000.0, 2, 0.9900311267419523, 7176929.805170462, 10123245.814947437, 1.491072229423468, 396.23867511216656},
	{3500000.0, 3, 0.9900311267419523, 10796410.44503684, 19167930.963284582, 1.5218624479311817, 476.2405443032381},
}

func TestRealAir(t *testing.T) {
	if len(airRows) != 42 || len(strokeRows) != 16 {
		t.Errorf("%d and %d rows", len(airRows), len(strokeRows))
	}
	for _, r := range airRows {
		gas, err := airspring.RealAir(units.AbsolutePressure(r.pascals), units.Temperature(r.kelvin))
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "Z", gas.Compressibility, r.z, close12)
		unitstest.Near(t, "heat ratio", gas.HeatRatio, r.gamma, close12)
		unitstest.Near(t, "exponent", gas.EffectiveExponent, r.exponent, close12)
	}
}

func TestCompressAir(t *testing.T) {
	for _, r := range strokeRows {
		p := units.AbsolutePressure(r.fill + 101325)
		gas, err := airspring.RealAir(p, 293.15)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "Z", gas.Compressibility, r.z, close12)
		out, err := airspring.CompressAir(p, 293.15, r.ratio)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "slow", out.Slow, units.AbsolutePressure(r.slow), close12)
		unitstest.Near(t, "fast", out.Fast, units.AbsolutePressure(r.fast), unitstest.Rel(1e-11))
		unitstest.Near(t, "exponent", out.Exponent, r.exponent, unitstest.Rel(1e-11))
		unitstest.Near(t, "temperature", out.Temperature, units.Temperature(r.kelvin), unitstest.Rel(1e-11))
	}
}

// Towards no pressure air is an ideal gas, with the heat ratio of NBS Circular
// 564 (1955) as quoted in public course notes, to one unit of the last digit.
func TestRealAirLimits(t *testing.T) {
	for kelvin, gamma := range map[units.Temperature]float64{250: 1.401, 300: 1.400, 350: 1.398} {
		gas, err := airspring.RealAir(1e-3, kelvin)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "Z", gas.Compressibility, 1, unitstest.Rel(1e-9))
		unitstest.Near(t, "exponent", gas.EffectiveExponent, gas.HeatRatio, unitstest.Rel(1e-8))
		unitstest.Near(t, "heat ratio", gas.HeatRatio, gamma, unitstest.Abs(0.001))
	}
	// Small strokes start with the effective exponent, on both sides of none.
	gas, _ := airspring.RealAir(20e5, 293.15)
	for _, ratio := range []float64{1 - 2e-6, 1 - 1e-9, 1, 1 + 1e-9, 1 + 2e-6} {
		out, err := airspring.CompressAir(20e5, 293.15, ratio)
		if err != nil {
			t.Fatal(err)
		}
		unitstest.Near(t, "exponent", out.Exponent, gas.EffectiveExponent, unitstest.Rel(1e-5))
	}
	// There and back again.
	out, _ := airspring.CompressAir(10e5, 300, 1.3)
	back, err := airspring.CompressAir(out.Fast, out.Temperature, 1/1.3)
	if err != nil {
		t.Fatal(err)
	}
	unitstest.Near(t, "back", back.Fast, 10e5, unitstest.Rel(1e-11))
	unitstest.Near(t, "back", back.Temperature, 300, unitstest.Rel(1e-11))
}

// A fast stroke in eight parts ends where it does as a whole.
func TestCompressAirChained(t *testing.T) {
	const steps = 8
	p, kelvin := units.AbsolutePressure(8e5), units.Temperature(270)
	ratio := math.Pow(1.5, 1.0/steps)
	whole, err := airspring.CompressAir(p, kelvin, 1.5)
	if err != nil {
		t.Fatal(err)
	}
	for range steps {
		out, err := airspring.CompressAir(p, kelvin, ratio)
		if err != nil {
			t.Fatal(err)
		}
		p, kelvin = out.Fast, out.Temperature
	}
	unitstest.Near(t, "pressure", p, whole.Fast, unitstest.Rel(1e-11))
	unitstest.Near(t, "temperature", kelvin, whole.Temperature, unitstest.Rel(1e-11))
}

func TestRealAirRefuses(t *testing.T) {
	for _, v := range []float64{nan, inf, -inf, -1, 0, 5e6} {
		_, err := airspring.RealAir(units.AbsolutePressure(v), units.Temperature(v))
		wantFields(t, "air", err, "pressure", "temperature")
		_, err = airspring.CompressAir(units.AbsolutePressure(v), units.Temperature(v), v)
		wantFields(t, "stroke", err, "pressure", "ratio", "temperature")
	}
	for _, kelvin := range []units.Temperature{249, 351} {
		_, err := airspring.RealAir(1e5, kelvin)
		wantFields(t, "air", err, "temperature")
	}
}
