"""Writes data/cases/sag-landing.json: drops onto one end, damping, and what a ring implies.

A landing: m = load/g₀ from w = 0 at √(2·g₀·h), m·ẅ = load − F_w(w) − c·ẇ, until
it first stops or the travel is used up. Of a linear wheel force the motion is
known in closed form, with exponentials of the roots of m·r² + c·r + k = 0. Of any
other, without damping, the energy gives the speed at every travel, and the time is
∫dw/ẇ. Both are used where both hold. Damping: c = 2·ζ·√(k_w·load/g₀). A ring:
load = F_s(s)/LR(s), and with a friction f and an error e of the ring the bounds
(F_s − f)/LR at s − e and (F_s + f)/LR at s + e. See casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, G0, RULES, close, mpmath_source, num, si, to
from curves import AtWheel, curve
from laws import bisect, law

file = File("landings, damping and readings of a ring")
g = file.group(mpmath_source("sag_landing.py", "invented bikes and riders"), "computed", 1)
mp.dps = 40


def linear(rate, travel, preload=None):
    return {"linear": {"rate": rate, "travel": travel, **({"preload": preload} if preload else {})}}


def fork(angle, travel):
    return {"fork": {"head_angle": f"{angle} deg", "travel": f"{travel} mm"}}


RATIO = {"constant": 2.6, "travel": "150 mm"}
TABLE = {"table": {"stroke": [f"{x} mm" for x in (0, 10, 20, 30, 40, 50, 60)],
                   "travel": [f"{x} mm" for x in (0, 29.075, 57.3, 84.675, 111.2, 136.875, 161.7)], "method": "smooth"}}
AIR = {"air": {"bore": "34 mm", "shaft": "10 mm", "travel": "160 mm", "positive_volume": "190 cm3", "negative_volume": "60 cm3",
               "port_travel": "8 mm", "fill": "5.5 bar", "ambient": "101325 Pa(a)", "exponent": 1.3}}


def by_energy(w, load, h):
    """Travel, time and energy left of an undamped landing on any law."""
    left = lambda x: load * (h + x) - w.energy(x)  # noqa: E731
    full = w.travel
    if left(full) > 0:
        end, rest = full, left(full)
    else:  # the first stop: the energy falls below 0 once and for all, as the wheel force rises
        end, rest = bisect(lambda x: -left(x), full * mpf("1e-30"), full), mpf(0)
    m = load / G0
    time = mp.re(mp.quad(lambda u: 2 * u * end / mp.sqrt(2 * left(end * (1 - u * u)) / m) if u else mpf(0), mp.linspace(0, 1, 9)))  # rounding near the stop
    return end, time, rest


def by_steps(w, load, h, n=1500):
    """Travel and time of an undamped landing once more, by steps of the equation of motion itself, in doubles."""
    m, full = float(load / G0), float(w.travel)
    pull = lambda x: (float(load) - float(w.force(mpf(min(max(x, 0.0), full))))) / m  # noqa: E731

    def step(x, v, t):
        a1 = pull(x)
        a2 = pull(x + t / 2 * v)
        a3 = pull(x + t / 2 * v + t * t / 4 * a1)
        a4 = pull(x + t * v + t * t / 2 * a2)
        return x + t * v + t * t / 6 * (a1 + a2 + a3), v + t / 6 * (a1 + 2 * a2 + 2 * a3 + a4)

    x, v, t = 0.0, float(mp.sqrt(2 * G0 * h)), 0.0
    dt = 2 * full / max(v, 1.0) / n
    while True:
        nx, nv = step(x, v, dt)
        if nv <= 0 or nx >= full:
            break
        x, v, t = nx, nv, t + dt
    part = lambda u: step(x, v, u)  # noqa: E731
    gone = (lambda u: part(u)[0] - full) if nx >= full else (lambda u: -part(u)[1])
    u = float(bisect(lambda u: mpf(gone(float(u))), mpf(0), mpf(dt)))
    return part(u)[0], t + u


def by_exponentials(k, w0, full, load, h, c):
    """The same of a linear wheel force k·(w + w0) with a damping c, and the most that spring and damper push,
    and the damper's work."""
    m, v0 = load / G0, mp.sqrt(2 * G0 * h)
    root = mp.sqrt(mp.mpc(c * c - 4 * m * k))
    a, b = (-c + root) / (2 * m), (-c - root) / (2 * m)
    rest = load / k - w0
    p = (v0 + b * rest) / (a - b)  # w = rest + p·e^{at} + q·e^{bt}
    q = -rest - p
    w = lambda t: (rest + p * mp.exp(a * t) + q * mp.exp(b * t)).real  # noqa: E731
    v = lambda t: (a * p * mp.exp(a * t) + b * q * mp.exp(b * t)).real  # noqa: E731
    step, t = mp.pi * mp.sqrt(m / k) / 200, mpf(0)
    while v(t + step) > 0 and w(t + step) < full:
        t += step
    over = lambda t: w(t) - full  # noqa: E731
    stop = bisect(lambda t: -v(t), t, t + step) if v(t + step) <= 0 else t + step
    if over(stop) > 0:
        stop = bisect(over, t, stop)
    push = lambda t: k * (w(t) + w0) + c * v(t)  # noqa: E731
    slope = lambda t: mp.diff(push, t)  # noqa: E731
    best, n = max(push(mpf(0)), push(stop)), 400
    for i in range(n):
        x, y = stop * i / n, stop * (i + 1) / n
        if slope(x) > 0 > slope(y):
            best = max(best, push(bisect(lambda t: -slope(t), x, y)))
    work = mp.quad(lambda t: c * v(t) ** 2, mp.linspace(0, stop, 9))
    left = m * v(stop) ** 2 / 2
    if v(stop) < mpf("1e-20"):
        left = mpf(0)
    close(load * (h + w(stop)), k * w(stop) * (w(stop) / 2 + w0) + work + left, mpf("1e-18"), "energy")
    return w(stop), stop, left, best, work


