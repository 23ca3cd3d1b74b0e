"""Writes data/cases/sag.json: loads, where the bike rests, and what to fit.

Loads: rear wheel q·(rider + bike)·g₀, front wheel the rest, sprung load less the
unsprung weight, g₀ = 9.80665 m/s². At the wheel F_w = F_s/LR. Rest: F_w = load;
with friction f at the spring anywhere between the rests for F_s + f and F_s − f.
Coil for a target stroke s*: k = load·LR/(s* + preload). Air: the fill for the
spring force load·LR. Frequency √(k_w g₀/load)/2π. Reserve: load·(h + travel) = E.
Bands: the edge between springs is the load under which the softer is as far
over the target travel as the harder is under it. Whole bike: the least of the
energy of both springs, of the masses and of the forces along the ground. All springs and curves are those of laws.py and curves.py. See
casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, G0, RULES, close, mpmath_source, num, si, to
from curves import AtWheel, curve
from laws import air, bisect, law
from mechanisms import Mechanism

file = File("sag")
SCRIPT = "sag.py"
SOURCE = mpmath_source(SCRIPT, "invented bikes and riders")
g = file.group(SOURCE, "computed", 1)


def mm(*xs):
    return [f"{x} mm" for x in xs]


def linear(rate, travel, preload=None):
    return {"linear": {"rate": rate, "travel": travel, **({"preload": preload} if preload else {})}}


def fork(angle, travel):
    return {"fork": {"head_angle": f"{angle} deg", "travel": f"{travel} mm"}}


PARABOLA = {"table": {"stroke": mm(0, 10, 20, 30, 40, 50, 60), "travel": mm(0, 29.075, 57.3, 84.675, 111.2, 136.875, 161.7), "method": "smooth"}}
FOUR_BAR = {"table": {"stroke": mm(0, 5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 62.5),
                      "travel": mm(0, 14.3, 28.1, 41.4, 54.4, 67.1, 79.4, 91.5, 103.4, 115.0, 126.5, 137.8, 149.1, 154.7), "method": "monotone"}}
MEASURED = {"table": {**FOUR_BAR["table"], "method": "measured"}}
RATIO = {"constant": 2.6, "travel": "150 mm"}


def chambers(bore, shaft, travel, positive, negative, port, fill=None, n=1, unit="bar"):
    s = {"bore": f"{bore} mm", "shaft": f"{shaft} mm", "travel": f"{travel} mm", "positive_volume": f"{positive} cm3",
         "negative_volume": f"{negative} cm3", "port_travel": f"{port} mm"}
    if fill is not None:
        s["fill"] = f"{fill} {unit}"
    return {**s, "ambient": "101325 Pa(a)", "exponent": n}


def single(bore, travel, positive, fill=None, n=1, unit="bar"):
    s = {"bore": f"{bore} mm", "travel": f"{travel} mm", "positive_volume": f"{positive} cm3"}
    if fill is not None:
        s["fill"] = f"{fill} {unit}"
    return {**s, "ambient": "101325 Pa(a)", "exponent": n}


FORK_AIR, LONG_AIR = (34, 10, 160, 190, 60, 8), (38, 12, 180, 280, 110, 12)
SHOCK_AIR, BIG_AIR = (40, 12.7, 62.5, 105, 45, 3), (46, 14, 60, 135, 70, 0)


def rest(wheel, load, shift=mpf(0)):
    """The stroke at which (F_s + shift)/LR is the load, None outside."""
    f = lambda s: (wheel.law.force(s) + shift) / wheel.curve.ratio(s) - load  # noqa: E731
    if f(mpf(0)) > 0 or f(wheel.full) < 0:
        return None
    return bisect(f, mpf(0), wheel.full)


def clamped(wheel, load, shift=mpf(0)):
    s = rest(wheel, load, shift)
    if s is None:
        over = (wheel.law.force(wheel.full) + shift) / wheel.curve.ratio(wheel.full) < load
        s = wheel.full if over else mpf(0)
    return s


# ----------------------------------------------------------------------- loads

def share(m):
    if "rear_share" in m:
        return si(m["rear_share"])
    return si(m["mass_centre_behind_front_axle"]) / si(m["wheelbase"])


def loads(m):
    q, total = share(m), (si(m["rider_mass"]) + si(m["bike_mass"])) * G0
    front, rear = (1 - q) * total, q * total
    return q, front, rear, front - si(m.get("unsprung_front", "0 kg")) * G0, rear - si(m.get("unsprung_rear", "0 kg")) * G0


def masses(rider, bike, front=None, rear=None, q=None, **more):
    m = {"rider_mass": rider, "bike_mass": bike}
    if front:
        m["unsprung_front"] = front
    if rear:
        m["unsprung_rear"] = rear
    if q is not None:
        m["rear_share"] = q
    return {**m, **more}


for m, note in [
    (masses("80 kg", "15 kg", "3.5 kg", "4.2 kg", 0.6), "an ordinary rider"),
    (masses("45 kg", "12.5 kg", "2.9 kg", "3.3 kg", 0.58), "a light one"),
    (masses("125 kg", "17 kg", "4 kg", "4.8 kg", 0.64), "a heavy one"),
    (masses("80 kg", "15 kg", q=0.5), "unsprung masses not known: the springs get all of it"),
    (masses("176.4 lb", "33 lb", "8 lb", "9.5 lb", 0.62), "pounds"),
    (masses("80 kg", "15 kg", "3.5 kg", "4.2 kg", wheelbase="1220 mm", mass_centre_behind_front_axle="730 mm"), "from a mass centre"),
    (masses("68 kg", "22.5 kg", "3.8 kg", "7.9 kg", wheelbase="48.2 in", mass_centre_behind_front_axle="30 in"), "inches, and a motor in the rear wheel"),
    (masses("22 kg", "10 kg", "2 kg", "2.4 kg", 0.55), "a child"),
    (masses("80 kg", "15 kg", "0.5 kg", "4.2 kg", 0.99), "nearly all on the rear wheel"),
    (masses("75 kg", "180 kg", "18 kg", "22 kg", 0.52), "a motorcycle"),
]:
    q, front_wheel, rear_wheel, front, rear = loads(m)
    g.add("sag.loads", m, {"front_load": to(front, "N"), "rear_load": to(rear, "N"), "rear_share": num(q),
                           "front_wheel_load": to(front_wheel, "N"), "rear_wheel_load": to(rear_wheel, "N")}, 1e-12,
          "GNU Octave 7.3.0, testdata/authorities/octave_springs.py", note)

# ---------------------------------------------------------------------- settle

BACK = "put back into the wheel force; wheel rate by numerical differentiation at 50 digits"


def settle(curve_spec, law_spec, load, friction=None, note="", tolerance=1e-10):
    c, l = curve(curve_spec), law(law_spec)
    w, f = AtWheel(c, l), si(load)
    s = rest(w, f)
    assert s is not None, note
    travel, r = c.travel_at(s), c.ratio(s)
    rate = l.rate(s) / r**2 - l.force(s) * c.slope(s) / r**3
    close(w.force(travel), f, mpf("1e-40"), "rest")
    close(rate, mp.diff(w.force, travel), mpf("1e-15"), "wheel rate")
    expect = {"travel": to(travel, "mm"), "stroke": to(s, "mm"), "sag": num(travel / c.travel), "shock_sag": num(s / c.stroke)}
    if friction:
        expect["travel_low"] = to(c.travel_at(clamped(w, f, si(friction))), "mm")
        expect["travel_high"] = to(c.travel_at(clamped(w, f, -si(friction))), "mm")
    expect["wheel_rate"] = to(rate, "N/mm")
    expect["frequency"] = to(mp.sqrt(rate * G0 / f) / (2 * mp.pi), "Hz")
    given = {"curve": curve_spec, "law": law_spec, "load": load, **({"friction": friction} if friction else {})}
    g.add("sag.settle", given, expect, tolerance, BACK, note)


settle(RATIO, linear("450 lbf/in", "57.7 mm", "1 mm"), "520 N", None, "one ratio, a coil shock")
settle(RATIO, linear("450 lbf/in", "57.7 mm", "1 mm"), "520 N", "60 N", "the same with friction: the band in which it may stop")
settle({"constant": 1, "travel": "100 mm"}, linear("20 N/mm", "100 mm"), "400 N", None, "1:1")
settle(fork(64, 170), linear("6.1 N/mm", "170 mm", "8 mm"), "300 N", "35 N", "a coil fork")
settle(fork(65.5, 160), {"air": chambers(*FORK_AIR, 5.5)}, "310 N", "25 N", "an air fork with a negative chamber")
settle(fork(63, 180), {"air": chambers(*LONG_AIR, 4.5)}, "390 N", "40 N", "a long air fork, heavy rider")
settle(PARABOLA, linear("80 N/mm", "60 mm", "1 mm"), "560 N", "50 N", "a progressive linkage")
settle(FOUR_BAR, linear("95 N/mm", "62.5 mm"), "640 N", None, "a table, monotone")
settle(FOUR_BAR, {"air": chambers(*SHOCK_AIR, 12)}, "600 N", "80 N", "a table and an air shock")
settle(MEASURED, {"air": chambers(*SHOCK_AIR, 14)}, "680 N", None, "readings and an air shock")
settle(FOUR_BAR, {"groups": [{"rate": "160 N/mm", "gap": "20 mm"}, {"rate": "140 N/mm", "gap": "60 mm"}]}, "700 N", None, "a progressive coil")
settle(RATIO, linear("80 N/mm", "57.7 mm", "20 mm"), "620 N", "90 N", "so much preload and friction that the wheel may stay at full extension: the band ends at 0")
settle(RATIO, linear("30 N/mm", "57.7 mm"), "650 N", "120 N", "so soft that friction may hold it at full travel: the band ends there")
settle({"constant": 2.9, "travel": "160 mm"}, {"parallel": [{"law": linear("70 N/mm", "55.2 mm")}, {"law": linear("40 N/mm", "55.2 mm"), "starts_at": "30 mm"}]}, "820 N",
       None, "a helper that is reached")
settle(fork(90, 100), {"air": single(30, 100, 95, 45, 1, "psi")}, "260 N", "15 N", "an upright fork of one chamber, in psi")

# ------------------------------------------------------------------------ rate

CLOSED = "the law with this rate comes to rest at the target"


def target_stroke(c, sag):
    return c.stroke_at(si(sag) * c.travel)


def rate(curve_spec, load, sag, preload=None, note="", unit="N/mm"):
    c = curve(curve_spec)
    s, f = target_stroke(c, sag), si(load)
    force = f * c.ratio(s)
    k = force / (s + si(preload or "0 mm"))
    w = AtWheel(c, law(linear(to(k, "N/mm", 45), to(c.stroke, "mm", 45), preload)))
    close(rest(w, f), s, mpf("1e-38"), "rest at the target")
    g.add("sag.rate", {"curve": curve_spec, "load": load, "sag": sag, **({"preload": preload} if preload else {})},
          {"rate": to(k, unit), "stroke": to(s, "mm"), "spring_force": to(force, "N")}, 1e-11, CLOSED, note)


rate(RATIO, "520 N", 0.3, None, "one ratio, no preload", "lbf/in")
rate(RATIO, "520 N", 0.3, "2 mm", "two turns of preload or so")
rate(PARABOLA, "560 N", 0.3, "1 mm", "a progressive linkage: 30 % at the wheel is less at the shock")
rate(FOUR_BAR, "640 N", 0.28, "1.5 mm", "a table, monotone")
rate(MEASURED, "640 N", 0.28, "1.5 mm", "the same as readings")
rate(fork(64, 170), "300 N", 0.2, "5 mm", "a fork")
rate({"constant": 1, "travel": "100 mm"}, "400 N", 0.25, None, "1:1")
rate(RATIO, "210 N", 0.25, None, "a light rider")
rate(RATIO, "1250 N", 0.33, "3 mm", "a heavy rider")
rate(RATIO, "520 N", 0.01, None, "hardly any sag")
rate(RATIO, "520 N", 0.99, None, "nearly all of the travel")

# ------------------------------------------------------------------------ fill

def fill_for(spec, s, force):
    f = lambda p: air({**spec, "fill": to(p, "Pa(g)", 45)}).force(s) - force  # noqa: E731
    one, two = f(mpf(10) ** 5), f(2 * mpf(10) ** 5)
    p = mpf(10) ** 5 - one * mpf(10) ** 5 / (two - one)  # linear in the fill
    assert abs(f(p)) <= mpf("1e-38") * force
    return p


def fill(curve_spec, spec, load, sag, note="", unit="bar"):
    c = curve(curve_spec)
    s = target_stroke(c, sag)
    p = fill_for(spec, s, si(load) * c.ratio(s))
    g.add("sag.fill", {"curve": curve_spec, "airspring": spec, "load": load, "sag": sag}, {"fill": to(p, unit)}, 1e-11,
          "put back into the force at the target", note)


fill(fork(65.5, 160), chambers(*FORK_AIR), "310 N", 0.2, "a fork")
fill(fork(65.5, 160), chambers(*FORK_AIR), "200 N", 0.2, "the same, light rider", "psi")
fill(fork(63, 180), chambers(*LONG_AIR), "470 N", 0.22, "a long fork, heavy rider", "psi")
fill(fork(90, 100), single(30, 100, 95), "260 N", 0.15, "an upright fork of one chamber")
fill(RATIO, {**chambers(*BIG_AIR)}, "720 N", 0.3, "a shock behind one ratio", "psi")
fill(FOUR_BAR, chambers(*SHOCK_AIR), "600 N", 0.3, "a shock behind a table", "psi")
fill(FOUR_BAR, chambers(*SHOCK_AIR, None, 1.3), "600 N", 0.3, "the same with the exponent of a fast stroke, as given", "psi")
fill(MEASURED, chambers(*SHOCK_AIR), "980 N", 0.28, "readings, heavy rider", "bar")
fill(PARABOLA, {**single(42, 60, 125), "oil_volume": "3 cm3", "spacer_volume": "8 cm3", "spacers": 2}, "540 N", 0.3, "one chamber with two spacers and a little oil")

# --------------------------------------------------------------------- correct

def correct(curve_spec, measured, sag, k=None, spec=None, preload=None, note="", unit="bar"):
    c, s = curve(curve_spec), si(measured)
    at = target_stroke(c, sag)
    given = {"curve": curve_spec}
    law_of = (lambda stiff: linear(stiff, to(c.stroke, "mm", 45), preload)) if k else (lambda fill: {"air": {**spec, "fill": fill}})
    if k:
        force = si(k) * (s + si(preload or "0 mm"))
        load = force / c.ratio(s)
        new = load * c.ratio(at) / (at + si(preload or "0 mm"))
        expect = {"load": to(load, "N"), "rate": to(new, k.split()[1])}
        given["rate"] = k
        if preload:
            given["preload"] = preload
    else:
        load = air(spec).force(s) / c.ratio(s)
        new = fill_for({n: v for n, v in spec.items() if n != "fill"}, at, load * c.ratio(at))
        expect = {"load": to(load, "N"), "fill": to(new, unit)}
        given["airspring"] = spec
    for fitted, stroke in ((k or spec["fill"], s), (to(new, k.split()[1] if k else unit, 45), at)):
        close(rest(AtWheel(c, law(law_of(fitted))), load), stroke, mpf("1e-30"), "rest")
    g.add("sag.correct", {**given, "measured_stroke": measured, "sag": sag}, expect, 1e-11,
          "under the load the spring that is fitted rests at the measured stroke, and the one that is found at the target", note)


correct(RATIO, "20.5 mm", 0.3, "450 lbf/in", note="more sag than wanted: a harder spring")
correct(RATIO, "14 mm", 0.3, "450 lbf/in", note="less sag than wanted: a softer one")
correct(PARABOLA, "19 mm", 0.28, "80 N/mm", preload="2 mm", note="a progressive linkage, with preload")
correct(FOUR_BAR, "21 mm", 0.3, "95 N/mm", preload="1 mm", note="a table")
correct(fork(64, 170), "41 mm", 0.2, "6.1 N/mm", preload="5 mm", note="a coil fork")
correct(fork(65.5, 160), "38 mm", 0.2, spec=chambers(*FORK_AIR, 72, 1, "psi"), note="an air fork", unit="psi")
correct(FOUR_BAR, "15 mm", 0.3, spec=chambers(*SHOCK_AIR, 14), note="an air shock with too much in it")
correct(MEASURED, "22 mm", 0.28, spec=chambers(*SHOCK_AIR, 190, 1, "psi"), note="an air shock with too little in it", unit="psi")
correct(fork(90, 100), "20 mm", 0.15, spec=single(30, 100, 95, 3), note="an upright fork of one chamber")
correct({"constant": 1, "travel": "100 mm"}, "25 mm", 0.25, "20 N/mm", note="on target already: the same spring")

# ----------------------------------------------------------------------- bands

def band_masses(given):
    c, p = curve(given["curve"]), si(given.get("preload", "0 mm"))
    q = si(given["rear_share"]) if given["end"] == "rear" else 1 - si(given["rear_share"])
    rider = lambda load: (load / G0 + si(given.get("unsprung", "0 kg"))) / q - si(given["bike_mass"])  # noqa: E731
    force = lambda k, w: si(k) * (c.stroke_at(w) + p) / c.ratio(c.stroke_at(w))  # noqa: E731
    w = si(given["sag"]) * c.travel
    ideal = [rider(force(k, w)) for k in given["rates"]]
    edge = []
    for soft, hard in zip(given["rates"], given["rates"][1:]):
        u = bisect(lambda u: force(soft, w + u) - force(hard, w - u), mpf(0), min(w, c.travel - w))
        edge.append(rider(force(soft, w + u)))
        if hasattr(c, "r"):  # one ratio: the edge is at the harmonic mean of the rates
            k1, k2 = si(soft), si(hard)
            close(edge[-1], rider(2 * k1 * k2 / (k1 + k2) * (c.stroke_at(w) + p) / c.r), mpf("1e-40"), "edge")
    for k, rider in zip(given["rates"], ideal):
        assert abs(miss(given, k, rider)) < mpf("1e-30"), "ideal"
    for soft, hard, rider in zip(given["rates"], given["rates"][1:], edge):
        close(miss(given, soft, rider), -miss(given, hard, rider), mpf("1e-25"), "edge")
    return ideal, edge


RIDERS = "under each rider's load its spring rests at the target, and at an edge the neighbours rest equally far from it"


def miss(given, rate, rider):
    """By how much the wheel rests past the target with a spring of the shelf, under a rider."""
    c, q = curve(given["curve"]), si(given["rear_share"])
    load = ((rider + si(given["bike_mass"])) * (q if given["end"] == "rear" else 1 - q) - si(given.get("unsprung", "0 kg"))) * G0
    at = AtWheel(c, law(linear(rate, to(2 * c.stroke, "mm", 45), given.get("preload"))))
    return c.travel_at(rest(at, load)) - si(given["sag"]) * c.travel


def bands(given, unit="kg", note=""):
    ideal, edge = band_masses(given)
    assert all(m > 0 for m in ideal), note
    second = "the edges by the harmonic mean of neighbouring rates, which holds for one ratio; " if "table" not in given["curve"] else ""
    second += RIDERS
    g.add("sag.bands", given, {"ideal_mass": to(ideal, unit), "edge_mass": to(edge, unit)}, 1e-10, second, note)


def shelf(curve_spec, rates, end, q, bike, sag, unsprung=None, preload=None):
    s = {"curve": curve_spec, "rates": rates}
    if preload:
        s["preload"] = preload
    s.update(rear_share=q, end=end, bike_mass=bike)
    if unsprung:
        s["unsprung"] = unsprung
    return {**s, "sag": sag}


COILS = [f"{k} lbf/in" for k in range(350, 601, 50)]
bands(shelf(RATIO, COILS, "rear", 0.6, "15 kg", 0.3, "4.2 kg"), note="a shelf in steps of 50 lbf/in behind one ratio")
bands(shelf(RATIO, COILS, "rear", 0.6, "15 kg", 0.3, "4.2 kg", "2 mm"), "lb", "the same with preload, in pounds")
bands(shelf(PARABOLA, COILS, "rear", 0.62, "16 kg", 0.3, "4.5 kg", "1 mm"), note="a progressive linkage")
bands(shelf(FOUR_BAR, ["70 N/mm", "79 N/mm", "88 N/mm", "97 N/mm"], "rear", 0.6, "15.5 kg", 0.28, "4 kg"), note="a table, even steps")
bands(shelf(MEASURED, ["70 N/mm", "88 N/mm"], "rear", 0.6, "15.5 kg", 0.28), note="readings; unsprung mass not known")
bands(shelf(fork(64, 170), ["5.5 N/mm", "6.3 N/mm", "7.2 N/mm", "8.3 N/mm"], "front", 0.6, "15 kg", 0.2, "3.5 kg", "10 mm"), note="a coil fork")
bands(shelf({"constant": 1, "travel": "100 mm"}, ["20 N/mm"], "front", 0.45, "14 kg", 0.25), note="one spring has no edge")
bands(shelf(RATIO, ["300 lbf/in", "500 lbf/in", "700 lbf/in"], "rear", 0.65, "25 kg", 0.25, "6 kg"), note="wide steps")
bands(shelf(fork(63, 180), ["40 lbf/in", "45 lbf/in", "50 lbf/in"], "front", 0.5, "22 kg", 0.18, "4 kg", "12 mm"), "lb", "a heavy bike, even share")

# --------------------------------------------------------------------- reserve

def reserve(curve_spec, law_spec, load, note="", tolerance=1e-10):
    w = AtWheel(curve(curve_spec), law(law_spec))
    e = w.energy(w.travel)
    ends = [mpf(0)] + sorted(k for k in w.kinks) + [w.travel]
    close(e, mp.quad(w.force, ends), mpf("1e-15"), "energy")
    g.add("sag.reserve", {"curve": curve_spec, "law": law_spec, "load": load},
          {"energy": to(e, "J"), "drop_height": to(e / si(load) - w.travel, "mm"), "full_force": to(w.force(w.travel), "N")}, tolerance,
          "energy by numerical quadrature of the wheel force at 50 digits", note)


reserve(RATIO, linear("450 lbf/in", "57.7 mm", "1 mm"), "520 N", "a coil shock")
reserve(PARABOLA, linear("80 N/mm", "60 mm", "1 mm"), "560 N", "a progressive linkage")
reserve(FOUR_BAR, linear("95 N/mm", "62.5 mm"), "640 N", "a table")
reserve(FOUR_BAR, {"air": chambers(*SHOCK_AIR, 12, 1.3)}, "600 N", "an air shock on a fast stroke")
reserve(fork(64, 170), linear("6.1 N/mm", "170 mm", "8 mm"), "300 N", "a coil fork")
reserve(fork(65.5, 160), {"air": chambers(*FORK_AIR, 5.5, 1.3)}, "310 N", "an air fork on a fast stroke")
reserve(fork(65.5, 160), {"air": chambers(*FORK_AIR, 5.5, 1)}, "310 N", "the same, slow: less is stored")
reserve({"constant": 1, "travel": "100 mm"}, linear("20 N/mm", "100 mm"), "400 N", "1:1")
reserve({"constant": 1, "travel": "100 mm"}, linear("5 N/mm", "100 mm"), "400 N", "so soft that it bottoms without a drop: a negative height")
reserve(RATIO, linear("80 N/mm", "50 mm"), "520 N", "a spring shorter than the stroke: what counts is the 130 mm it allows")

# ----------------------------------------------------------------------- whole

def axle_path(spec):
    """How far the axle has moved at a stroke, x + i·y, in the frame at full extension."""
    if "fork" in spec:
        angle = si(spec["fork"]["head_angle"])
        return lambda s: s * mp.mpc(-mp.cos(angle), mp.sin(angle))
    if "mechanism" in spec:
        m = Mechanism(spec["mechanism"])
        x0, y0 = m.wheel(mpf(0))[0]

        def moved(s):
            x, y = m.wheel(s)[0]
            return mp.mpc(x - x0, y - y0)
        return moved
    c = curve(spec)
    return lambda s: mp.mpc(0, c.travel_at(s))


def whole(given, note="", tolerance=1e-9, travels=False):
    """The least of the energy of both springs, of the masses and of the forces along
    the ground. The bike is put on the ground by turning the frame until both wheels
    touch it, and seen from beside the rear axle as it gains or loses speed. Nothing
    else is stated: the derivatives of the energy are numerical, at 40 digits more
    than are printed. At the place found, the loads on the wheels follow from moments,
    and along the way of each axle they balance its spring."""
    base, height = si(given["wheelbase"]), si(given["mass_centre_height"])
    radius = {e: si(given.get(e + "_wheel_radius", given.get("wheel_radius"))) for e in ("front", "rear")}
    unsprung = {e: si(given.get("unsprung_" + e, "0 kg")) for e in ("front", "rear")}
    total, q0 = si(given["rider_mass"]) + si(given["bike_mass"]), share(given)
    sprung = total - unsprung["front"] - unsprung["rear"]
    centre = mp.mpc(((1 - q0) * total - unsprung["front"]) * base / sprung, height)
    laws = {e: law(given[e]["law"]) for e in radius}
    paths = {e: axle_path(given[e]["curve"]) for e in radius}
    full = {e: min(law_travel(laws[e]), curve_stroke(given[e]["curve"])) for e in radius}
    slope_of, force = si(given.get("slope", "0 deg")), {e: si(given.get(e, 0)) for e in ("front_braking", "rear_braking", "driving")}
    push = {"front": -force["front_braking"] * total * G0, "rear": (force["driving"] - force["rear_braking"]) * total * G0}
    gain = (push["front"] + push["rear"]) / total - G0 * mp.sin(slope_of)
    pull = -mp.mpc(G0 * mp.sin(slope_of) + gain, G0 * mp.cos(slope_of))  # weight and inertia of a kilogram

    def stands(sf, sr):
        """The frame's turn, and mass centre and axles in the turned frame, from the rear axle."""
        front, rear = mp.mpc(base, radius["front"]) + paths["front"](sf), mp.mpc(0, radius["rear"]) + paths["rear"](sr)
        apart = front - rear
        turn = mp.asin((radius["front"] - radius["rear"]) / abs(apart)) - mp.arg(apart)
        return turn, (centre - rear) * mp.expj(turn), apart * mp.expj(turn), rear

    def energy(sf, sr):
        turn, c, f, _ = stands(sf, sr)
        work = sum(m * (pull * mp.conj(at)).real for m, at in ((sprung, c), (unsprung["front"], f)))
        # With the brake on the frame, the frame's turn takes a locked wheel's lowest point along.
        work += push["front"] * (f.real + radius["front"] * turn) + push["rear"] * radius["rear"] * turn
        return laws["front"].energy(sf) + laws["rear"].energy(sr) - work

    def slope(sf, sr, order):
        return mp.diff(energy, (sf, sr), order, h=mpf(10) ** -20)

    at = {e: full[e] / 4 for e in full}
    for _ in range(200):  # each end in turn, then both together
        last = dict(at)
        for e, order in (("front", (1, 0)), ("rear", (0, 1))):
            f = lambda s: slope(*(s if e == x else at[x] for x in ("front", "rear")), order)  # noqa: B023, E731
            inner = full[e] * mpf(10) ** -12
            if f(inner) > 0:
                at[e] = mpf(0)
            elif f(full[e] - inner) < 0:
                at[e] = full[e]
            else:
                at[e] = mp.findroot(f, (inner, full[e] - inner), solver="anderson", tol=mpf("1e-48"), maxsteps=200)
        if max(abs(at[e] - last[e]) for e in at) < mpf(10) ** -22:
            break
    for step in (mpf("1e-3"), mpf("1e-5")):  # nothing near has less
        for df in (-step, 0, step):
            for dr in (-step, 0, step):
                sf, sr = at["front"] + df, at["rear"] + dr
                if 0 <= sf <= full["front"] and 0 <= sr <= full["rear"]:
                    assert energy(sf, sr) >= energy(at["front"], at["rear"]), note
    turn, c, f, rear = stands(at["front"], at["rear"])
    turn = turn if abs(turn) > mpf(10) ** -20 else mpf(0)
    # The loads on the wheels, by moments about where they touch the ground.
    place = {"front": f, "rear": mp.mpc(0)}
    touch = {e: place[e] - mp.mpc(0, radius[e]) for e in place}
    load = {}
    for e, other in (("front", "rear"), ("rear", "front")):
        moment = lambda at, force: (mp.conj(at - touch[other]) * force).imag  # noqa: B023, E731
        turning = moment(c, sprung * pull) + sum(moment(place[x], unsprung[x] * pull) for x in place) + moment(touch[e], mp.mpc(push[e]))
        load[e] = -turning / (touch[e] - touch[other]).real
    close(load["front"] + load["rear"], -total * pull.imag, mpf("1e-30"), "loads")
    for e in at:
        way = mp.mpc(*(mp.diff(lambda s: getattr(paths[e](s), part), at[e], h=mpf(10) ** -20) for part in ("real", "imag"))) * mp.expj(turn)  # noqa: B023
        pushed = (way * mp.conj(mp.mpc(push[e], load[e]) + unsprung[e] * pull)).real
        if 0 < at[e] < full[e]:
            close(laws[e].force(at[e]), pushed, mpf("1e-15"), "balance of the " + e)
    expect = {e + "_sag": num(paths[e](at[e]).imag / paths[e](curve_stroke(given[e]["curve"])).imag) for e in at}
    expect.update({e + "_travel": to(paths[e](at[e]).imag, "mm") for e in at})
    expect.update({"pitch": to(turn, "deg"), "rear_share": num(load["rear"] / (load["front"] + load["rear"])), "wheelbase": to(f.real, "mm")})
    if set(given) & {"slope", *force}:
        expect.update({e + "_wheel_load": to(load[e], "N") for e in load})
    if travels:
        expect.update({e + "_travel": to(paths[e](at[e]).imag, "mm") for e in at})
    tolerances = {"*": tolerance, "pitch": "1e-9 deg"}
    if "fork" in given["front"]["curve"]:
        angle = si(given["front"]["curve"]["fork"]["head_angle"])
        expect["head_angle"] = to(angle - turn, "deg")
        if "fork_offset" in given:  # the steering axis is drawn until it meets the ground
            axis = mp.expj(mp.pi - angle + turn)
            beside = f + si(given["fork_offset"]) * axis * mp.mpc(0, 1)
            meets = beside + axis * (touch["front"].imag - beside.imag) / axis.imag
            expect["trail"] = to(meets.real - f.real, "mm")
    if "chainstay_length" in given:
        above, stay = si(given["bottom_bracket_height"]), si(given["chainstay_length"])
        bracket = mp.mpc(mp.sqrt(stay**2 - (above - radius["rear"]) ** 2), above)
        expect["bottom_bracket_height"] = to(radius["rear"] + ((bracket - rear) * mp.expj(turn)).imag, "mm")
    g.add("sag.whole", given, expect, tolerances, "the least of the energy by numerical derivatives, by comparing places around, and by the forces on both axles", note)


