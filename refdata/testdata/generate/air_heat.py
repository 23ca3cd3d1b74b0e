"""Writes data/cases/air-heat.json: polytropic changes, and heat that leaks.

Polytropic: p₂ = p₁ (V₁/V₂)ⁿ; the work W is done on the gas, negative where it
expands. Small strokes about a mean volume, with w = ωτ and γ = cp/cv:
k_iso = A² p/V, storage k_iso (1 + γw²)/(1 + w²), loss k_iso (γ − 1) w/(1 + w²).
Compress and hold: p = p_iso + (p_ad − p_iso) e^(−t/τ). See casefile.py for how
to run it.
"""
from mpmath import mp, mpf

from casefile import File, RULES, close, mpmath_source, num, si, to

file = File("gas and heat")
SCRIPT = "air_heat.py"
AMBIENT = "101325 Pa(a)"

# ------------------------------------------------------------------ polytropic


def polytropic(given):
    p, v, to_v, n = (si(given[k]) for k in ("pressure", "volume", "to_volume", "exponent"))
    end = p * (v / to_v) ** n
    work = p * v * mp.log(v / to_v) if n == 1 else p * v / (n - 1) * ((v / to_v) ** (n - 1) - 1)
    close(work, -mp.quad(lambda x: p * (v / x) ** n, [v, to_v]), mpf("1e-25"), "work")
    return end, work


def change(p, v, to_v, n):
    return {"pressure": p, "volume": v, "to_volume": to_v, "exponent": n}


def computed(given, second, note="", tolerance=1e-12):
    end, work = polytropic(given)
    g.add("airspring.polytropic", given, {"pressure": to(end, "bar(a)"), "work": to(work, "J")}, tolerance, second, note)


QUAD = "work by numerical quadrature at 50 digits"
g = file.group(mpmath_source(SCRIPT, "changes of the size that exercises have"), "computed", 1)
computed(change("3 bar(a)", "0.1 m3", "0.2 m3", 1.5), QUAD, "an expansion: the work on the gas is negative")
computed(change("6.9 bar(a)", "0.05 m3", "0.08 m3", 1.2), QUAD, "a reversible expansion")
computed(change("1.02 bar(a)", "0.015 m3", "0.0038688778262365906 m3", 1.4), QUAD, "adiabatic, to 6.8 bar: the volume has 17 digits")
computed(change("100 kPa(a)", "0.4 m3", "0.1 m3", 1), QUAD, "isothermal")
computed(change("1000 psia", "2310 in3", "1924.23 in3", 1), QUAD, "ten gallons in an accumulator, at about 1200 psi")
computed(change("1000 psia", "2310 in3", "769.23 in3", 1), QUAD, "the same at about 3000 psi")
g = file.group(mpmath_source(SCRIPT, "data of textbook examples"), "computed", 101)
v = mpf("286.98653779772176") * 295 / 100000
computed(change("1 bar(a)", to(v, "m3", 17), to(v / mpf(5) ** (1 / mpf("1.3")), "m3", 17), 1.3), QUAD + "; agrees to 15 digits with a separate program",
         "1 kg of air at 295 K to 5 bar; data of Moran and Shapiro, Fundamentals of Engineering Thermodynamics, Example 3.11. The volumes are given to 17 digits.")
v = mpf(20) / mpf("0.029") * mpf("8.314") * 300 / 100000
computed(change("1 bar(a)", to(v, "m3", 17), to(v / mpf(5) ** (1 / mpf("1.25")), "m3", 17), 1.25), QUAD + "; agrees to 15 digits with a separate program",
         "20 kg of air at 300 K to 5 bar; data of A Textbook of Chemical Engineering Thermodynamics, Example 3.5. The volumes are given to 17 digits.")
v = mpf("0.15")
computed(change("140 kPa(a)", "0.15 m3", to(v / mpf(10) ** (1 / mpf("1.25")), "m3", 17), 1.25), QUAD + "; agrees to 15 digits with a separate program",
         "140 kPa to 1400 kPa; data of Joel, Basic Engineering Thermodynamics, Example 5.12. The end volume is given to 17 digits.")
