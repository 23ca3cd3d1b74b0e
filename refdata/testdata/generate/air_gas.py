"""Writes data/cases/air-gas.json: how far air and nitrogen are from ideal.

The compressibility is pV/(RT), the effective exponent −(∂ln p/∂ln v)ₛ, which
is ρw²/p with w the speed of sound. The computed values come from the reference
equations of state, evaluated at 40 digits from their published coefficients by
a program that is not part of this project; they stand here as literals. The
published ones are made here of the printed density and speed of sound. See
casefile.py for how to run it.
"""
from mpmath import mpf

from casefile import ATM, File, RULES, Number, digits

file = File("air and nitrogen as real gases")
R = mpf("8.31451")  # J/(mol K), as these papers have it
NITROGEN = mpf("0.02801348")  # kg/mol

# ------------------------------------------------------------------- published

YOUNGLOVE = {"title": "Younglove, Thermophysical properties of fluids I, J. Phys. Chem. Ref. Data 11, Supplement 1",
             "year": 1982, "where": "Appendix I, as quoted in public test data of a property library"}
JACOBSEN = {"title": "Jacobsen, Stewart, Jahangiri, Thermodynamic properties of nitrogen, J. Phys. Chem. Ref. Data 15, 735",
            "year": 1986, "where": "Table 22, as quoted in public test data of a property library"}
FROM = ("Made of the printed density {} mol/dm³ and speed of sound {} m/s; the tolerance of the compressibility is half a unit of the density's "
        "last digit, that of the exponent the same for both or 0.1 %, to which this older equation of state and the reference one agree.")
# source, K, Pa, printed density in mol/dm³, half unit, printed speed of sound, half unit
for source, t, p, rho, half, speed, half_speed in [
    (YOUNGLOVE, 300, 101325, "0.04063", "0.000005", "353.2", "0.05"), (YOUNGLOVE, 260, 300000, "0.1390", "0.00005", "328.9", "0.05"),
    (YOUNGLOVE, 350, 800000, "0.2746", "0.00005", "383.0", "0.05"), (JACOBSEN, 300, 101325, "0.04063", "0.000005", "353", "0.5"),
]:
    if not file.groups or file.groups[-1].source is not source:
        g = file.group(source, "published")
    molar = mpf(rho) * 1000
    z, u = p / (molar * R * t), mpf(half) / mpf(rho)
    exponent = molar * NITROGEN * mpf(speed) ** 2 / p
    v = max(2 * mpf(half_speed) / mpf(speed) + u, mpf("1e-3"))
    g.add("airspring.gas", {"gas": "nitrogen", "pressure": f"{p} Pa(a)", "temperature": f"{t} K"},
          {"compressibility": Number(digits(z, 7)), "effective_exponent": Number(digits(exponent, 6))},
          {"compressibility": float(digits(u, 3)), "effective_exponent": float(digits(v, 3))},
          "the reference equation of Span et al. (2000) agrees within the tolerance", FROM.format(rho, speed))

# -------------------------------------------------------------------- computed