def law_travel(l):
    return l.travel


def curve_stroke(spec):
    return si(spec["mechanism"]["stroke"]) if "mechanism" in spec else curve(spec).stroke


def bike(front, rear, m, height, base="1220 mm", radii=("360 mm",)):
    wheels = {"wheel_radius": radii[0]} if len(radii) == 1 else {"front_wheel_radius": radii[0], "rear_wheel_radius": radii[1]}
    return {"front": {"curve": front[0], "law": front[1]}, "rear": {"curve": rear[0], "law": rear[1]}, **m,
            **({} if "wheelbase" in m else {"wheelbase": base}), "mass_centre_height": height, **wheels}


COIL_FORK = (fork(64, 170), linear("8 N/mm", "170 mm", "10 mm"))
AIR_FORK = (fork(65.5, 160), {"air": chambers(*FORK_AIR, 5.5)})
COIL_REAR = (RATIO, linear("450 lbf/in", "57.7 mm", "1 mm"))
AIR_REAR = (FOUR_BAR, {"air": chambers(*SHOCK_AIR, 12)})
whole(bike(COIL_FORK, COIL_REAR, masses("80 kg", "15 kg", "3.5 kg", "4.2 kg", 0.6), "1050 mm"), "coil at both ends")
whole(bike(AIR_FORK, AIR_REAR, masses("80 kg", "15 kg", "3.5 kg", "4.2 kg", 0.6), "1050 mm"), "air at both ends")
whole(bike(AIR_FORK, COIL_REAR, masses("62 kg", "14 kg", "3.2 kg", "4 kg", 0.57), "1000 mm"), "a light rider, air in front and coil behind")
whole(bike(AIR_FORK, (PARABOLA, linear("95 N/mm", "60 mm", "1 mm")), masses("105 kg", "16 kg", "3.8 kg", "4.6 kg", 0.6), "1120 mm"), "a heavy rider, a progressive linkage")
whole(bike(COIL_FORK, AIR_REAR, masses("80 kg", "15 kg", wheelbase="1240 mm", mass_centre_behind_front_axle="740 mm"), "1080 mm"), "from a mass centre; unsprung masses not known")
whole(bike((fork(64, 170), linear("5.5 N/mm", "170 mm")), (RATIO, linear("150 N/mm", "57.7 mm")), masses("80 kg", "15 kg", "3.5 kg", "4.2 kg", 0.5), "950 mm"),
      "soft in front and hard behind: the pitch is negative")