def landing(curve_spec, law_spec, load, height, damping=None, note=""):
    w, f, h, c = AtWheel(curve(curve_spec), law(law_spec)), si(load), si(height), si(damping.replace("N·s/m", "N")) if damping else mpf(0)
    second, given = "the energy of load, spring, damper and speed", {"curve": curve_spec, "law": law_spec, "load": load, "drop_height": height}
    if damping:
        given["damping"] = damping
    if "linear" in law_spec and "table" not in curve_spec:
        k, w0 = (w.force(w.travel) - w.force(mpf(0))) / w.travel, mpf(0)
        w0 = w.force(mpf(0)) / k
        end, time, left, peak, work = by_exponentials(k, w0, w.travel, f, h, c)
        if not damping:
            e, t, rest = by_energy(w, f, h)
            close(end, e, mpf("1e-15"), "travel")
            close(time, t, mpf("1e-12"), "time")
            close(left, rest, mpf("1e-15"), "energy left")
            second = "by exponentials, and by the energy alone"
    else:
        assert not damping, "no closed form"
        end, time, left = by_energy(w, f, h)
        peak, work, second = w.force(end), mpf(0), "the equation of motion by the method of Runge and Kutta, to 1e-8"
        stepped, when = by_steps(w, f, h)
        close(stepped, end, mpf("1e-8"), "travel")
        close(when, time, mpf("1e-8"), "time")
    expect = {"travel": to(end, "mm", 12), "used": num(end / w.curve.travel, 12), "force": to(w.force(end), "N", 12), "peak_force": to(peak, "N", 12),
              "time": to(time, "s", 12)}
    tolerance = {"*": 1e-8}
    for name, value in (("damper_work", work), ("energy_left", left)):
        expect[name] = to(value, "J", 12)
        if not value:
            tolerance[name] = "1e-9 J"
    g.add("sag.landing", given, expect, tolerance, second, note)


