"""Writes data/cases/air-weather.json: the atmosphere, and a fill elsewhere.

Troposphere of the U.S. Standard Atmosphere 1976, the same layer as in ICAO Doc
7488 and ISO 2533: T = 288.15 K − 0.0065 K/m · H, p = 101325 Pa (T/288.15 K)^e
with H geopotential and e = g₀M/(R*·L), R* = 8.31432 J/(mol K) and
M = 0.0289644 kg/mol as that standard has them. A sealed rigid chamber keeps
p/T. See casefile.py for how to run it.
"""
from mpmath import mpf

from casefile import ATM, File, G0, RULES, close, digits, mpmath_source, si, to

file = File("weather and altitude")
SCRIPT = "air_weather.py"
LAPSE, T0 = mpf("0.0065"), mpf("288.15")
EXPONENT = G0 * mpf("0.0289644") / (mpf("8.31432") * LAPSE)
EARTH = mpf(6356766)  # m, for geometric altitudes


def atmosphere(h):
    t = T0 - LAPSE * h
    return ATM * (t / T0) ** EXPONENT, t


# ------------------------------------------------------------------ atmosphere

STANDARD = "U.S. Standard Atmosphere, 1976 (NOAA/NASA/USAF); the same layer as in ICAO Doc 7488 and ISO 2533"
g = file.group({"title": STANDARD, "year": 1976,
                "where": "geopotential-altitude table; pressures seen in a public tabulation, of six figures, and in the unit test of a public meteorology program, of eleven; the report was not opened"},
               "published", 1)
RECOMPUTED = "recomputed at 50 digits; agrees to 1e-15 with fluids 1.0.22"
for h, p in [(0, "101325"), (500, "95460.8"), (1000, "89874.6"), (1500, "84556.0"), (2000, "79495.2"), (2500, "74682.5"),
             (3000, "70108.5"), (3500, "65764.1"), (4000, "61640.2"), (4500, "57728.3"), (5000, "54019.9")]:
    pressure, t = atmosphere(h)
    half = "0.5" if h == 0 else "0.05"
    assert abs(pressure - mpf(p)) <= mpf(half)
    printed = f"{float(t):.2f}"
    assert abs(t - mpf(printed)) < mpf("1e-12")
    g.add("airspring.atmosphere", {"altitude": f"{h} m"}, {"pressure": f"{p} Pa(a)", "temperature": f"{printed} K"},
          {"pressure": f"{half} Pa(a)", "temperature": "0.005 K"}, RECOMPUTED)
g = file.group({"title": "U.S. Standard Atmosphere, 1976", "year": 1976,
                "where": "Table I (geometric altitude); seen in the tests of poliastro, test_coesa76.py; the report was not opened", "url": "https://github.com/poliastro/poliastro"},
               "published", 51)
for z, temperature, p in [(500, "284.900", "95461"), (1000, "281.651", "89876")]:
    h = EARTH * z / (EARTH + z)
    pressure, t = atmosphere(h)
    half = "0.0005"
    assert abs(pressure - mpf(p)) <= mpf("0.5") and abs(t - mpf(temperature)) <= mpf(half), (z, t, pressure)
    g.add("airspring.atmosphere", {"altitude": to(h, "m")}, {"pressure": f"{p} Pa(a)", "temperature": f"{temperature} K"},
          {"pressure": "0.5 Pa(a)", "temperature": f"{half} K"}, "recomputed at 50 digits",
          f"printed for a geometric altitude of {z} m, which is this geopotential altitude with a radius of 6356766 m")
g = file.group(mpmath_source(SCRIPT, "constants of the 1976 standard"), "computed", 101)
FLUIDS = "agrees to 1e-15 with fluids 1.0.22"
for altitude in [f"{h} m" for h in range(-500, 5001, 500)] + ["200 m", "5280 ft", "8848 m", "-430 m"]:
    p, t = atmosphere(si(altitude))
    g.add("airspring.atmosphere", {"altitude": altitude}, {"pressure": to(p, "Pa(a)"), "temperature": to(t, "K")}, 1e-12, FLUIDS)

# ------------------------------------------------------------------ conditions