whole(bike(({"constant": 1, "travel": "100 mm"}, linear("15 N/mm", "100 mm")), ({"constant": 1, "travel": "100 mm"}, linear("15 N/mm", "100 mm")),
           masses("70 kg", "20 kg", None, None, 0.5), "1000 mm"), "the same at both ends: no pitch")
whole(bike(COIL_FORK, (RATIO, linear("25 N/mm", "57.7 mm")), masses("80 kg", "15 kg", "3.5 kg", "4.2 kg", 0.6), "1050 mm"), "the rear so soft that it rests at full travel")
whole(bike((fork(64, 170), linear("6.1 N/mm", "170 mm", "90 mm")), COIL_REAR, masses("60 kg", "15 kg", "3.5 kg", "4.2 kg", 0.6), "1050 mm"),
      "so much preload in front that the fork stays at full extension")
whole(bike(COIL_FORK, COIL_REAR, masses("80 kg", "15 kg", "3.5 kg", "4.2 kg", 0.6), "1050 mm", radii=("372 mm", "349 mm")), "wheels of two sizes")
PIVOT = {"mechanism": {"points": {"P": mm(12, 72), "A": mm(-438, 28), "S1": mm(-92, 238), "S2": mm(112, 292)},
                       "bodies": {"frame": ["P", "S2"], "swingarm": ["P", "A", "S1"]}, "axle": "A", "shock": ["S1", "S2"], "stroke": "57.5 mm"}}