g = file.group(mpmath_source(SCRIPT, "invented chambers"), "computed", 201)
for given, note, tolerance in [
    (change("6.51325 bar(a)", "190 cm3", "120 cm3", 1.3), "a fork chamber", 1e-12),
    (change("15 bar(a)", "100 cm3", "40 cm3", 1.4), "a shock chamber, adiabatic", 1e-12),
    (change("15 bar(a)", "100 cm3", "40 cm3", 1), "the same, isothermal", 1e-12),
    (change("15 bar(a)", "100 cm3", "40 cm3", 1.0000001), "an exponent next to 1", 1e-11),
    (change("20 bar(a)", "60 cm3", "60 cm3", 1.3), "no change: no work", 1e-12),
    (change("250 psia", "6 in3", "2.5 in3", 1.45), "customary units, with an exponent above 1.4 as a real gas at high pressure has", 1e-12),
    (change("10 bar(a)", "50 cm3", "200 cm3", 1.4), "expansion", 1e-12),
    (change("5 bar(a)", "200 cm3", "199.99 cm3", 1.3), "a tiny stroke: most digits of the work cancel", 1e-10),
]:
    computed(given, QUAD, note, tolerance)

# ------------------------------------------------------------------------ heat

g = file.group(mpmath_source(SCRIPT, "k_iso (1 + iγw)/(1 + iw), real and imaginary part"), "computed", 1)
SEPARATE = "real and imaginary part by complex arithmetic; agrees to 15 digits with a separate program (mpmath, 40 digits)"


def heat(bore, volume, fill, gamma, w, second="real and imaginary part by complex arithmetic", note=""):
    area = mp.pi * si(f"{bore} mm") ** 2 / 4
    given = {"area": to(area, "mm2", 17), "volume": f"{volume} cm3", "fill": f"{fill} bar", "ambient": AMBIENT, "heat_ratio": gamma, "omega_tau": w}
    gm, w = si(gamma), si(w)
    k = si(given["area"]) ** 2 * (si(given["fill"]) + si(AMBIENT)) / si(given["volume"])
    storage, loss = k * (1 + gm * w**2) / (1 + w**2), k * (gm - 1) * w / (1 + w**2)
    both = k * (1 + mp.mpc(0, 1) * gm * w) / (1 + mp.mpc(0, 1) * w)
    close(storage, both.real, mpf("1e-45"), "storage")
    close(loss, both.imag, mpf("1e-40"), "loss")
    g.add("airspring.heat", given, {"isothermal_rate": to(k, "N/m"), "storage_rate": to(storage, "N/m"), "loss_rate": to(loss, "N/m"),
                                    "loss_factor": num(loss / storage)}, 1e-12, second, note)


heat(35, 150, 5.5, 1.4, 0.1, SEPARATE, "a fork, slow")
heat(35, 150, 5.5, 1.4, 1, SEPARATE, "a fork at the greatest loss, k_iso (γ − 1)/2")
heat(35, 150, 5.5, 1.4, 10, SEPARATE, "a fork, fast")
heat(40, 80, 16, 1.4, 0.3, SEPARATE, "a shock")
heat(40, 80, 16, 1.4, 1, SEPARATE, "a shock at the greatest loss")
heat(40, 80, 16, 1.4, 30, SEPARATE, "a shock, fast")
heat(35, 150, 5.5, 1.4, 0.8451542547285166, SEPARATE, "w = 1/√γ: the greatest loss factor, (γ − 1)/(2√γ) = 0.16903")
heat(35, 150, 5.5, 1.4, 1e-9, note="nearly isothermal")
heat(35, 150, 5.5, 1.4, 1000000000.0, note="nearly adiabatic: γ times the isothermal rate")
heat(46, 60, 20, 1.47, 2, note="air at 20 bar has a heat ratio above 1.4")

# ------------------------------------------------------------------------ hold

