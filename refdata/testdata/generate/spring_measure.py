"""Writes data/cases/spring-measure.json: the rate of a spring that was measured.

Caliper: k = G d⁴/(8 D³ n) with D = OD − d or ID + d, and its standard
uncertainty to first order from those of d, the diameter (with correlation r),
n and G. Readings: ordinary least squares of force on travel, with the standard
error of the slope from the residuals over n − 2. See casefile.py for how to
run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, num, si, to

file = File("measuring a spring")
SCRIPT = "spring_measure.py"

# --------------------------------------------------------------------- caliper

g = file.group(mpmath_source(SCRIPT, "first-order propagation of standard uncertainties"), "computed")


def caliper(given):
    d, n, shear = si(given["wire_diameter"]), si(given["active_coils"]), si(given["shear_modulus"])
    side = 1 if "outer_diameter" in given else -1
    diameter = si(given["outer_diameter" if side > 0 else "inner_diameter"])
    mean = diameter - side * d
    ud, uo = si(given["wire_uncertainty"]), si(given["diameter_uncertainty"])
    un, ug = si(given["coil_uncertainty"]), si(given["modulus_uncertainty"])
    cd, co, r = 4 / d + side * 3 / mean, -3 / mean, si(given.get("correlation", 0))
    u = mp.sqrt(cd**2 * ud**2 + co**2 * uo**2 + 2 * r * cd * co * ud * uo + (un / n) ** 2 + (ug / shear) ** 2)
    k = lambda d, o, n, s: s * d**4 / (8 * (o - side * d) ** 3 * n)  # noqa: E731
    rate = k(d, diameter, n, shear)
    at = (d, diameter, n, shear)
    numeric = [mp.diff(lambda x: mp.log(k(*at[:i], x, *at[i + 1:])), at[i]) for i in range(4)]
    for have, want in zip((cd, co, -1 / n, 1 / shear), numeric):
        close(have, want, mpf("1e-20"), "sensitivity")
    return {"rate": to(rate, "N/mm"), "rate_uncertainty": to(rate * u, "N/mm"), "relative_uncertainty": num(u)}


NUMERIC = "sensitivities by numerical differentiation of ln k at 50 digits"
SEPARATE = NUMERIC + "; agrees to 15 digits with a separate program, and to 0.1 % with 4 million Monte Carlo draws"


def measured(d, diameter, n, shear, ud, uo, un, ug, r=None, inner=False, second=NUMERIC, note=""):
    given = {"wire_diameter": f"{d} mm", ("inner" if inner else "outer") + "_diameter": f"{diameter} mm", "active_coils": n,
             "shear_modulus": f"{shear} MPa", "wire_uncertainty": f"{ud} mm", "diameter_uncertainty": f"{uo} mm",
             "coil_uncertainty": un, "modulus_uncertainty": f"{ug} MPa"}
    if r is not None:
        given["correlation"] = r
    g.add("spring.caliper", given, caliper(given), 1e-12, second, note)


measured(10, 56, 5, 79500, 0.02, 0.02, 0, 0, second=SEPARATE, note="readings alone")
measured(8.5, 53.5, 5.25, 79500, 0.02, 0.05, 0.1, 800, second=SEPARATE, note="the coil count and 1 % of the modulus outweigh the readings")
measured(5, 30.4, 24, 79500, 0.01, 0.02, 0.1, 800, second=SEPARATE, note="a fork spring")
measured(11.2, 59.4, 5, 42060, 0.03, 0.05, 0.05, 1700, second=SEPARATE, note="titanium: 4 % of the modulus")
measured(10, 56, 5, 79500, 0.02, 0.02, 0, 0, 0.8, second=SEPARATE, note="one caliper's zero error in both readings helps")
measured(10, 36, 5, 79500, 0.02, 0.02, 0, 0, 0, True, second=SEPARATE, note="inner diameter measured")
measured(10, 36, 5, 79500, 0.02, 0.02, 0, 0, -0.8, True, note="inner diameter, negative correlation")
measured(10, 56, 5, 79500, 0, 0, 0, 0, note="no uncertainty at all: zero, not an error")
measured(12.7, 66, 5.75, 77200, 0.05, 0.1, 0.25, 1500, 0.5, note="a worn heavy spring and a cheap caliper")
measured(6.1, 37.9, 17.5, 79500, 0.005, 0.01, 0.05, 400, 1, note="full correlation")
measured(4.6, 30, 26, 81500, 0.01, 0.02, 0.2, 500, -1, note="full negative correlation")

# -------------------------------------------------------------------- readings

g = file.group(mpmath_source(SCRIPT, "invented readings; ordinary least squares"), "computed")


def readings(travel, force, unit="mm", funit="N", runit="N/mm", note=""):
    given = {"travel": [f"{x} {unit}" for x in travel], "force": [f"{f} {funit}" for f in force]}
    x, f = [si(v) for v in given["travel"]], [si(v) for v in given["force"]]
    n = len(x)
    mx, mf = sum(x) / n, sum(f) / n
    sxx = sum((a - mx) ** 2 for a in x)
    k = sum((a - mx) * (b - mf) for a, b in zip(x, f)) / sxx
    zero = mf - k * mx
    residuals = [b - zero - k * a for a, b in zip(x, f)]
    error = mp.sqrt(sum(r**2 for r in residuals) / (n - 2) / sxx)
    solution, norm = mp.qr_solve(mp.matrix([[1, a] for a in x]), mp.matrix(f))
    close(solution[1], k, mpf("1e-40"), "slope")
    close(norm, mp.sqrt(sum(r**2 for r in residuals)), mpf("1e-20"), "residual") if norm > mpf("1e-30") else None
    exact = error < mpf("1e-30")
    expect = {"rate": to(k, runit), "force_at_zero": to(zero if abs(zero) > mpf("1e-30") else mpf(0), funit)}
    tolerance = {"rate": 1e-12, "force_at_zero": 1e-11}
    if exact:
        tolerance["force_at_zero"] = f"1e-9 {funit}"
        expect["rate_standard_error"], tolerance["rate_standard_error"] = f"0 {runit}", f"1e-9 {runit}"
    else:
        expect["rate_standard_error"], tolerance["rate_standard_error"] = to(error, runit), 1e-9
    g.add("spring.readings", given, expect, tolerance, "QR decomposition at 50 digits", note)


readings([0, 10, 20, 30, 40, 50], [2, 820, 1618, 2441, 3240, 4060], note="a shock coil on a press")
readings([5, 15, 25, 35, 45], [402, 1195, 1990, 2793, 3581], note="not from zero")
readings([0, 0.25, 0.5, 0.75, 1, 1.25, 1.5], [0, 112, 226, 337, 451, 561, 676], "in", "lbf", "lbf/in", "customary units")
readings([0, 20, 40], [150, 1750, 3350], note="exactly straight, with a preload of 150 N: no residuals")
readings([40, 0, 60, 20], [247, 1, 367, 121], note="a fork coil, in no order")
readings([10, 10, 20, 20, 30, 30], [612, 588, 1215, 1183, 1822, 1779], note="each travel read once while loading and once while unloading")
readings([0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55], [3, 352, 706, 1049, 1398, 1753, 2101, 2446, 2803, 3148, 3501, 3847], note="twelve readings")
readings([100, 101, 102, 103], [8001, 8079, 8162, 8239], note="readings close together and far from zero: most digits cancel")
readings([0, 30, 60], [12, 95, 190], "mm", "kgf", "kgf/mm", "a bathroom scale")

# -------------------------------------------------------------------- refusals

g = file.group(RULES, "definition")
GOOD = {"wire_diameter": "10 mm", "outer_diameter": "56 mm", "active_coils": 5, "shear_modulus": "79500 MPa", "wire_uncertainty": "0.02 mm",
        "diameter_uncertainty": "0.05 mm", "coil_uncertainty": 0.1, "modulus_uncertainty": "800 MPa"}
g.refuse_each("spring.caliper", GOOD, [
    ({"wire_diameter": "0 mm"}, ["wire_diameter"], "zero"),
    ({"wire_diameter": "28 mm"}, ["wire_diameter"], "half the outer diameter: the mean diameter is the wire's"),
    ({"wire_diameter": "10"}, ["wire_diameter"], "missing unit"),
    ({"outer_diameter": "-56 mm"}, ["outer_diameter"], "negative"),
    ({"active_coils": 0}, ["active_coils"], "zero"),
    ({"active_coils": "5"}, ["active_coils"], "a number is wanted, not a text"),
    ({"shear_modulus": "0 MPa"}, ["shear_modulus"], "zero"),
    ({"wire_uncertainty": "-0.02 mm"}, ["wire_uncertainty"], "negative"),
    ({"diameter_uncertainty": "0.05 N"}, ["diameter_uncertainty"], "the unit of another quantity"),
    ({"coil_uncertainty": -0.1}, ["coil_uncertainty"], "negative"),
    ({"modulus_uncertainty": "-800 MPa"}, ["modulus_uncertainty"], "negative"),
    ({"correlation": 1.01}, ["correlation"], "more than 1"),
    ({"correlation": -1.5}, ["correlation"], "less than -1"),
    ({"wire_diameter": "-10 mm", "active_coils": 0, "correlation": 2}, ["wire_diameter", "active_coils", "correlation"], "three bad fields, all named"),
])
READ = {"travel": ["0 mm", "10 mm", "20 mm"], "force": ["0 N", "800 N", "1600 N"]}
g.refuse_each("spring.readings", READ, [
    ({"travel": ["0 mm", "10 mm"], "force": ["0 N", "800 N"]}, ["travel"], "two readings have no scatter"),
    ({"force": ["0 N", "800 N"]}, ["force"], "fewer forces than travels"),
    ({"travel": ["10 mm", "10 mm", "10 mm"]}, ["travel"], "all at one travel"),
    ({"force": ["1600 N", "800 N", "0 N"]}, ["force"], "forces that fall with the travel"),
    ({"travel": ["0 mm", "10", "20 mm"]}, ["travel"], "missing unit"),
    ({"force": ["0 N", "80 kg", "1600 N"]}, ["force"], "a mass is no force"),
    ({"force": ["0 N", "NaN N", "1600 N"]}, ["force"], "not a number"),
])

file.write()