HIGH = {"mechanism": {"points": {"P": mm(18, 190), "A": mm(-430, 22), "S1": mm(-70, 300), "S2": mm(150, 330)},
                      "bodies": {"frame": ["P", "S2"], "swingarm": ["P", "A", "S1"]}, "axle": "A", "shock": ["S1", "S2"], "stroke": "65 mm"}}
whole(bike(COIL_FORK, (PIVOT, linear("400 lbf/in", "57.5 mm", "1 mm")), masses("74 kg", "16 kg", "2.3 kg", "3 kg", 0.6), "1080 mm"), "an axle on an arc about a pivot")
whole(bike((fork(62.5, 200), linear("7.4 N/mm", "200 mm", "4 mm")), (HIGH, linear("480 lbf/in", "65 mm", "1 mm")), masses("86 kg", "18 kg", "2.6 kg", "3.6 kg", 0.58),
           "1130 mm", "1290 mm", ("371 mm", "351 mm")), "long travel, a high pivot: the rear axle moves far back as it rises")
whole(bike(AIR_FORK, (PIVOT, {"air": chambers(*SHOCK_AIR, 13)}), masses("68 kg", "15 kg", "2.2 kg", "3.1 kg", 0.57), "1040 mm", radii=("372 mm", "350 mm")), "air at both ends, pivots and two sizes of wheel")