g = file.group(mpmath_source(SCRIPT, "compressed at once, then held"), "computed", 1)


def hold(v, to_v, fill, gamma, tau, after, second, note=""):
    given = {"volume": f"{v} cm3", "to_volume": f"{to_v} cm3", "fill": f"{fill} bar", "ambient": AMBIENT, "heat_ratio": gamma, "time_constant": tau,
             "after": after}
    p, ratio = si(given["fill"]) + si(AMBIENT), si(given["volume"]) / si(given["to_volume"])
    iso, adiabatic = p * ratio, p * ratio ** si(gamma)
    at = lambda t: iso + (adiabatic - iso) * mp.exp(-t / si(tau))  # noqa: E731
    for t in after[1:]:  # the differential equation it solves
        close(mp.diff(at, si(t)), -(at(si(t)) - iso) / si(tau), mpf("1e-15"), "rate of pressure")
    g.add("airspring.hold", given, {"pressure": to([at(si(t)) for t in after], "Pa(a)")}, 1e-12, second, note)


SEPARATE = "put into the differential equation; agrees to 15 digits with a separate program (mpmath, 40 digits)"
EQUATION = "put into the differential equation"
hold(210, 120, 5.5, 1.4, "1.5 s", ["0 s", "0.15 s", "0.75 s", "1.5 s", "4.5 s"], SEPARATE, "a fork")
hold(100, 45, 15, 1.4, "0.6 s", ["0 s", "0.06 s", "0.3 s", "0.6 s", "1.8 s"], SEPARATE, "a shock")
hold(120, 210, 5.5, 1.4, "1.5 s", ["0 s", "1 s"], EQUATION, "expanded: colder at first")
hold(100, 100, 15, 1.4, "0.6 s", ["0 s", "1 s"], EQUATION, "no change at all")
hold(62, 25, 20, 1.48, "250 ms", ["0 ms", "100 ms", "2 s"], EQUATION, "a short shock")
hold(230, 80, 4, 1.4, "3 s", ["0 s", "60 s"], EQUATION, "long after: isothermal")
hold(230, 80, 4, 1, "3 s", ["0 s", "1 s"], EQUATION, "a heat ratio of 1: never warm")
hold(190, 100, 6, 1.3, "0.01 s", ["0 s", "0.001 s", "0.01 s"], EQUATION, "quick to lose its heat")

# ------------------------------------------------------- strokes of any size

g = file.group(mpmath_source(SCRIPT, "z = V^(γ−1) T/T_w is V^(γ−1) through the filter 1/(1 + ikωτ) for each harmonic k, by a Fourier series of 160 points"), "computed", 101)


