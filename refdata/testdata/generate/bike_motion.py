"""Writes data/cases/bike-motion.json: an air spring at its rest and in a fast stroke,
damping, and a bike that comes down onto both wheels.

The drop is a linear equation of motion as long as no spring reaches an end and no tyre
lifts: the states come from the exponential of its matrix, the rest from the balance of
forces, and the work of the dampers is the energy that is missing. Runge and Kutta's
rule in doubles, which knows of no matrix, confirms each to six digits. See casefile.py
for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, G0, RULES, close, mpmath_source, num, si, to
from curves import AtWheel, curve
from laws import air, bisect, law

file = File("a bike in motion")
SCRIPT = "bike_motion.py"


def fork(angle, travel):
    return {"fork": {"head_angle": f"{angle} deg", "travel": f"{travel} mm"}}


def ratio(r, travel):
    return {"constant": r, "travel": f"{travel} mm"}


def chamber(bore, travel, volume, fill, n, **more):
    return {"bore": f"{bore} mm", "travel": f"{travel} mm", "positive_volume": f"{volume} cm3", "fill": f"{fill} bar", "ambient": "101325 Pa(a)", "exponent": n, **more}


# ----------------------------------------------------------------------- state

def state(spec, spring, load, note, tolerance=1e-9):
    c, p, n = curve(spec), si(load), si(spring["exponent"])
    still, fast = air({**spring, "exponent": 1}), air(spring)
    wheel, quick = AtWheel(c, still), AtWheel(c, fast)
    s = bisect(lambda x: still.force(x) - p * c.ratio(x), mpf(0), wheel.full)
    w, r = c.travel_at(s), c.ratio(s)
    assert 0 < s < wheel.full, note
    close(mp.diff(still.force, s, h=mpf("1e-20")), still.rate(s), mpf("1e-18"), "rate")
    k = n * still.rate(s) / r**2 - still.force(s) * c.slope(s) / r**3
    corners = [k for k in c.kinks if 0 < k < wheel.full]
    rates = [(wheel.rate(wheel.travel * i / 400), wheel.travel * i / 400) for i in range(401)] + [(wheel.rate(c.travel_at(k) + side), c.travel_at(k)) for k in corners for side in (mpf("-1e-40"), 0)]
    rate, at = min(rates)  # at an end, or where two pieces of the table meet
    assert at in (0, wheel.travel) or at in [c.travel_at(k) for k in corners], (note, at)
    expect = {"travel": to(w, "mm"), "lever_ratio": num(r), "spring_rate": to(still.rate(s), "N/mm"), "fast_spring_rate": to(n * still.rate(s), "N/mm"),
              "shock_sag": num(s / c.stroke), "fast_wheel_rate": to(k, "N/mm"), "fast_frequency": to(mp.sqrt(k * G0 / p) / (2 * mp.pi), "Hz"),
              "min_wheel_rate": to(rate, "N/mm"), "min_rate_travel": to(at, "mm"), "travel_left": to(wheel.travel - w, "mm"),
              "energy_left": to(mp.quad(fast.force, [s, wheel.full]), "J"), "full_ratio": num(quick.force(quick.travel) / p)}
    g.add("sag.state", {"curve": spec, "airspring": spring, "load": load}, expect, tolerance, "rates by numerical differentiation, energy by quadrature of the force", note)


g = file.group(mpmath_source(SCRIPT, "invented springs and bikes"), "computed", 1)
state(fork(64, 170), chamber(34, 170, 210, 2.2, 1.3), "310 N", "a fork of one chamber")
state(fork(64, 170), chamber(34, 170, 210, 2.2, 1.4), "310 N", "the same without any heat exchanged")
state(fork(90, 120), chamber(32, 120, 130, 3, 1.2), "420 N", "upright")
state(ratio(2.6, 150), chamber(45, 57.7, 140, 6, 1.3), "560 N", "a shock at a constant ratio")
state(ratio(2.6, 150), chamber(45, 57.7, 140, 6, 1), "560 N", "n = 1: a fast stroke is a slow one")
state(ratio(3, 165), chamber(46, 60, 150, 8, 1.35), "610 N", "a spring whose travel ends beyond the curve's")
state(ratio(2.5, 160), chamber(46, 58, 150, 7, 1.35), "610 N", "a spring whose travel ends before the curve's")
RISING = {"table": {"stroke": ["0 mm", "20 mm", "40 mm", "60 mm"], "travel": ["0 mm", "60 mm", "116 mm", "168 mm"], "method": "monotone"}}
state(RISING, chamber(46, 60, 160, 8, 1.3), "640 N", "a falling ratio")
state(RISING, chamber(46, 60, 160, 8, 1.3, spacers=2, spacer_volume="8 cm3"), "640 N", "the same with spacers")
BENT = {"table": {"stroke": ["0 mm", "20 mm", "40 mm", "60 mm"], "travel": ["0 mm", "50 mm", "102 mm", "165 mm"], "method": "monotone"}}
state(BENT, chamber(46, 60, 160, 8, 1.3), "650 N", "a rising ratio: the least rate is where two pieces of the table meet")

# ---------------------------------------------------------------------- damper

for c, k, p, r, note in (("900 N·s/m", "9 N/mm", "520 N", 2.6, "behind a linkage"), ("700 N·s/m", "7.5 N/mm", "310 N", 0.9, "a fork"), ("2 N·s/mm", "40 lbf/in", "110 lbf", 3, "overdamped"),
                         ("150 N·s/m", "12 N/mm", "700 N", 2.4, "hardly damped"), ("1200 N·s/m", "10 N/mm", "600 N", 1, "at the wheel itself"), ("5 lbf·s/in", "52 lbf/in", "120 lbf", 2.75, "in pounds and inches"),
                         ("850 N·s/m", "8200 N/m", "54 kgf", 2.9, "a load in kilograms-force"), ("1000 N·s/m", "9.80665 N/mm", "400 N", 2, "round numbers: a ratio of 0.25·√10")):
    damping, load = si(c), si(p)
    roots = mp.polyroots([load / G0, damping, si(k)], maxsteps=200, extraprec=200)
    zeta = -(roots[0] + roots[1]) / 2 / mp.sqrt(roots[0] * roots[1])
    g.add("sag.damper", {"damping": c, "wheel_rate": k, "load": p, "lever_ratio": r}, {"damping_ratio": num(mp.re(zeta)), "damping_at_shock": to(damping * mpf(str(r)) ** 2, "N·s/m")}, 1e-12,
          "the ratio from the roots of the characteristic polynomial", note)

# ------------------------------------------------------------------------ drop


def stiffness(end):
    c, spring = curve(end["curve"]), law(end["law"])
    assert spring.force(mpf(0)) == 0
    r = c.ratio(mpf(0))
    return spring.rate(mpf(0)) / r**2, min(c.stroke, spring.travel) * r


def drop(given, note):
    m, rho, a, b, h = (si(given.get(k, "0 mm")) for k in ("mass", "gyration", "ahead", "behind", "drop_height"))
    ends = []
    for e in ("front", "rear"):
        k, full = stiffness(given[e])
        ends.append((k, si(given[e].get("damping", "0 N·s/m")), si(given[e]["unsprung"]), si(given[e]["tyre"]), full))
    arms = (a, -b)
    # The state: z, θ, u_f, u_r, their speeds, and 1.
    matrix = mp.zeros(9)
    for i in range(4):
        matrix[i, i + 4] = mpf(1)
    matrix[4, 8] = -G0
    for i, (arm, (k, c, mu, kt, _)) in enumerate(zip(arms, ends)):
        for column, v in ((0, -k), (1, -k * arm), (2 + i, k), (4, -c), (5, -c * arm), (6 + i, c)):  # the force on the body
            matrix[4, column] += v / m
            matrix[5, column] += arm * v / (m * rho**2)
            matrix[6 + i, column] -= v / mu
        matrix[6 + i, 2 + i] -= kt / mu
        matrix[6 + i, 8] = -G0
    v = -mp.sqrt(2 * G0 * h)
    y0 = mp.matrix([0, 0, 0, 0, v, 0, v, v, 1])

    def travel(y, i):
        return y[2 + i] - y[0] - arms[i] * y[1]

    def energy(y):
        e = m * y[4] ** 2 / 2 + m * rho**2 * y[5] ** 2 / 2 + m * G0 * y[0]
        for i, (k, _, mu, kt, _) in enumerate(ends):
            e += k * travel(y, i) ** 2 / 2 + mu * y[6 + i] ** 2 / 2 + mu * G0 * y[2 + i] + kt * y[2 + i] ** 2 / 2
        return e

    times = [si(t) for t in given["at"]]
    states = [mp.expm(matrix * t) * y0 for t in times]
    work = [energy(y0) - energy(y) for y in states]
    # Runge and Kutta's rule, from the forces.
    at, n, y, done, reached = 0.0, int(mp.nint(times[-1] / mpf("1e-5"))), [float(x) for x in y0][:8], 0.0, []
    pars = [[float(x) for x in e] for e in ends]
    fm, fr, fg, farms = float(m), float(m * rho**2), float(G0), [float(x) for x in arms]

    def slope(y):
        out, took = list(y[4:]) + [-fg, 0.0, 0.0, 0.0], 0.0
        for i, (k, c, mu, kt, full) in enumerate(pars):
            w, speed = y[2 + i] - y[0] - farms[i] * y[1], y[6 + i] - y[4] - farms[i] * y[5]
            f = k * w + c * speed
            assert at == 0 or -1e-9 < w < full and y[2 + i] < 1e-9, (note, at, i, w, y[2 + i])
            out[4] += f / fm
            out[5] += farms[i] * f / fr
            out[6 + i] = -kt * y[2 + i] / mu - f / mu - fg
            took += c * speed**2
        return out, took

    end = float(times[-1])
    step = end / n
    marks = [round(float(t) / step) for t in times]
    for j in range(n + 1):
        if j in marks:
            reached.append((list(y), done, j * step))
        stages, x = [], y
        for share in (0.5, 0.5, 1.0, None):
            stages.append(slope(x))
            if share:
                x = [p + share * step * q for p, q in zip(y, stages[-1][0])]
        y = [p + step / 6 * (s0 + 2 * s1 + 2 * s2 + s3) for p, s0, s1, s2, s3 in zip(y, *(s[0] for s in stages))]
        done += step / 6 * (stages[0][1] + 2 * stages[1][1] + 2 * stages[2][1] + stages[3][1])
        at += step
    for exact, e, (near, took, t), wanted in zip(states, work, reached, times):
        assert abs(t - float(wanted)) < 1e-9, (t, wanted)
        for i in range(2):
            close(mpf(near[2 + i] - near[0] - farms[i] * near[1]) + 1, travel(exact, i) + 1, mpf("1e-6"), "travel")
        close(took + 1, e + 1, mpf("1e-6"), "work of the dampers")
    # At rest: the sprung weight by its arms, and the same on the tyres with the wheels.
    shares, height, rest = (b / (a + b), a / (a + b)), [], []
    for (k, _, mu, kt, _), share in zip(ends, shares):
        rest.append(m * G0 * share / k)
        height.append(-(m * share + mu) * G0 / kt - rest[-1])
    flat = mp.matrix([(b * height[0] + a * height[1]) / (a + b), (height[0] - height[1]) / (a + b), height[0] + rest[0], height[1] + rest[1], 0, 0, 0, 0, 1])
    assert max(abs(x) for x in matrix * flat) < mpf("1e-40"), "rest"
    expect = {"front_travel": to([travel(y, 0) for y in states], "mm"), "rear_travel": to([travel(y, 1) for y in states], "mm"), "pitch": to([y[1] for y in states], "deg"),
              "front_force": to([-ends[0][3] * y[2] for y in states], "N"), "rear_force": to([-ends[1][3] * y[3] for y in states], "N"), "damper_work": to(work, "J"),
              "rest_front_travel": to(rest[0], "mm"), "rest_rear_travel": to(rest[1], "mm"), "rest_pitch": to(flat[1], "deg")}
    g.add("sag.drop", given, expect, {"*": 1e-7, "pitch": "1e-8 deg", "rest_pitch": "1e-9 deg"}, "Runge and Kutta's rule from the forces, in doubles, to six digits; the rest puts all accelerations to 0", note)


def stopped(given, note):
    """A bike that rests in its stops: the sprung weight by its arms, what the springs carry at the end, and the rest by the stops."""
    m, a, b = si(given["mass"]), si(given["ahead"]), si(given["behind"])
    expect, height = {}, []
    for e, share in (("front", b / (a + b)), ("rear", a / (a + b))):
        k, full = stiffness(given[e])
        w = full + (m * G0 * share - k * full) / si(given[e]["stops"])
        close(k * full + si(given[e]["stops"]) * (w - full), m * G0 * share, mpf("1e-40"), "balance")
        assert w > full, note
        expect[f"rest_{e}_travel"] = to(w, "mm")
        height.append(-(m * share + si(given[e]["unsprung"])) * G0 / si(given[e]["tyre"]) - w)
    expect["rest_pitch"] = to((height[0] - height[1]) / (a + b), "deg")
    g.add("sag.drop", given, expect, 1e-9, "spring and stops together balance the load", note)


def topped(given, note):
    """A bike whose springs are preloaded by more than they carry: the stops hold the difference back."""
    m, a, b = si(given["mass"]), si(given["ahead"]), si(given["behind"])
    expect, height = {}, []
    for e, share in (("front", b / (a + b)), ("rear", a / (a + b))):
        wheel = curve(given[e]["curve"])
        w = (m * G0 * share - law(given[e]["law"]).force(mpf(0)) / wheel.ratio(mpf(0))) / si(given[e]["stops"])
        assert w < 0, note
        expect[f"rest_{e}_travel"] = to(w, "mm")
        height.append(-(m * share + si(given[e]["unsprung"])) * G0 / si(given[e]["tyre"]) - w)
    expect["rest_pitch"] = to((height[0] - height[1]) / (a + b), "deg")
    g.add("sag.drop", given, expect, 1e-9, "spring and stops together balance the load", note)


def linear(rate, travel):
    return {"linear": {"rate": rate, "travel": travel}}


def end(c, l, damping, unsprung, tyre):
    return {"curve": c, "law": l, **({"damping": damping} if damping else {}), "unsprung": unsprung, "tyre": tyre}


FRONT = end(fork(64, 170), linear("7 N/mm", "170 mm"), "600 N·s/m", "2.6 kg", "70 N/mm")
REAR = end(ratio(2.6, 150), linear("75 N/mm", "57.7 mm"), "900 N·s/m", "3.4 kg", "90 N/mm")
BIKE = {"mass": "88 kg", "gyration": "450 mm", "ahead": "700 mm", "behind": "520 mm", "front": FRONT, "rear": REAR, "drop_height": "50 mm", "at": ["20 ms", "60 ms", "0.12 s"]}
drop(BIKE, "a rider and a bike, five centimetres")
drop({**BIKE, "drop_height": "100 mm", "at": ["30 ms", "0.1 s"]}, "ten centimetres")
drop({**BIKE, "drop_height": "0 mm", "at": ["50 ms", "0.1 s", "0.2 s"]}, "let down without a fall")
drop({**BIKE, "ahead": "620 mm", "behind": "620 mm", "at": ["40 ms", "0.1 s"]}, "the mass centre in the middle")
drop({**BIKE, "ahead": "610 mm", "behind": "610 mm", "front": REAR, "at": ["40 ms", "0.1 s"]}, "the same at both ends: no pitch")
drop({**BIKE, "gyration": "0.3 m", "at": ["25 ms", "80 ms"]}, "a mass close to its centre: more pitch")
drop({**BIKE, "front": {**FRONT, "damping": "1500 N·s/m"}, "at": ["25 ms", "80 ms"]}, "much damping in front")
drop({**BIKE, "rear": end(ratio(2.4, 140), linear("80 N/mm", "58.4 mm"), "700 N·s/m", "4 kg", "80 N/mm"), "at": ["25 ms", "80 ms"]}, "another rear end")

stopped({**{k: v for k, v in BIKE.items() if k not in ("at", "drop_height")}, "mass": "400 kg", "front": {**FRONT, "stops": "200 N/mm"}, "rear": {**REAR, "stops": "300 N/mm"}}, "so much load that both ends rest in their stops")
HELD = {k: v for k, v in BIKE.items() if k not in ("at", "drop_height")}
topped({**HELD, "mass": "30 kg", "front": {**FRONT, "law": {"linear": {"rate": "7 N/mm", "travel": "170 mm", "preload": "40 mm"}}, "stops": "200 N/mm"},
        "rear": {**REAR, "law": {"linear": {"rate": "75 N/mm", "travel": "57.7 mm", "preload": "12 mm"}}, "stops": "300 N/mm"}}, "so much preload that both ends rest in their top-out stops")

for given in ({"slope": "-20 deg", "front_braking": 0.25, "rear_braking": 0.1}, {"slope": "12 deg", "driving": 0.3}, {"front_braking": 0.6}, {"slope": "-8 deg"}, {"driving": 0.15, "rear_braking": 0.05},
              {"slope": "0.2 rad", "driving": 0.4}, {"slope": "-0.3 rad", "rear_braking": 0.3}, {"slope": "60 deg", "front_braking": 0.1}):
    push = sum(si(given.get(k, 0)) * sign for k, sign in (("driving", 1), ("front_braking", -1), ("rear_braking", -1)))
    along = mp.cos(mp.pi / 2 - si(given.get("slope", "0 rad")))  # of the weight, against the way uphill
    g.add("sag.ground", given, {"acceleration": num(push - along)}, 1e-12, "the weight's part along the ground by the angle to the plumb line", "forces along the ground over the weight")



def corner(given, note):
    """The force of the damper at the spring is that of its power at the wheel."""
    c, l = curve(given["curve"]), law(given["law"])
    wheel = AtWheel(c, l)
    stops, out = si(given.get("stops", "0 N/mm")), {"spring": [], "damper": [], "ground": []}
    for w, v in zip(map(si, given["travel"]), map(si, given["speed"])):
        inside = min(max(w, mpf(0)), wheel.travel)
        push = wheel.force(inside) + stops * (w - inside)
        side = min(max(inside, mpf("1e-12")), wheel.travel - mpf("1e-12"))
        shaft = v * mp.diff(c.stroke_at, side, h=mpf("1e-16"))  # the speed at the spring
        close(shaft * c.ratio(wheel.stroke(side)) + 10, v + 10, mpf("1e-12"), "speed")
        shaft = v / c.ratio(wheel.stroke(inside))
        drag = si(given.get("damping", "0 N·s/m")) * v + (si(given.get("damping_at_shock", "0 N·s/m")) * shaft**2 / v if v else 0)
        for name, f in (("spring", push), ("damper", drag), ("ground", push + drag)):
            out[name].append(f)
    g.add("sag.corner", given, {name: to(f, "N") for name, f in out.items()}, 1e-10, "the speed at the spring by differences of the stroke", note)


TABLE = {"table": {"stroke": ["0 mm", "15 mm", "30 mm", "45 mm", "60 mm"], "travel": ["0 mm", "45 mm", "86 mm", "123 mm", "156 mm"], "method": "smooth"}}
PLACES = {"travel": ["0 mm", "40 mm", "110 mm", "40 mm", "-2 mm", "160 mm"], "speed": [1, 2, -0.5, 0, -1, 0.3]}
g = file.group(mpmath_source(SCRIPT, "invented ends"), "computed", 1)
corner({"curve": TABLE, "law": linear("75 N/mm", "60 mm"), "damping_at_shock": "4000 N·s/m", "stops": "200 N/mm", **PLACES}, "a damper beside the spring, from stop to stop")
corner({"curve": TABLE, "law": linear("75 N/mm", "60 mm"), "damping": "300 N·s/m", "damping_at_shock": "4000 N·s/m", **PLACES}, "a damper at the wheel besides, and no stops")
corner({"curve": fork(64, 170), "law": linear("7 N/mm", "170 mm"), "damping": "600 N·s/m", "stops": "150 N/mm", **PLACES}, "a fork")
corner({"curve": ratio(2.6, 150), "law": linear("75 N/mm", "57.7 mm"), "damping_at_shock": "6000 N·s/m", **PLACES}, "a constant ratio: the damper counts by its square")
corner({"curve": ratio(2.6, 150), "law": linear("75 N/mm", "57.7 mm"), "stops": "300 N/mm", **PLACES}, "no damper at all")
corner({"curve": ratio(3, 165), "law": {"air": chamber(46, 60, 150, 8, 1.35)}, "damping_at_shock": "5000 N·s/m", "stops": "250 N/mm", **PLACES}, "an air spring")
corner({"curve": {"table": {**TABLE["table"], "method": "monotone"}}, "law": {"linear": {"rate": "70 N/mm", "travel": "50 mm", "preload": "4 mm"}}, "damping_at_shock": "3500 N·s/m", "stops": "200 N/mm",
        "travel": ["20 mm", "130 mm", "145 mm", "-5 mm"], "speed": [0.8, 0.1, 0.05, -0.6]}, "a spring that is solid before the curve ends: its end is the stop")
corner({"curve": fork(63, 180), "law": linear("40 lbf/in", "180 mm"), "damping_at_shock": "8 lbf·s/in", "damping": "100 N·s/m", "travel": ["1 in", "5 in"], "speed": [-1.5, 3]}, "a fork with its damper beside the spring, in inches")

MORE = to(air({**chamber(45, 57.7, 140, 11, 1)}).force(si("150 mm") / mpf("2.6")) / mpf("2.6") * mpf("1.005"), "N", 12)
g = file.group(RULES, "definition", 1)
g.refuse_each("sag.ground", {"slope": "5 deg", "driving": 0.2}, [
    ({"slope": "61 deg"}, ["slope"], "steeper than is ridden"), ({"driving": -0.2}, ["driving"], "negative"), ({"front_braking": 6}, ["front_braking"], "more than any tyre holds"),
    ({"slope": "5", "rear_braking": -1}, ["slope", "rear_braking"], "missing unit, and negative"), ({"grade": 0.1}, ["grade"], "no such field"),
])
g.refuse_each("sag.state", {"curve": ratio(2.6, 150), "airspring": chamber(45, 57.7, 140, 11, 1.3), "load": "560 N"}, [
    ({"load": "0 N"}, ["load"], "zero"), ({"load": "9000 N"}, ["bottomed_out"], "more than the spring carries"), ({"curve": ratio(2.6, 150), "load": MORE}, ["bottomed_out"], "half a percent more than the spring carries"), ({"curve": ratio(-2.6, 150)}, ["constant"], "negative"),
    ({"airspring": {**chamber(45, 57.7, 140, 11, 1.3), "fill": "0 bar"}}, ["fill"], "no fill"), ({"airspring": None, "load": "-5 N"}, ["bore", "travel", "positive_volume", "fill", "ambient", "exponent", "load"], "no spring at all"),
    ({"friction": "5 N"}, ["friction"], "no such field"),
])
g.refuse_each("sag.damper", {"damping": "900 N·s/m", "wheel_rate": "9 N/mm", "load": "520 N", "lever_ratio": 2.6}, [
    ({"damping": "0 N·s/m"}, ["damping"], "zero"), ({"wheel_rate": "-9 N/mm"}, ["wheel_rate"], "negative"), ({"load": None}, ["load"], "missing"),
    ({"lever_ratio": 0}, ["lever_ratio"], "zero"), ({"lever_ratio": "2.6 mm"}, ["lever_ratio"], "a number is wanted"), ({"damping": "900 N", "load": "NaN N"}, ["damping", "load"], "a force is no damping, and not a number"),
])
g.refuse_each("sag.drop", BIKE, [
    ({"mass": "0 kg"}, ["mass"], "zero"), ({"gyration": None}, ["gyration"], "missing"), ({"ahead": "-0.7 m"}, ["ahead"], "negative"), ({"drop_height": "2 m"}, ["drop_height"], "more than a metre"),
    ({"at": ["0.1 s", "0.1 s"]}, ["at"], "not rising"), ({"front": {**FRONT, "tyre": "0 N/mm"}}, ["tyre"], "no tyre"), ({"rear": {**REAR, "unsprung": None}}, ["unsprung"], "missing"),
    ({"mass": "1000 kg"}, ["bottomed_out"], "a bike that rests on its stops"), ({"front": {**FRONT, "curve": ratio(0, 100)}, "mass": "0 kg"}, ["constant"], "a curve hides the rest"),
])
g.refuse_each("sag.corner", {"curve": ratio(2.6, 150), "law": linear("75 N/mm", "57.7 mm"), **PLACES}, [
    ({"speed": [1]}, ["speed"], "too few"), ({"travel": None}, ["speed"], "speeds without a travel"), ({"stops": "-1 N/mm", "damping": "-5 N·s/m"}, ["stops", "damping"], "negative"),
    ({"curve": ratio(0, 150), "damping_at_shock": "5 N"}, ["constant", "damping_at_shock"], "no ratio, and a force is no damping"), ({"tyre": "90 N/mm"}, ["tyre"], "no such field: the wheel is rigid"),
    ({"travel": ["0 mm", "40 mm", "NaN mm", "40 mm", "-2 mm", "160 mm"]}, ["travel[2]"], "not a number"),
])
file.write()
