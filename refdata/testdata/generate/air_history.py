"""Writes data/cases/air-history.json: how warm a gas becomes along p Vⁿ, and a gas
over a history of its volume.

Between times the volume is linear, and the equation of the gas is solved by the
integral of its solution, in parts of half a time constant. The work is the integral
of the pressure. See casefile.py for how to run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, num, si, to
from mechanisms import gauss

file = File("a gas that warms, and loses heat")
SCRIPT = "air_history.py"
AMBIENT = "101325 Pa(a)"


def change(p, v, to_v, n):
    return {"pressure": p, "volume": v, "to_volume": to_v, "exponent": n}


# ------------------------------------------------------------------------ warming

g = file.group(mpmath_source(SCRIPT, "(V₁/V₂)^(n−1)"), "computed", 1)


def warming(given, note):
    v, to_v, n = si(given["volume"]), si(given["to_volume"]), si(given["exponent"])
    ratio = (v / to_v) ** (n - 1)
    second = mp.exp(-mp.quad(lambda x: (n - 1) / x, mp.linspace(v, to_v, 5)))  # dT/T = −(n − 1)·dV/V
    close(ratio, second, mpf("1e-30"), "temperature")
    g.add("airspring.warming", given, {"warming": num(ratio)}, 1e-12, "the differential equation dT/T = −(n − 1) dV/V by quadrature", note)


warming(change("6.5 bar(a)", "185 cm3", "70 cm3", 1.4), "a fork compressed fast")
warming(change("16 bar(a)", "60 cm3", "22 cm3", 1.3), "a shock, neither fast nor slow")
warming(change("10 bar(a)", "50 cm3", "200 cm3", 1.4), "expansion: colder")
warming(change("10 bar(a)", "50 cm3", "20 cm3", 1), "slow: as warm as before")
warming(change("5 bar(a)", "200 cm3", "199.99 cm3", 1.3), "a tiny stroke")
warming(change("15 bar(a)", "100 cm3", "40 cm3", 1.47), "air at high pressure")
warming(change("1 atm(a)", "12 in3", "3 in3", 1.4), "a pump's barrel, in cubic inches")
warming(change("4 bar(a)", "90 cm3", "230 cm3", 1.2), "a fork let out, neither fast nor slow")

# -------------------------------------------------------------------- histories

g = file.group(mpmath_source(SCRIPT, "y = p V^γ from time to time, y₀ e^(−t/τ) + (p₁ V₁/τ) ∫ e^(−(t−s)/τ) V(s)^(γ−1) ds; the work by quadrature of the pressure"), "computed", 1)


NODES = gauss(16)


def over(f, to_):
    """The integral from 0 on, of a smooth function, by Gauss."""
    return to_ / 2 * mp.fsum(w * f(to_ / 2 * (1 + x)) for x, w in NODES)


def follow(times, volumes, fill, gamma, tau, note):
    given = {"time": [f"{t} s" for t in times], "volume": [f"{v} cm3" for v in volumes], "fill": f"{fill} bar", "ambient": AMBIENT, "heat_ratio": gamma, "time_constant": tau}
    t, v = [si(x) for x in given["time"]], [si(x) for x in given["volume"]]
    p, gm, t0 = si(given["fill"]) + si(AMBIENT), si(gamma), si(tau)
    heat = p * v[0]  # m·R·T_w
    pressures, work, warmer = [p], [mpf(0)], mpf(0)  # warmer is ∫(T/T_w − 1) dt
    for i in range(1, len(t)):
        span, slope = t[i] - t[i - 1], (v[i] - v[i - 1]) / (t[i] - t[i - 1])
        now, done = pressures[-1], work[-1]
        parts = 2 + int(2 * span / t0)
        for k in range(parts):
            first = v[i - 1] + slope * span * k / parts
            y = now * first**gm
            volume = lambda x: first + slope * x  # noqa: E731,B023
            power = lambda x: over(lambda s: mp.exp((s - x) / t0) * volume(s) ** (gm - 1), x)  # noqa: E731,B023
            pressure = lambda x: (y * mp.exp(-x / t0) + heat / t0 * power(x)) / volume(x) ** gm  # noqa: E731,B023
            now = pressure(span / parts)
            done -= slope * over(pressure, span / parts)
            warmer += over(lambda x: pressure(x) * volume(x) / heat - 1, span / parts)  # noqa: B023
        pressures.append(now)
        work.append(done)
        if gm > 1:  # energy: the work done on the gas warms it, or goes to the walls
            close(done + heat, heat / (gm - 1) * (now * v[i] / heat - 1 + warmer / t0) + heat, mpf("1e-16"), "energy")
    g.add("airspring.follow", given, {"pressure": to(pressures, "Pa(a)"), "warming": num([q * x / heat for q, x in zip(pressures, v)]), "work": to(work, "J")}, 1e-10,
          "the energy balance: the work warms the gas or goes to the walls", note)


follow([0, 0.08, 0.1, 0.3], [210, 120, 120, 205], 5.5, 1.4, "1.5 s", "a fork compressed fast, held for a moment, and let out")
follow([0, 0.15, 0.4, 0.65, 0.9], [100, 45, 80, 50, 100], 15, 1.45, "0.6 s", "a shock over two bumps: work that does not come back")
follow([-1, 2], [170, 110], 7, 1.4, "0.4 s", "slow against the time constant, from a time before 0")
follow([0, 0.02, 5], [62, 25, 25], 20, 1.48, "250 ms", "a short shock, held until it is as warm as the walls")
follow([0, 0.3, 0.5], [120, 210, 120], 5.5, 1.4, "1.5 s", "let out and compressed again")
follow([0, 0.3, 0.5], [120, 80, 120], 5.5, 1, "1.5 s", "a heat ratio of 1: never warm, and no work is lost")
follow([0, 0.06, 0.12, 0.2, 0.3, 0.5], [180, 150, 90, 70, 110, 180], 4.2, 1.4, "2 s", "a fork over one bump, in five parts")
follow([3, 3.0001, 4], [80, 40, 40], 18, 1.4, "0.8 s", "compressed nearly at once")
# -------------------------------------------------------------------- refusals

g = file.group(RULES, "definition", 1)
g.refuse_each("airspring.warming", change("15 bar(a)", "100 cm3", "40 cm3", 1.3), [
    ({"pressure": "0 bar(a)"}, ["pressure"], "zero"), ({"to_volume": None}, ["to_volume"], "missing"), ({"volume": "0 cm3", "exponent": 2.5}, ["volume", "exponent"], "two bad fields, both named"),
    ({"pressure": "15 bar"}, ["pressure"], "gauge: the pressure of a gas law is absolute"), ({"exponent": 0.5}, ["exponent"], "below 1"),
])
g.refuse_each("airspring.follow", {"time": ["0 s", "0.1 s", "0.3 s"], "volume": ["210 cm3", "120 cm3", "200 cm3"], "fill": "5.5 bar", "ambient": AMBIENT, "heat_ratio": 1.4, "time_constant": "1.5 s"}, [
    ({"time": ["0 s"], "volume": ["210 cm3"]}, ["time"], "one point is no history"), ({"time": None}, ["time", "volume"], "missing: no volume has a time"), ({"volume": ["210 cm3", "120 cm3"]}, ["volume"], "one volume too few"),
    ({"time": ["0 s", "0.3 s", "0.3 s"]}, ["time[2]"], "a time that does not rise"), ({"volume": ["210 cm3", "0 cm3", "200 cm3"]}, ["volume[1]"], "zero"),
    ({"fill": "5.5 bar(a)"}, ["fill"], "a fill is read on a gauge"), ({"ambient": None}, ["ambient"], "missing"), ({"heat_ratio": 0.9}, ["heat_ratio"], "below 1: no gas has it"),
    ({"time_constant": "0 s", "time": ["0 s", "0.1 m", "0.3 s"]}, ["time_constant", "time[1]"], "zero, and a length among the times"),
])

file.write()