DRAWN = {"fork_offset": "44 mm", "bottom_bracket_height": "346 mm", "chainstay_length": "438 mm"}
SIZES = {**bike(COIL_FORK, (PIVOT, linear("450 lbf/in", "57.5 mm", "1 mm")), masses("80 kg", "16.5 kg", "2.4 kg", "3.2 kg", 0.57), "1090 mm", "1250 mm", ("372 mm", "351 mm")), **DRAWN}
PLAIN = bike(COIL_FORK, COIL_REAR, masses("80 kg", "15 kg", "3.5 kg", "4.2 kg", 0.6), "1050 mm")
whole({**PLAIN, **DRAWN}, "where the axle of the fork and the bottom bracket are is known: trail and height at rest")
whole({**SIZES, "fork_offset": "0 mm"}, "the axle on the steering axis; wheels of two sizes, an axle on an arc")
whole({**SIZES, "slope": "-20 deg", "front_braking": 0.25, "rear_braking": 0.092}, "down a slope, held back by both brakes")
whole({**SIZES, "slope": "-25 deg"}, "down a slope, rolling freely: as on level ground with less weight")
whole({**SIZES, "slope": "12 deg", "driving": 0.208}, "up a slope at a steady speed")
whole({**PLAIN, "front_braking": 0.5}, "braking hard with the front brake")
whole({**SIZES, "rear_braking": 0.25}, "the rear brake alone, its caliper on the frame")
whole({**SIZES, "driving": 0.3, "rear_share": 0.52}, "driving hard")
whole({**bike(AIR_FORK, AIR_REAR, masses("68 kg", "15 kg", "2.2 kg", "3.1 kg", 0.57), "1040 mm"), "slope": "8 deg", "front_braking": 0.3, "rear_braking": 0.1}, "braking up a slope, air at both ends")
whole({**PLAIN, "front_braking": 0.62, "rear_braking": 0.08, "rear_share": 0.65}, "braking so hard that the rear stays at full extension")
whole({**PLAIN, "slope": "-15 deg", "front_braking": 0.2, "rear_braking": 0.05}, "down a slope: the travels of both ends", travels=True)
whole(bike(AIR_FORK, (PIVOT, {"air": chambers(*SHOCK_AIR, 13)}), masses("70 kg", "16 kg", "2.4 kg", "3.3 kg", 0.58), "1060 mm"), "level ground: the travels, air at both ends", travels=True)

