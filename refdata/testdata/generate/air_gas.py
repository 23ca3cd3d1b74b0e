"""Writes data/cases/air-gas.json: how far air is from ideal.

The compressibility is pV/(RT), the effective exponent −(∂ln p/∂ln v)ₛ. The
computed values come from the reference equation of state of air, evaluated at
40 digits from its published coefficients by a program that is not part of this
project; they stand here as literals. See casefile.py for how to run it.
"""
from casefile import File, RULES

file = File("air as a real gas")

# ------------------------------------------------------------------- published

g = file.group({"title": "Hilsenrath et al., Tables of Thermal Properties of Gases, NBS Circular 564", "year": 1955,
                "where": "ideal-gas k of air, as quoted in university course notes",
                "url": "http://www.ent.ohiou.edu/~thermo/me321/Potter/specific_heat/air_Cp_Cv.html"}, "published")
for t, k in [("250 K", 1.401), ("300 K", 1.4), ("350 K", 1.398)]:
    g.add("airspring.gas", {"gas": "air", "pressure": "100 Pa(a)", "temperature": t}, {"effective_exponent": k}, {"effective_exponent": "0.001"},
          "the limit of the equation of state for zero pressure agrees within one unit of the last digit",
          "Printed for zero pressure, where the exponent is the ratio of heats; 100 Pa stand for it. The tolerance is one unit of the last digit: the equation of state is forty-five years younger.")

# -------------------------------------------------------------------- computed

g = file.group({"title": "Lemmon, Jacobsen, Penoncello, Friend, Thermodynamic properties of air and mixtures, J. Phys. Chem. Ref. Data 29, 331", "year": 2000,
                "where": "the equation of state of the paper, evaluated at 40 digits from its coefficients, which were taken from two public transcriptions that agree",
                "url": "https://doi.org/10.1063/1.1285884"}, "computed", 101)