def cycle(mean, amplitude, fill, gamma, w, second, energies, pressures, note, amount=160):
    """V = V_m − A X sin φ for a thousand square millimetres; literals of another program confirm it."""
    area, x = "1000 mm2", f"{amplitude} mm"
    given = {"area": area, "volume": f"{mean} cm3", "fill": f"{fill} bar", "ambient": AMBIENT, "heat_ratio": gamma, "omega_tau": w, "amplitude": x}
    p, vm, gm, w = si(given["fill"]) + si(AMBIENT), si(given["volume"]), si(gamma), si(w)
    share = si(area) * si(x) / vm
    m = gm - 1
    phase = [2 * mp.pi * j / amount for j in range(amount)]
    v = [1 - share * mp.sin(f) for f in phase]
    turn = [mp.expjpi(mpf(2) * j / amount) for j in range(amount)]
    power = [u**m for u in v]
    half = amount // 2
    filtered = {}
    for k in range(-half + 1, half):
        c = mp.fsum(power[j] * turn[(-k * j) % amount] for j in range(amount)) / amount
        filtered[k] = c / (1 + mp.mpc(0, 1) * k * w)
    z = [mp.fsum(filtered[k] * turn[(k * j) % amount] for k in filtered).real for j in range(amount)]
    quarters = [p * z[j] / v[j] ** gm for j in range(0, amount, amount // 4)]
    # The same from the integral over all that was: z = ∫ e^(−u/w)/w V(φ − u)^m du.
    for j, f in enumerate((0, mp.pi / 2, mp.pi, 3 * mp.pi / 2)):
        whole = mp.quad(lambda u: mp.exp(-u / w) / w * (1 - share * mp.sin(f - u)) ** m, mp.linspace(0, 2 * mp.pi, 25)) / (1 - mp.exp(-2 * mp.pi / w))
        close(p * whole / v[j * amount // 4] ** gm, quarters[j], mpf("1e-18"), "pressure")
    lost = 2 * mp.pi * p * vm * mp.fsum(z[j] / v[j] ** gm * share * mp.cos(phase[j]) for j in range(amount)) / amount
    k = si(area) ** 2 * p / vm
    small = mp.pi * si(x) ** 2 * k * (gm - 1) * w / (1 + w**2)
    for a, b in zip([*quarters, lost, small], [*pressures, *energies]):
        close(a, b, mpf("3e-12"), "another program")
    g.add("airspring.heat", given, {"pressure": to(quarters, "Pa(a)"), "energy_lost": to(lost, "J"), "energy_small": to(small, "J")},
          {"*": 1e-12, "energy_lost": 1e-10}, second, note)


for bore, volume, fill, w, energy in [
    (35, 150, 5.5, 0.1, "0.0005000885596562486"),
    (35, 150, 5.5, 1.0, "0.0025254472262640558"),
    (35, 150, 5.5, 10.0, "0.0005000885596562486"),
    (40, 80, 16, 0.3, "0.011615065028941891"),
    (40, 80, 16, 1.0, "0.021100701469244438"),
    (40, 80, 16, 30.0, "0.0014051521511150569"),
    (35, 150, 5.5, 0.8451542547285166, "0.0024901245464309637"),
]:
    area = mp.pi * si(f"{bore} mm") ** 2 / 4
    given = {"area": to(area, "mm2", 17), "volume": f"{volume} cm3", "fill": f"{fill} bar", "ambient": AMBIENT, "heat_ratio": 1.4, "omega_tau": w, "amplitude": "1 mm"}
    k = area**2 * (si(given["fill"]) + si(AMBIENT)) / si(given["volume"])
    lost = mp.pi * mpf("1e-6") * k * mpf("0.4") * si(w) / (1 + si(w) ** 2)
    close(lost, energy, mpf("1e-14"), "energy per cycle")
    g.add("airspring.heat", given, {"energy_small": to(lost, "J")}, 1e-12,
          "agrees to 15 digits with a separate program (mpmath, 40 digits)", "what a small stroke of 1 mm loses in a cycle, π X² times the loss rate")

SEPARATE = ("pressure from the integral over the past, by quadrature; all agree to 12 digits with a separate program, "
            "exact quadrature in 40 digits that an integration of the differential equation confirmed")
for mean, amplitude, fill, w, pressures, energies, note in [
    (170, 60, 7, 0.2, ("822321.9125248212", "1248488.718850345", "778654.283205187", "589865.4522272613"), ("4.51491173263504", "4.1008019182335875"), "a fork: pressure at a quarter of a cycle each"),
    (170, 60, 7, 1.0, ("853651.8461988119", "1354464.027117281", "739105.8846073826", "557617.9155476575"), ("11.574423483021503", "10.662084987407328"), "a fork: pressure at a quarter of a cycle each"),
    (170, 60, 7, 5.0, ("817249.3292878007", "1454321.7876404668", "773134.1877606511", "523627.5668326193"), ("4.4338664556358625", "4.1008019182335875"), "a fork: pressure at a quarter of a cycle each"),
    (75, 30, 20, 0.5, ("2227041.481512948", "3668369.303676328", "1954715.675579284", "1463893.211699475"), ("14.227793073361058", "12.674893790984779"), "a shock: pressure at a quarter of a cycle each"),
    (75, 30, 20, 1.0, ("2255355.566625534", "3893051.110497836", "1913654.6773618555", "1403353.112315691"), ("17.636960370098574", "15.843617238730973"), "a shock: pressure at a quarter of a cycle each"),
    (75, 30, 20, 20.0, ("2097331.787120062", "4251293.782486424", "2063184.7404586207", "1299305.1513153182"), ("1.7495948459502868", "1.5804106971302716"), "a shock: pressure at a quarter of a cycle each"),
]:
    cycle(mean, amplitude, fill, 1.4, w, SEPARATE, energies, pressures, note)

# -------------------------------------------------------------------------- ramps

g = file.group(mpmath_source(SCRIPT, "y = p V^γ = y₀ e^(−t/τ) + (p₀ V₀/τ) ∫ e^(−(t−s)/τ) V(s)^(γ−1) ds, the volume falling evenly over the ramp and then held"), "computed", 101)


def ramp(v, to_v, fill, gamma, tau, over, after, literals, second, note):
    given = {"volume": f"{v} cm3", "to_volume": f"{to_v} cm3", "fill": f"{fill} bar", "ambient": AMBIENT, "heat_ratio": gamma, "time_constant": tau,
             "ramp": over, "after": after}
    p, v0, v1, gm, t0, span = si(given["fill"]) + si(AMBIENT), si(given["volume"]), si(given["to_volume"]), si(gamma), si(tau), si(over)
    volume = lambda t: v0 + (v1 - v0) * min(t / span, mpf(1))  # noqa: E731

    def pressure(t):
        end = min(t, span)
        points = mp.linspace(0, end, 2 + int(end / t0 * 4)) if end else [0, 0]
        y = p * v0**gm * mp.exp(-t / t0) + p * v0 / t0 * mp.quad(lambda s: mp.exp((s - t) / t0) * volume(s) ** (gm - 1), points)
        if t > span:
            y += p * v0 * v1 ** (gm - 1) * (1 - mp.exp((span - t) / t0))
        return y / volume(t) ** gm

    got = [pressure(si(t)) for t in after]
    for t in after[1:]:  # the differential equation it solves
        x = si(t)
        if abs(x - span) > mpf("1e-9"):
            slope = mp.diff(volume, x) if x < span else mpf(0)
            at = got[after.index(t)]
            close(mp.diff(pressure, x, h=mpf("1e-12")), -gm * at / volume(x) * slope - (at - p * v0 / volume(x)) / t0, mpf("1e-9"), "rate of pressure")
    for a, b in zip(got[1:], literals):
        close(a, b, mpf("1e-14"), "another program")
    g.add("airspring.hold", given, {"pressure": to(got, "Pa(a)")}, 1e-12, second, note)


SEPARATE = "put into the differential equation; agrees to 14 digits with a separate program (exact quadrature in 40 digits, and an integration of the equation)"
for v, to_v, fill, tau, over, after, literals, note in [
    (210, 120, 5.5, "1.5 s", "0.05 s", ["0 s", "0.025 s", "0.05 s", "1.55 s", "7.55 s"],
     ("912229.4814855681", "1421322.5077355958", "1243378.195083432", "1141715.507399666"), "a fork, fast against its time constant"),
    (210, 120, 5.5, "1.5 s", "1 s", ["0 s", "0.5 s", "1 s", "2.5 s", "8.5 s"],
     ("900636.8649287", "1352410.5717803487", "1218026.9105941737", "1141251.182427595"), "a fork, neither fast nor slow"),
    (100, 45, 15, "0.6 s", "0.03 s", ["0 s", "0.015 s", "0.03 s", "0.63 s", "3.03 s"],
     ("2508284.281400517", "4867237.124627442", "4039957.482048264", "3567318.201381475"), "a shock, fast against its time constant"),
    (100, 45, 15, "0.6 s", "5 s", ["0 s", "2.5 s", "5 s", "5.6 s", "8 s"],
     ("2284292.0305444635", "3752066.593050825", "3629709.1700809975", "3559804.24144477"), "a shock, slow"),
]:
    ramp(v, to_v, fill, 1.4, tau, over, after, literals, SEPARATE, note + ": half-way, at the end of the ramp, one and five time constants later")

# -------------------------------------------------------------------- refusals

g = file.group(RULES, "definition")
g.refuse_each("airspring.polytropic", change("15 bar(a)", "100 cm3", "40 cm3", 1.3), [
    ({"pressure": "15 bar"}, ["pressure"], "gauge: the pressure of a gas law is absolute"), ({"pressure": "0 bar(a)"}, ["pressure"], "zero"),
    ({"pressure": None}, ["pressure"], "missing"), ({"volume": "0 cm3"}, ["volume"], "zero"), ({"volume": "-100 cm3"}, ["volume"], "negative"),
    ({"volume": "100"}, ["volume"], "missing unit"), ({"to_volume": "0 cm3"}, ["to_volume"], "zero"), ({"to_volume": "NaN cm3"}, ["to_volume"], "not a number"),
    ({"exponent": 0}, ["exponent"], "zero"), ({"exponent": -1}, ["exponent"], "negative"), ({"exponent": "fast"}, ["exponent"], "no number"),
    ({"volume": "0 cm3", "to_volume": "-1 cm3", "exponent": 0}, ["volume", "to_volume", "exponent"], "three bad fields, all named"),
])
g.refuse_each("airspring.heat", {"area": "960 mm2", "volume": "150 cm3", "fill": "5.5 bar", "ambient": AMBIENT, "heat_ratio": 1.4, "omega_tau": 1}, [
    ({"area": "0 mm2"}, ["area"], "zero"), ({"area": "35 mm"}, ["area"], "a length is no area"), ({"volume": "-150 cm3"}, ["volume"], "negative"),
    ({"fill": "5.5 bar(a)"}, ["fill"], "a fill is read on a gauge"), ({"ambient": None}, ["ambient"], "missing"),
    ({"heat_ratio": 0.9}, ["heat_ratio"], "below 1: no gas has it"), ({"heat_ratio": None}, ["heat_ratio"], "missing"),
    ({"omega_tau": -1}, ["omega_tau"], "negative"),
])
g.refuse_each("airspring.hold", {"volume": "210 cm3", "to_volume": "120 cm3", "fill": "5.5 bar", "ambient": AMBIENT, "heat_ratio": 1.4,
                                 "time_constant": "1.5 s", "after": ["1 s"]}, [
    ({"volume": "0 cm3"}, ["volume"], "zero"), ({"to_volume": "-120 cm3"}, ["to_volume"], "negative"), ({"to_volume": None}, ["to_volume"], "missing"),
    ({"time_constant": "0 s"}, ["time_constant"], "zero"), ({"time_constant": "1.5"}, ["time_constant"], "missing unit"),
    ({"heat_ratio": 0.5}, ["heat_ratio"], "below 1: no gas has it"), ({"after": ["-1 s"]}, ["after"], "before it began"), ({"after": ["1 m"]}, ["after"], "a length is no time"),
])

g = file.group(RULES, "definition", 401)
g.refuse_each("airspring.heat", {"area": "1000 mm2", "volume": "170 cm3", "fill": "7 bar", "ambient": AMBIENT, "heat_ratio": 1.4, "omega_tau": 1, "amplitude": "60 mm"}, [
    ({"amplitude": "0 mm"}, ["amplitude"], "no stroke"), ({"amplitude": "170 mm"}, ["amplitude"], "a stroke that leaves no volume"),
    ({"amplitude": "60 cm3"}, ["amplitude"], "a volume is no length"),
])
g.refuse_each("airspring.hold", {"volume": "210 cm3", "to_volume": "120 cm3", "fill": "5.5 bar", "ambient": AMBIENT, "heat_ratio": 1.4,
                                 "time_constant": "1.5 s", "ramp": "1 s", "after": ["1 s"]}, [
    ({"ramp": "0 s"}, ["ramp"], "at once is no ramp: leave it out"), ({"ramp": "-1 s", "after": ["-1 s"]}, ["ramp", "after"], "both before it began"),
])

file.write()