# ------------------------------------------------------------------- the trade

g = file.group({"title": "a fact of the trade"}, "common practice", 101)
given = shelf(fork(64, 160), ["40.5 lbf/in", "46.2 lbf/in", "51.9 lbf/in", "57.6 lbf/in", "63.3 lbf/in"], "front", 0.6, "33 lb", 0.2, "9 lb")
ideal, edge = band_masses(given)
assert all(abs(e - si(f"{m} lb")) <= si("1 lb") for e, m in zip(edge, (140, 160, 180, 200))), to(edge, "lb")
assert abs(ideal[2] - si("172 lb")) <= si("1 lb"), to(ideal, "lb")
INVENTED = "Rates and bike are invented: the first rate and one even step, so that the first and the last edge come out."
g.add("sag.bands", given, {"edge_mass": ["140 lb", "160 lb", "180 lb", "200 lb"]}, {"edge_mass": "1 lb"}, f"the edges are {', '.join(to(edge, 'lb', 4))}: {RIDERS}",
      f"Forks' sets of five springs step by about 20 lb of rider: one at 140, 160, 180 and 200 lb. {INVENTED} The two between are not put in.")
g.add("sag.bands", {**given, "rates": ["51.9 lbf/in"]}, {"ideal_mass": ["172 lb"]}, {"ideal_mass": "1 lb"}, f"it is {to(ideal[2], 'lb', 4)}: {RIDERS}",
      f"A rider of 172 lb sits in the middle of the third of those five. {INVENTED} Nothing of this rider is put in.")
