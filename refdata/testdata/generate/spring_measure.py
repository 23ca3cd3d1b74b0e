"""Writes data/cases/spring-measure.json: the rate of a spring that was measured.

Caliper: k = G d⁴/(8 D³ n) with D = OD − d or ID + d, and its standard
uncertainty to first order from those of d, the diameter (with correlation r),
n and G. Readings: ordinary least squares of force on travel, with the standard
error of the slope from the residuals over n − 2. See casefile.py for how to
run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, UNITS, close, digits, mpmath_source, num, si, to

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
    shares = [(abs(c * of), name) for name, c, of in (("wire_diameter", cd, ud), ("outer_diameter" if side > 0 else "inner_diameter", co, uo),
                                                      ("active_coils", 1 / n, un), ("shear_modulus", 1 / shear, ug))]
    dominant = max(shares, key=lambda share: share[0])[1] if u else ""
    return {"mean_diameter": to(mean, "mm"), "dominant": dominant, "rate": to(rate, "N/mm"), "rate_uncertainty": to(rate * u, "N/mm"), "relative_uncertainty": num(u)}


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

# ---------------------------------------------------------------------- budget

g = file.group(mpmath_source(SCRIPT, "what is left of the variance without one measurement, and the relative change of the rate by one of it"), "computed", 1)


def budget(given, note):
    """Each of the uncorrelated parts by itself, with the others certain."""
    uncertain = {"wire_diameter": "wire_uncertainty", ("outer" if "outer_diameter" in given else "inner") + "_diameter": "diameter_uncertainty",
                 "active_coils": "coil_uncertainty", "shear_modulus": "modulus_uncertainty"}
    variance = lambda of: si(caliper(of)["relative_uncertainty"]) ** 2  # noqa: E731
    out = {"input": [*uncertain, "correlation"], "sensitivity": [], "relative": [], "variance": []}
    for name, field in uncertain.items():
        off = {f: v if f == field else v * 0 if isinstance(v, (int, float)) else "0 " + v.split(" ")[1] for f, v in given.items() if f in uncertain.values()}
        own = {**{k: v for k, v in given.items() if k != "correlation"}, **off}
        x, h = si(given[name]), mpf("1e-12")
        rate = lambda to_: exact(given, **{name: to_})  # noqa: E731
        out["sensitivity"].append(x * mp.diff(lambda v: mp.log(rate(v)), x, h=x * h))  # noqa: B023
        out["relative"].append(si(given[field]) / x)
        out["variance"].append((out["sensitivity"][-1] * out["relative"][-1]) ** 2)
        close(out["variance"][-1] + 1, variance(own) + 1, mpf("1e-13"), name)
    whole = variance(given)
    rest = 2 * si(given.get("correlation", 0)) * mp.fprod(out[k][i] for k in ("sensitivity", "relative") for i in (0, 1))
    close(mp.fsum(out["variance"]) + rest + 1, whole + 1, mpf("1e-13"), "variance")
    out["sensitivity"].append(mpf(0))
    out["relative"].append(mpf(0))
    out["variance"].append(rest)
    total = mp.fsum(out["variance"])
    out["share"] = [v / total if total else mpf(0) for v in out["variance"]]
    g.add("spring.budget", given, {k: v if k == "input" else num(v) for k, v in out.items()}, 1e-12, "one measurement uncertain at a time, by the formula of the whole", note)


def exact(given, **changed):
    """The rate with some measurements changed."""
    v = {k: changed.get(k, si(of)) for k, of in given.items()}
    d, mean = v["wire_diameter"], v["outer_diameter"] - v["wire_diameter"] if "outer_diameter" in v else v["inner_diameter"] + v["wire_diameter"]
    return v["shear_modulus"] * d**4 / (8 * mean**3 * v["active_coils"])


BUDGET = {"wire_diameter": "8.5 mm", "outer_diameter": "53.5 mm", "active_coils": 5.25, "shear_modulus": "79500 MPa", "wire_uncertainty": "0.02 mm",
          "diameter_uncertainty": "0.05 mm", "coil_uncertainty": 0.1, "modulus_uncertainty": "800 MPa"}
budget(BUDGET, "the coil count and the modulus outweigh the readings")
budget({**BUDGET, "correlation": 0.8}, "one caliper's zero error in both readings takes some away")
budget({**{k: v for k, v in BUDGET.items() if k != "outer_diameter"}, "inner_diameter": "36 mm", "correlation": 0.5}, "inner diameter: it adds some")
budget({**BUDGET, "wire_uncertainty": "0 mm", "diameter_uncertainty": "0 mm", "coil_uncertainty": 0, "modulus_uncertainty": "0 MPa"}, "no uncertainty at all")
budget({**BUDGET, "wire_uncertainty": "0.1 mm", "correlation": -0.5}, "a poor caliper: errors that oppose each other add some")
budget({**BUDGET, "shear_modulus": "42060 MPa", "modulus_uncertainty": "1700 MPa"}, "titanium: 4 % of the modulus")
budget({"wire_diameter": "5 mm", "outer_diameter": "30.4 mm", "active_coils": 24, "shear_modulus": "79500 MPa", "wire_uncertainty": "0.01 mm", "diameter_uncertainty": "0.02 mm", "coil_uncertainty": 0.1,
        "modulus_uncertainty": "800 MPa"}, "a fork spring")
budget({**BUDGET, "coil_uncertainty": 0, "modulus_uncertainty": "0 MPa", "correlation": 1}, "full correlation of the readings alone")

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
    expect = {"rate": to(k, runit), "residual_rms": to(mp.sqrt(sum(r**2 for r in residuals) / n), funit), "force_at_zero": to(zero if abs(zero) > mpf("1e-30") else mpf(0), funit)}
    tolerance = {"rate": 1e-12, "force_at_zero": 1e-11, "residual_rms": f"1e-9 {funit}" if exact else 1e-9}
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

# ------------------------------------------------------------ measured springs

ARSENAL = "Watertown Arsenal tests of helical springs (1900; University of Illinois package uiuc-7_20221004, scans with their text; the title page was not seen)"
READ = "ordinary least squares of loads read in: " + ARSENAL


def measurements(where, first=None):
    return file.group(mpmath_source(SCRIPT, f"{READ}, {where}"), "computed", first)


g = measurements("pages 386 and 387: recoil springs between heights of 12.25 and 9.75 in, and closed down", 101)
# number; first run: load at 12.25 in, height at 18 000 lbf, load at 9.75 in, height and load closed down; on the way
# back: load at 9.75 in, height at 18 000 lbf, load at 12.25 in
RECOIL = [(8, 17700, "12.21", 45600, "9.63", 47200, 44080, "11.80", 13320), (13, 19740, "12.38", 48000, "9.65", 49700, 46800, "11.98", 15040),
          (15, 16520, "12.09", 42800, "9.55", 45200, 41320, "11.66", 12080), (17, 15080, "11.98", 44200, "9.67", 45000, 42600, "11.56", 11200),
          (18, 18400, "12.27", 45800, "9.63", 46700, 44760, "11.85", 14200), (20, 18500, "12.27", 46500, "9.70", 47300, 46500, "11.89", 14400)]
COMPRESSED = "The travel is that from 12.25 in."


def travelled(height):
    return digits(mpf("12.25") - mpf(height))


for number, high, at, low, closed, most, back_low, back_at, back_high in RECOIL:
    readings([0, travelled(at), "2.5", travelled(closed)], [high, 18000, low, most], "in", "lbf", "lbf/in", f"recoil spring {number}, compressed for the first time. {COMPRESSED}")
    readings([travelled(closed), "2.5", travelled(back_at), 0], [most, back_low, 18000, back_high], "in", "lbf", "lbf/in",
             f"recoil spring {number} on the way back: it has set, and so pushes less at 12.25 in, and is harder. {COMPRESSED}")
LOT = [17700, 15780, 17560, 19740, 16700, 16520, 17700, 15080, 18400, 18000, 18500], [45600, 44800, 45500, 48000, 44620, 42800, 44600, 44200, 45800, 45500, 46500]
readings([0] * 11 + ["2.5"] * 11, LOT[0] + LOT[1], "in", "lbf", "lbf/in",
         f"eleven springs of one lot at both heights: the residuals are its scatter, the rate is that of their mean. {COMPRESSED}")

g = measurements("page 203: counter-recoil springs in their cylinder, moved out and back")
OUT = [f"{x / 2:g}" for x in range(1, 10)]
for number, out, most, back, straight in (
        (1, [2180, 2400, 2460, 2620, 2800, 3060, 3280, 3470, 3780], 4200, [1980, 1820, 1640, 1420, 1360, 1100, 940, 630, 410], (1106, 388)),
        (2, [2150, 2380, 2510, 2610, 2840, 3100, 3340, 3500, 3780], 4250, [2010, 1860, 1710, 1500, 1340, 1160, 920, 590, 340], (1073, 407))):
    readings([*OUT, "4.86"], [*out, most], "in", "lbf", "lbf/in", f"set {number}, moved out: the spring and its friction")
    readings(OUT[::-1], back, "in", "lbf", "lbf/in", f"set {number} on the way back: the spring less its friction")
    readings([*OUT, *OUT[::-1]], [*out, *back], "in", "lbf", "lbf/in",
             f"set {number} both ways, to 4.5 in: the line of the spring without its friction, which is about half of what the two ways differ by")
    rate, zero = (si(g.cases[-1]["expect"][name]) / UNITS[unit] for name, unit in (("rate", "lbf/in"), ("force_at_zero", "lbf")))
    assert abs(zero - straight[0]) <= 0.5 and abs(rate - straight[1]) <= 0.5, (rate, zero)  # by another program

g = measurements("page 392: brake lever springs, which are pulled, at no load, 50 and 244 lbf")
for number, heights in ((10274, ("2.53", "2.84", "3.93")), (10275, ("2.55", "2.84", "3.92")), (10276, ("2.59", "2.89", "3.99")), (10277, ("2.56", "2.86", "3.95"))):
    readings(heights, [0, 50, 244], "in", "lbf", "lbf/in", f"spring {number} after it has set; its length stands for the travel")

# -------------------------------------------------------------------- refusals

g = file.group(RULES, "definition")
GOOD = {"wire_diameter": "10 mm", "outer_diameter": "56 mm", "active_coils": 5, "shear_modulus": "79500 MPa", "wire_uncertainty": "0.02 mm",
        "diameter_uncertainty": "0.05 mm", "coil_uncertainty": 0.1, "modulus_uncertainty": "800 MPa"}
g.refuse_each("spring.budget", GOOD, [
    ({"wire_diameter": "0 mm", "correlation": 2}, ["wire_diameter", "correlation"], "zero, and more than full"), ({"shear_modulus": None}, ["shear_modulus"], "missing"), ({"active_coils": -5}, ["active_coils"], "negative"),
    ({"wire_uncertainty": "-0.02 mm"}, ["wire_uncertainty"], "negative"), ({"coil_uncertainty": "0.1 mm"}, ["coil_uncertainty"], "a number is wanted"),
])
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