EQUATIONS = {
    "air": {"title": "Lemmon, Jacobsen, Penoncello, Friend, Thermodynamic properties of air and mixtures, J. Phys. Chem. Ref. Data 29, 331", "year": 2000,
            "where": "the equation of state of the paper, evaluated at 40 digits from its coefficients, which were taken from two public transcriptions that agree",
            "url": "https://doi.org/10.1063/1.1285884"},
    "nitrogen": {"title": "Span, Lemmon, Jacobsen, Wagner, Yokozeki, A reference equation of state for nitrogen, J. Phys. Chem. Ref. Data 29, 1361", "year": 2000,
                 "where": "the equation of state of the paper, evaluated at 40 digits from its coefficients, which were taken from two public transcriptions that agree",
                 "url": "https://doi.org/10.1063/1.1349047"},
}
SECOND = "the same program gives every printed digit of the states that the paper prints; cp and exponent also by numerical differentiation"
# gas: temperature, pressure, compressibility, effective exponent
STATES = {
    "air": [
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
    ],
    "nitrogen": [
        ("250 K", "1 bar(a)", 0.999212088815403, 1.40131267463105),
        ("250 K", "5 bar(a)", 0.996121534895765, 1.4076350382118),
        ("250 K", "10 bar(a)", 0.992399138685131, 1.41606219064898),
        ("250 K", "20 bar(a)", 0.985445791915734, 1.43471887166605),
        ("250 K", "30 bar(a)", 0.979188123511429, 1.45587660676517),
        ("250 K", "35 bar(a)", 0.976335571317404, 1.46742896491368),
        ("250 K", "40 bar(a)", 0.973675347272754, 1.47964787435471),
        ("273.15 K", "1 bar(a)", 0.999549350806535, 1.40120180956509),
        ("273.15 K", "5 bar(a)", 0.997800553565721, 1.40737951924388),
        ("273.15 K", "10 bar(a)", 0.995737238776103, 1.41549904464871),
        ("273.15 K", "20 bar(a)", 0.992030258672894, 1.43308135131742),
        ("273.15 K", "30 bar(a)", 0.988902032208426, 1.45248760649115),
        ("273.15 K", "35 bar(a)", 0.987562112274991, 1.46288627181655),
        ("273.15 K", "40 bar(a)", 0.986375337794913, 1.47375393191274),
        ("293.15 K", "1 bar(a)", 0.999760258016971, 1.40104035135232),
        ("293.15 K", "5 bar(a)", 0.998848332029514, 1.40705457591476),
        ("293.15 K", "10 bar(a)", 0.997815035336433, 1.41488963915488),
        ("293.15 K", "20 bar(a)", 0.996108872384498, 1.43162065495675),
        ("293.15 K", "30 bar(a)", 0.994892358060899, 1.44977252207553),
        ("293.15 K", "35 bar(a)", 0.994471062339708, 1.45938329742225),
        ("293.15 K", "40 bar(a)", 0.99417609106237, 1.46935125261023),
        ("300 K", "1 bar(a)", 0.999819674522771, 1.40096808512717),
        ("300 K", "5 bar(a)", 0.999143184169909, 1.4069215441943),
        ("300 K", "10 bar(a)", 0.998398954746673, 1.41465790371634),
        ("300 K", "20 bar(a)", 0.997252154424072, 1.43111238909092),
        ("300 K", "30 bar(a)", 0.996567589521055, 1.44887658498619),
        ("300 K", "35 bar(a)", 0.996401105460129, 1.45824986107622),
        ("300 K", "40 bar(a)", 0.996353048382091, 1.46795025478673),
        ("320 K", "1 bar(a)", 0.999964060059695, 1.40069766544305),
        ("320 K", "5 bar(a)", 0.999859038569496, 1.40646585962467),
        ("320 K", "10 bar(a)", 0.999815047164612, 1.41391484439123),
        ("320 K", "20 bar(a)", 1.00001895339851, 1.42960246852081),
        ("320 K", "30 bar(a)", 1.00061387385757, 1.4463332622257),
        ("320 K", "35 bar(a)", 1.00105864279912, 1.4550862820526),
        ("320 K", "40 bar(a)", 1.00160193710495, 1.46409569201468),
        ("350 K", "1 bar(a)", 1.00011927923731, 1.40009072013283),
        ("350 K", "5 bar(a)", 1.00062742055763, 1.4055722575929),
        ("350 K", "10 bar(a)", 1.00133219537592, 1.4126015609585),
        ("350 K", "20 bar(a)", 1.00297257099304, 1.42724174919874),
        ("350 K", "30 bar(a)", 1.00491890342113, 1.44264175547278),
        ("350 K", "35 bar(a)", 1.00600616886372, 1.45062114276629),
        ("350 K", "40 bar(a)", 1.007169162953, 1.45878389037946),
    ],
}
# gas: bar above 101325 Pa, compressibility at 293.15 K
FILLS = {
    "air": [(3, 0.998544729501277), (5, 0.99785389189317), (8, 0.996859529808675), (10, 0.996224075631874), (15, 0.994729386721165), (20, 0.993365722170232), (25, 0.992129754674878), (35, 0.990031126741952)],
    "nitrogen": [(3, 0.999066279250918), (5, 0.998629329113911), (8, 0.998009519178719), (10, 0.997620179513383), (15, 0.996730993820052), (20, 0.995963133973379), (25, 0.995317966369942), (35, 0.994401041463809)],
}
TOLERANCE = {"compressibility": 1e-4, "effective_exponent": 1e-3}
first = 101
for gas, rows in STATES.items():
    g = file.group(EQUATIONS[gas], "computed", first)
    first += 100
    for t, p, z, exponent in rows:
        g.add("airspring.gas", {"gas": gas, "pressure": p, "temperature": t}, {"compressibility": z, "effective_exponent": exponent},
              TOLERANCE, SECOND)
    for fill, z in FILLS[gas]:
        g.add("airspring.gas", {"gas": gas, "pressure": f"{fill * 100000 + 101325} Pa(a)", "temperature": "293.15 K"}, {"compressibility": z},
              {"compressibility": TOLERANCE["compressibility"]}, SECOND, f"filled to {fill} bar at 20 °C at sea level")

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