for rate in (450, 475, 500):
    w, load = AtWheel(curve(RATIO), law(linear(f"{rate} lbf/in", "57.7 mm"))), "506 N"
    s = w.curve.travel_at(rest(w, si(load))) / w.curve.travel
    assert abs(s - mpf("0.25")) <= mpf("0.05"), s
    close(w.force(s * w.curve.travel), si(load), mpf("1e-30"), "rest")
    g.add("sag.settle", {"curve": RATIO, "law": linear(f"{rate} lbf/in", "57.7 mm"), "load": load}, {"sag": 0.25}, {"sag": "0.05"}, f"it is {mp.nstr(s, 3)}, where the wheel force is the load",
          "Springs of shocks come in steps of 25 and 50 lbf/in: with neighbours the bike sags by the usual 20 to 30 %, which is a range and the tolerance. "
          "Ratio and rates are invented; the load is that of a rider of 172 lb on a bike of 15 kg.")

# -------------------------------------------------------------------- refusals

g = file.group(RULES, "definition")
M = masses("80 kg", "15 kg", "3.5 kg", "4.2 kg", 0.6)
g.refuse_each("sag.loads", M, [
    ({"rider_mass": "0 kg"}, ["rider_mass"], "zero"), ({"rider_mass": "-80 kg"}, ["rider_mass"], "negative"), ({"rider_mass": None}, ["rider_mass"], "missing"),
    ({"rider_mass": "80"}, ["rider_mass"], "missing unit"), ({"rider_mass": "800 N"}, ["rider_mass"], "a weight is no mass"),
    ({"bike_mass": "0 kg"}, ["bike_mass"], "zero"), ({"bike_mass": "NaN kg"}, ["bike_mass"], "not a number"),
    ({"unsprung_front": "-3.5 kg"}, ["unsprung_front"], "negative"), ({"unsprung_rear": "4.2"}, ["unsprung_rear"], "missing unit"),
    ({"unsprung_front": "38 kg"}, ["unsprung_front"], "all that stands on the front wheel"), ({"unsprung_rear": "60 kg"}, ["unsprung_rear"], "more than stands on the rear wheel"),
    ({"rear_share": 1}, ["rear_share"], "nothing left for the front"), ({"rear_share": -0.1}, ["rear_share"], "negative"), ({"rear_share": 60}, ["rear_share"], "a percentage is no fraction"),
    ({"rear_share": None}, ["rear_share"], "neither a share nor a mass centre"),
    ({"rear_share": None, "wheelbase": "1220 mm", "mass_centre_behind_front_axle": "1300 mm"}, ["mass_centre_behind_front_axle"], "behind the rear axle"),
    ({"rear_share": None, "wheelbase": "1220 mm", "mass_centre_behind_front_axle": "-10 mm"}, ["mass_centre_behind_front_axle"], "before the front axle"),
    ({"rear_share": None, "mass_centre_behind_front_axle": "730 mm"}, ["wheelbase"], "missing"),
    ({"rider_mass": "0 kg", "bike_mass": "-15 kg", "rear_share": 2}, ["rider_mass", "bike_mass", "rear_share"], "three bad fields, all named"),
])
S = {"curve": RATIO, "law": linear("450 lbf/in", "57.7 mm"), "load": "520 N"}
g.refuse_each("sag.settle", S, [
    ({"load": "0 N"}, ["load"], "zero"), ({"load": "-520 N"}, ["load"], "negative"), ({"load": None}, ["load"], "missing"), ({"load": "52 kg"}, ["load"], "a mass is no force"),
    ({"friction": "-10 N"}, ["friction"], "negative"), ({"friction": "10"}, ["friction"], "missing unit"),
    ({"curve": {"constant": -2.6, "travel": "150 mm"}}, ["constant"], "negative"), ({"curve": fork(0, 170)}, ["head_angle"], "level: such a fork does not carry"),
    ({"law": linear("-450 lbf/in", "57.7 mm")}, ["rate"], "negative"), ({"law": linear("450", "57.7 mm")}, ["rate"], "missing unit"),
    ({"law": {"air": {**chambers(*SHOCK_AIR, 12), "bore": "0 mm"}}}, ["bore"], "zero"),
    ({"curve": {"constant": 0, "travel": "150 mm"}, "law": linear("0 N/mm", "57.7 mm"), "load": "-1 N"}, ["constant", "rate", "load"], "bad in all three, all named"),
])
g.refuse_each("sag.settle", S, [
    ({"load": "3000 N"}, ["bottomed_out"], "more than the spring carries at full travel"),
    ({"law": linear("450 lbf/in", "57.7 mm", "30 mm")}, ["topped_out"], "less than the preloaded spring pushes at full extension"),
    ({"curve": fork(90, 100), "law": {"air": single(30, 100, 95, 5)}, "load": "200 N"}, ["topped_out"], "an air spring filled too hard to move at all"),
])
g.refuse_each("sag.rate", {"curve": RATIO, "load": "520 N", "sag": 0.3}, [
    ({"sag": 0}, ["sag"], "zero"), ({"sag": 1}, ["sag"], "all of the travel"), ({"sag": 30}, ["sag"], "a percentage is no fraction"), ({"sag": "30 %"}, ["sag"], "a number is wanted"),
    ({"load": "0 N"}, ["load"], "zero"), ({"load": "NaN N"}, ["load"], "not a number"), ({"preload": "-1 mm"}, ["preload"], "negative"), ({"preload": "1"}, ["preload"], "missing unit"),
    ({"curve": {"constant": 2.6, "travel": "-150 mm"}}, ["travel"], "negative"),
])
g.refuse_each("sag.fill", {"curve": fork(65.5, 160), "airspring": chambers(*FORK_AIR), "load": "310 N", "sag": 0.2}, [
    ({"airspring": {**chambers(*FORK_AIR), "bore": "0 mm"}}, ["bore"], "zero"), ({"airspring": {**chambers(*FORK_AIR), "positive_volume": "100 cm3"}}, ["positive_volume"], "less than is swept"),
    ({"airspring": {**chambers(*FORK_AIR), "ambient": "1 bar"}}, ["ambient"], "an ambient pressure is absolute and says so"),
    ({"load": "-310 N"}, ["load"], "negative"), ({"sag": -0.2}, ["sag"], "negative"), ({"curve": fork("66", "-160")}, ["travel"], "negative"),
    ({"airspring": {"bore": "34 mm", "travel": "160 mm", "positive_volume": "190 cm3", "ambient": "101325 Pa(a)", "exponent": 1}, "load": "5 N"},
     ["load"], "so small that a fill of 0 above ambient already carries more"),
])
g.refuse_each("sag.correct", {"curve": RATIO, "rate": "450 lbf/in", "measured_stroke": "20.5 mm", "sag": 0.3}, [
    ({"rate": "0 lbf/in"}, ["rate"], "zero"), ({"rate": "450"}, ["rate"], "missing unit"), ({"measured_stroke": "0 mm"}, ["measured_stroke"], "nothing was measured"),
    ({"measured_stroke": "70 mm"}, ["measured_stroke"], "beyond the stroke"), ({"measured_stroke": "-5 mm"}, ["measured_stroke"], "negative"),
    ({"sag": 1.2}, ["sag"], "more than all"), ({"preload": "-1 mm"}, ["preload"], "negative"),
    ({"rate": None, "airspring": {**chambers(*SHOCK_AIR, 12), "fill": "-3 bar"}}, ["fill"], "below vacuum"),
])
g.refuse_each("sag.bands", shelf(RATIO, ["400 lbf/in", "450 lbf/in"], "rear", 0.6, "15 kg", 0.3, "4.2 kg"), [
    ({"rates": ["450 lbf/in", "400 lbf/in"]}, ["rates"], "not rising"), ({"rates": ["450 lbf/in", "450 lbf/in"]}, ["rates"], "one twice"),
    ({"rates": []}, ["rates"], "none"), ({"rates": ["400 lbf/in", "450"]}, ["rates"], "missing unit"), ({"rates": ["-400 lbf/in", "450 lbf/in"]}, ["rates"], "negative"),
    ({"rear_share": 1}, ["rear_share"], "nothing left for the front"), ({"end": "middle"}, ["end"], "no such end"), ({"end": None}, ["end"], "missing"),
    ({"bike_mass": "0 kg"}, ["bike_mass"], "zero"), ({"unsprung": "-1 kg"}, ["unsprung"], "negative"), ({"sag": 0}, ["sag"], "zero"),
    ({"preload": "-1 mm"}, ["preload"], "negative"),
])
g.refuse_each("sag.reserve", S, [
    ({"load": "0 N"}, ["load"], "zero"), ({"load": "520"}, ["load"], "missing unit"), ({"law": linear("0 N/mm", "57.7 mm")}, ["rate"], "zero"),
    ({"curve": {"constant": 2.6}}, ["travel"], "missing"), ({"height": "1 m"}, ["height"], "no such field"),
])
W = bike(COIL_FORK, COIL_REAR, M, "1050 mm")
g.refuse_each("sag.whole", W, [
    ({"wheelbase": None}, ["wheelbase"], "missing"), ({"wheelbase": "-1220 mm"}, ["wheelbase"], "negative"), ({"mass_centre_height": "0 mm"}, ["mass_centre_height"], "zero"),
    ({"mass_centre_height": "1050"}, ["mass_centre_height"], "missing unit"), ({"rider_mass": "-80 kg"}, ["rider_mass"], "negative"),
    ({"front": {"curve": fork(0, 170), "law": COIL_FORK[1]}}, ["head_angle"], "level: such a fork does not carry"),
    ({"rear": {"curve": RATIO, "law": linear("0 N/mm", "57.7 mm")}}, ["rate"], "zero"),
    ({"wheel_radius": None}, ["wheel_radius"], "missing"), ({"wheel_radius": None, "front_wheel_radius": "360 mm"}, ["wheel_radius"], "one of two missing"),
    ({"wheel_radius": "-360 mm"}, ["wheel_radius"], "negative"),
    ({"slope": "70 deg"}, ["slope"], "steeper than is ridden"), ({"slope": "-20"}, ["slope"], "missing unit"), ({"front_braking": -0.3}, ["front_braking"], "negative"),
    ({"rear_braking": 6, "driving": -1}, ["rear_braking", "driving"], "more than any tyre holds, and negative"), ({"front_braking": 0.9}, ["front_braking"], "so hard that the bike goes over the front wheel"),
    ({"driving": 1.2}, ["driving"], "so hard that the front wheel lifts"), ({"fork_offset": "44"}, ["fork_offset"], "missing unit"),
    ({"bottom_bracket_height": "0.1 m", "chainstay_length": "200 mm"}, ["chainstay_length"], "too short for a bottom bracket so far below the axle"),
])