REAR = linear("450 lbf/in", "57.7 mm")
landing(RATIO, REAR, "520 N", "0.05 m", note="a kerb, no damping")
landing(RATIO, REAR, "520 N", "0.05 m", "300 N·s/m", "the same with some damping")
landing(RATIO, REAR, "520 N", "0.05 m", "900 N·s/m", "with so much that the damper pushes hardest at the start")
landing(RATIO, linear("450 lbf/in", "57.7 mm", "3 mm"), "520 N", "0.3 m", "500 N·s/m", "a spring with preload, and full travel before it stops")
landing(RATIO, REAR, "520 N", "0.5 m", note="full travel is reached, undamped")
landing(fork(64, 170), linear("8 N/mm", "170 mm"), "330 N", "0.2 m", "250 N·s/m", "a fork")
landing(fork(64, 170), linear("8 N/mm", "170 mm"), "330 N", "0 m", note="let go at full extension: twice the sag")
landing({"constant": 1, "travel": "100 mm"}, linear("20 N/mm", "80 mm"), "400 N", "0.04 m", "1200 N·s/m", "a spring shorter than the travel, damped beyond critical")
landing(TABLE, linear("80 N/mm", "60 mm", "1 mm"), "560 N", "0.1 m", note="a progressive linkage")
landing(fork(65.5, 160), AIR, "310 N", "0.25 m", note="an air fork, which pulls at full extension")
landing(fork(65.5, 160), AIR, "310 N", "2 m", note="an air fork, from so high that it bottoms")

g = file.group(mpmath_source("sag_landing.py", "2·ζ·√(k_w·load/g₀)"), "computed", 1)
for ratio, rate, load in [(0.3, "11.66 N/mm", "520 N"), (0.25, "7 N/mm", "330 N"), (1, "20 N/mm", "400 N"), (0.05, "60 lbf/in", "120 lbf"),
                          (0.7, "3 N/mm", "90 N"), (2, "1000 N/m", "1 kN"), (0.2, "15 N/mm", "1200 N"), (0.001, "0.1 N/mm", "10 N")]:
    c = 2 * mpf(str(ratio)) * mp.sqrt(si(rate) * si(load) / G0)
    g.add("sag.damping", {"damping_ratio": ratio, "wheel_rate": rate, "load": load}, {"damping": to(c, "N", 15).replace(" N", " N·s/m")}, 1e-12,
          "ζ of it is that given, by the roots of m·r² + c·r + k = 0" if abs(ratio - 1) > 1e-9 else "the roots of m·r² + c·r + k = 0 are one")
    m = si(load) / G0
    roots = mp.polyroots([m, c, si(rate)], maxsteps=200, extraprec=200)
    close(-(roots[0] + roots[1]).real / (2 * mp.sqrt(roots[0] * roots[1]).real), mpf(str(ratio)), mpf("1e-15"), "ratio")

g = file.group(mpmath_source("sag_landing.py", "F_s/LR at the ring, and with friction and error on either side"), "computed", 1)


def implied(curve_spec, law_spec, stroke, error, friction=None, note=""):
    c, l = curve(curve_spec), law(law_spec)
    s, e, f = si(stroke), si(error), si(friction) if friction else mpf(0)
    at = lambda s, f: (l.force(s) + f) / c.ratio(s)  # noqa: E731
    given = {"curve": curve_spec, "law": law_spec, "stroke": stroke, "error": error}
    if friction:
        given["friction"] = friction
    low, load, high = max(at(s - e, -f), mpf(0)), at(s, mpf(0)), at(s + e, f)
    assert low < load < high
    expect = {"load": to(load, "N"), "load_low": to(low, "N"), "load_high": to(high, "N")}
    g.add("sag.implied", given, expect, {"*": 1e-10, **({} if low else {"load_low": "1e-9 N"})},
          "the wheel force of sag.settle's curve and law at these travels", note)
    w = AtWheel(c, l)
    close(w.force(c.travel_at(s)), load, mpf("1e-25"), "load")