g = file.group(mpmath_source(SCRIPT, "(g₁ + p₁) T₂/T₁ − p₂ with both ambient pressures from the atmosphere"), "computed", 1)
AMBIENTS = "agrees to 1e-12 of the absolute pressures with both ambients from fluids 1.0.22"
SEPARATE = "agrees to 14 digits with a separate program (mpmath, 40 digits)"


def moved(fill, t1, h1, t2, h2, unit="bar", second=AMBIENTS, note="", tolerance=1e-12):
    (p1, _), (p2, _) = atmosphere(si(h1)), atmosphere(si(h2))
    got = (si(fill) + p1) * si(t2) / si(t1) - p2
    back = (got + p2) * si(t1) / si(t2) - p1
    close(back, si(fill), mpf("1e-40"), "there and back")
    g.add("airspring.conditions", {"fill": fill, "from": {"temperature": t1, "altitude": h1}, "to": {"temperature": t2, "altitude": h2}},
          {"fill": to(got, unit)}, tolerance, second, note)


moved("5.5 bar", "20 °C", "0 m", "0 °C", "0 m", second=SEPARATE, note="a fork filled indoors, ridden in the cold")
moved("5.5 bar", "20 °C", "0 m", "0 °C", "2000 m", second=SEPARATE, note="colder and higher: the two partly cancel")
moved("4 bar", "15 °C", "500 m", "40 °C", "500 m", second=SEPARATE, note="a hot day")
moved("16 bar", "20 °C", "0 m", "0 °C", "0 m", second=SEPARATE, note="a shock in the cold")
moved("16 bar", "20 °C", "200 m", "-10 °C", "3000 m", second=SEPARATE, note="a winter mountain")
moved("5.5 bar", "20 °C", "0 m", "20 °C", "2500 m", second=SEPARATE, note="altitude alone")
moved("80 psi", "68 °F", "0 ft", "100 °F", "8000 ft", "psi", note="customary units")
moved("80 psi", "293.15 K", "0 m", "20 °C", "0 m", "psi", "exact", "the same place and weather, one in kelvin")
moved("0.2 bar", "20 °C", "0 m", "-20 °C", "0 m", note="so little fill that the cold takes most of it", tolerance=1e-11)
moved("300 psi", "35 °C", "-400 m", "5 °C", "2100 m", "psi", note="from below sea level up")

# -------------------------------------------------------------------- refusals

g = file.group(RULES, "definition")
g.refuse_each("airspring.atmosphere", {"altitude": "1000 m"}, [
    ({"altitude": None, "height": "1000 m"}, ["height"], "no such field"), ({"altitude": "1000"}, ["altitude"], "missing unit"),
    ({"altitude": 1000}, ["altitude"], "a bare number"), ({"altitude": "NaN m"}, ["altitude"], "not a number"),
    ({"altitude": "20000 m"}, ["altitude"], "above the troposphere"), ({"altitude": "-20000 m"}, ["altitude"], "far below any ground"),
])
GOOD = {"fill": "5.5 bar", "from": {"temperature": "20 °C", "altitude": "0 m"}, "to": {"temperature": "0 °C", "altitude": "2000 m"}}
g.refuse_each("airspring.conditions", GOOD, [
    ({"fill": "5.5"}, ["fill"], "missing unit"), ({"fill": "5.5 bar(a)"}, ["fill"], "a fill is read on a gauge"), ({"fill": "NaN bar"}, ["fill"], "not a number"),
    ({"from": {"temperature": "0 K", "altitude": "0 m"}}, ["temperature"], "absolute zero"),
    ({"from": {"temperature": "20", "altitude": "0 m"}}, ["temperature"], "missing unit"),
    ({"from": {"altitude": "0 m"}}, ["temperature"], "missing"),
    ({"to": {"temperature": "-300 °C", "altitude": "0 m"}}, ["temperature"], "below absolute zero"),
    ({"to": {"temperature": "0 °C", "altitude": "30 km"}}, ["altitude"], "no such unit here"),
    ({"to": {"temperature": "0 °C", "altitude": "30000 m"}}, ["altitude"], "above the troposphere"),
    ({"fill": "-3 bar"}, ["fill"], "below vacuum"),
])

file.write()