SECOND = "the same program gives every printed digit of the states that the paper prints; cp and exponent also by numerical differentiation"
# temperature, pressure, compressibility, effective exponent
STATES = [
    ("250 K", "1 bar(a)", 0.999052627568676, 1.40223592773338),
    ("250 K", "5 bar(a)", 0.995335655945337, 1.40782880156877),
    ("250 K", "10 bar(a)", 0.990848885532719, 1.41540220083782),
    ("250 K", "20 bar(a)", 0.982389745777073, 1.43244214854971),
    ("250 K", "30 bar(a)", 0.974602472862504, 1.45197982232953),
    ("250 K", "35 bar(a)", 0.970961306248062, 1.46269443616952),
    ("250 K", "40 bar(a)", 0.96749147931846, 1.47405249348846),
    ("273.15 K", "1 bar(a)", 0.999406141679814, 1.40187937127251),
    ("273.15 K", "5 bar(a)", 0.997095906321938, 1.40739189842876),
    ("273.15 K", "10 bar(a)", 0.99435115609314, 1.41473145459744),
    ("273.15 K", "20 bar(a)", 0.989319705510707, 1.43084740012624),
    ("273.15 K", "30 bar(a)", 0.984876558834244, 1.44881387082877),
    ("273.15 K", "35 bar(a)", 0.982870904721094, 1.45847946801332),
    ("273.15 K", "40 bar(a)", 0.981008439828254, 1.46859930181307),
    ("293.15 K", "1 bar(a)", 0.999628646335399, 1.40142720811526),
    ("293.15 K", "5 bar(a)", 0.998201066377475, 1.40681989093845),
    ("293.15 K", "10 bar(a)", 0.99654329342521, 1.4139242800761),
    ("293.15 K", "20 bar(a)", 0.993631655025911, 1.42928577983581),
    ("293.15 K", "30 bar(a)", 0.991233992076015, 1.4461101910522),
    ("293.15 K", "35 bar(a)", 0.990221420002514, 1.45505297635427),
    ("293.15 K", "40 bar(a)", 0.98933084550478, 1.46434410218161),
    ("300 K", "1 bar(a)", 0.999691619453076, 1.4012392924008),
    ("300 K", "5 bar(a)", 0.998513438417517, 1.40658425917371),
    ("300 K", "10 bar(a)", 0.997161901184085, 1.41360459749576),
    ("300 K", "20 bar(a)", 0.994844692678116, 1.42871782347744),
    ("300 K", "30 bar(a)", 0.993017300959209, 1.44518663399273),
    ("300 K", "35 bar(a)", 0.992280519777731, 1.45391039541259),
    ("300 K", "40 bar(a)", 0.99165923897405, 1.46295415938931),
    ("320 K", "1 bar(a)", 0.999845382088124, 1.40058828977079),
    ("320 K", "5 bar(a)", 0.999275346641638, 1.40578179041608),
    ("320 K", "10 bar(a)", 0.998668767956913, 1.41255259074481),
    ("320 K", "20 bar(a)", 0.997792061647639, 1.426970891579),
    ("320 K", "30 bar(a)", 0.997340047056734, 1.44248629687357),
    ("320 K", "35 bar(a)", 0.997266262211247, 1.45063552483127),
    ("320 K", "40 bar(a)", 0.997291113446381, 1.45903826772522),
    ("350 K", "1 bar(a)", 1.00001236730566, 1.39931076556743),
    ("350 K", "5 bar(a)", 1.00010130645073, 1.40425926461469),
    ("350 K", "10 bar(a)", 1.00029875203594, 1.41065695794938),
    ("350 K", "20 bar(a)", 1.0009668304913, 1.42411463814312),
    ("350 K", "30 bar(a)", 1.00197786123968, 1.43839234897776),
    ("350 K", "35 bar(a)", 1.00260537728914, 1.4458201701706),
    ("350 K", "40 bar(a)", 1.00331135638203, 1.4534330225132),
]
for t, p, z, exponent in STATES:
    g.add("airspring.gas", {"gas": "air", "pressure": p, "temperature": t}, {"compressibility": z, "effective_exponent": exponent}, 1e-12, SECOND)
# bar above 101325 Pa, compressibility at 293.15 K
FILLS = [(3, 0.998544729501277), (5, 0.99785389189317), (8, 0.996859529808675), (10, 0.996224075631874),
         (15, 0.994729386721165), (20, 0.993365722170232), (25, 0.992129754674878), (35, 0.990031126741952)]
for fill, z in FILLS:
    g.add("airspring.gas", {"gas": "air", "pressure": f"{fill * 100000 + 101325} Pa(a)", "temperature": "293.15 K"}, {"compressibility": z}, 1e-12,
          SECOND, f"filled to {fill} bar at 20 °C at sea level")

# -------------------------------------------------------------------- refusals

g = file.group(RULES, "common practice")
g.refuse_each("airspring.gas", {"gas": "air", "pressure": "20 bar(a)", "temperature": "293.15 K"}, [
    ({"gas": "helium"}, ["gas"], "no such gas here"), ({"gas": None}, ["gas"], "missing"), ({"gas": 1}, ["gas"], "a name is wanted"),
    ({"pressure": "20 bar"}, ["pressure"], "gauge: the pressure of a gas law is absolute"), ({"pressure": "-1 bar(a)"}, ["pressure"], "below vacuum"),
    ({"pressure": "5000 bar(a)"}, ["pressure"], "far beyond what the model covers"), ({"pressure": "NaN bar(a)"}, ["pressure"], "not a number"),
    ({"temperature": "20"}, ["temperature"], "missing unit"), ({"temperature": "0 K"}, ["temperature"], "absolute zero"),
    ({"temperature": "3000 K"}, ["temperature"], "far beyond what the model covers"),
    ({"gas": "helium", "temperature": "3000 K"}, ["gas", "temperature"], "two bad fields, both named"),
])

file.write()