# --------------------------------------------- sprung loads of another mass

g = file.group(mpmath_source("sag.py", "invented riders and bikes"), "computed")


def other(given, mass, q, note):
    """By moments about the front axle: the load on the rear wheel is weight times lever over wheelbase."""
    given = {**given, "mass": mass, "share": q}
    unsprung = [si(given.get(k, "0 kg")) for k in ("unsprung_front", "unsprung_rear")]
    if "front_scale" in given:
        total = si(given["front_scale"]) + si(given["rear_scale"])
        behind = si(given["rear_scale"]) / total
    else:
        total = si(given["rider_mass"]) + si(given["bike_mass"])
        behind = si(given["mass_centre_behind_front_axle"]) / si(given["wheelbase"]) if "wheelbase" in given else si(given["rear_share"])
    rider = given.get("rider_mass") or to(total - si(given["bike_mass"]), "kg")

    def loads(m, q):
        rear = m * G0 * q
        return [to(m * G0 - rear - unsprung[0] * G0, "N"), to(rear - unsprung[1] * G0, "N")]

    expect = {"rider": rider}
    expect["front_load"], expect["rear_load"] = loads(si(mass), behind)
    expect["front_load_shared"], expect["rear_load_shared"] = loads(total, mpf(str(q)))
    g.add("sag.sprung", given, expect, 1e-12, "both loads and the unsprung weights add to the weight, by moments about the front axle", note)


SCALED = {"bike_mass": "15 kg", "unsprung_front": "3.5 kg", "unsprung_rear": "4.2 kg", "front_scale": "38 kg", "rear_scale": "55 kg"}
CENTRED = masses("80 kg", "15 kg", "3.5 kg", "4.2 kg", wheelbase="1220 mm", mass_centre_behind_front_axle="730 mm")
for given, mass, q, note in [
    (masses("80 kg", "15 kg", "3.5 kg", "4.2 kg", 0.6), "110 kg", 0.55, "a heavier one on the same bike"),
    (masses("80 kg", "15 kg", q=0.5), "60 kg", 0.62, "unsprung masses not known"),
    (masses("176.4 lb", "33 lb", "8 lb", "9.5 lb", 0.62), "240 lb", 0.58, "pounds"),
    (SCALED, "93 kg", 0.5, "from scales, the same mass"), (SCALED, "120 kg", 0.65, "from scales, a heavier one"),
    (CENTRED, "70 kg", 0.63, "from a mass centre"), (CENTRED, "120 kg", 0.5, "from a mass centre, a heavier one"),
    (masses("80 kg", "15 kg", "3.5 kg", "4.2 kg", 0.6), "5 kg", 0.7, "less than the unsprung masses take: a wheel that hangs"),
]:
    other(given, mass, q, note)
g = file.group(RULES, "definition")
g.refuse_each("sag.sprung", {**masses("80 kg", "15 kg", "3.5 kg", "4.2 kg", 0.6), "mass": "100 kg", "share": 0.55}, [
    ({"mass": "0 kg"}, ["mass"], "zero"), ({"share": 1}, ["share"], "all on the rear wheel"), ({"share": None, "mass": None}, ["share", "mass"], "missing"),
    ({"rear_share": None}, ["rear_share"], "no share"), ({"bike_mass": "-1 kg", "mass": "3 N"}, ["bike_mass", "mass"], "negative, and a force is no mass"),
])
file.write()