implied(RATIO, REAR, "16.2 mm", "1 mm", note="no friction")
implied(RATIO, REAR, "16.2 mm", "1 mm", "60 N", "with friction")
implied(RATIO, linear("80 N/mm", "57.7 mm", "2 mm"), "15 mm", "0.5 mm", "40 N", "preload")
implied(fork(64, 170), linear("8 N/mm", "170 mm", "10 mm"), "35 mm", "2 mm", "30 N", "a fork")
implied(fork(65.5, 160), AIR, "32 mm", "2 mm", "25 N", "an air fork")
implied(TABLE, linear("80 N/mm", "60 mm"), "18 mm", "1 mm", "50 N", "a progressive linkage")
implied(RATIO, REAR, "2 mm", "1.5 mm", "150 N", "so near to full extension that friction alone may hold it: no less than 0")
implied(RATIO, REAR, "0.7 in", "0.05 in", note="inches")

g = file.group(RULES, "definition")
GOOD = {"curve": RATIO, "law": REAR, "load": "520 N", "drop_height": "0.1 m", "damping": "300 N·s/m"}
g.refuse_each("sag.landing", GOOD, [
    ({"load": "0 N"}, ["load"], "zero"), ({"load": None}, ["load"], "missing"), ({"drop_height": None}, ["drop_height"], "missing"),
    ({"drop_height": "-1 m"}, ["drop_height"], "negative"), ({"drop_height": "1001 m"}, ["drop_height"], "no fall from so high is a landing"),
    ({"damping": "-1 N·s/m"}, ["damping"], "negative"), ({"damping": "300 N"}, ["damping"], "the unit of another quantity"),
    ({"damping": "300 kN"}, ["damping"], "the unit of another quantity"), ({"damping": "300000 N·s/m"}, ["damping"], "more than twenty times critical"),
    ({"curve": {"constant": 0, "travel": "150 mm"}, "law": linear("0 N/mm", "57.7 mm"), "load": "-1 N", "drop_height": "-1 m", "damping": "-1 N·s/m"},
     ["constant", "rate", "load", "drop_height", "damping"], "bad throughout, all named"),
    ({"height": "1 m"}, ["height"], "no such field"),
])
g.refuse_each("sag.damping", {"damping_ratio": 0.3, "wheel_rate": "11 N/mm", "load": "520 N"}, [
    ({"damping_ratio": 0}, ["damping_ratio"], "zero"), ({"damping_ratio": None}, ["damping_ratio"], "missing"), ({"wheel_rate": "0 N/mm"}, ["wheel_rate"], "zero"),
    ({"load": "52 kg"}, ["load"], "a mass is no force"), ({"damping_ratio": -1, "wheel_rate": "-1 N/mm", "load": "-1 N"}, ["damping_ratio", "wheel_rate", "load"], "all named"),
])
RING = {"curve": RATIO, "law": REAR, "stroke": "16 mm", "error": "1 mm", "friction": "50 N"}
g.refuse_each("sag.implied", RING, [
    ({"stroke": "0 mm"}, ["stroke"], "zero"), ({"stroke": "60 mm"}, ["stroke"], "beyond the stroke"), ({"stroke": None}, ["stroke"], "missing"),
    ({"error": "0 mm"}, ["error"], "zero"), ({"error": None}, ["error"], "missing"), ({"error": "16 mm"}, ["error"], "to full extension, where a stop carries a part"),
    ({"friction": "-1 N"}, ["friction"], "negative"), ({"law": linear("0 N/mm", "57.7 mm"), "friction": "-1 N", "stroke": "-1 mm"}, ["rate", "friction", "stroke"], "all named"),
])

file.write()
