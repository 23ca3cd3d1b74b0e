"""Landings and stances by SciPy's DOP853, from equations that are written down
here once more: apt-get install python3-scipy.

    /usr/bin/python3 sag/testdata/settling.py > sag/testdata/settling.json
    /usr/bin/python3 sag/testdata/settling.py check

With "check" it holds the file against what it computes, to 1e-9 of each value,
and exits with 1 where they differ.

The bikes are invented. A spring is a coil, or gas in one chamber whose pressure
times its volume to a power is constant, against the pressure around it; the
wheel's travel is a parabola of the stroke. A landing is the mass of one end on
it, from touching the ground to the deepest travel. A stance is where the bike
comes to rest that creeps down its energy: each stroke moves as fast as the
energy falls along it, until nothing moves. The energy is that of both springs
and of the sprung mass's height above ground that both wheels stand on.
"""
import json
import math
import pathlib
import sys

import numpy
from scipy.integrate import solve_ivp
from scipy.optimize import minimize_scalar

G = 9.80665
AMBIENT = 101325.0


def coil(rate, preload, stroke):
    return dict(rate=rate, preload=preload, stroke=stroke)


def gas(bore, volume, fill, exponent, stroke):
    return dict(bore=bore, volume=volume, fill=fill, exponent=exponent, stroke=stroke)


def force(p, s):
    if "rate" in p:
        return p["rate"] * (s + p["preload"])
    area = math.pi / 4 * p["bore"] ** 2
    return area * ((p["fill"] + AMBIENT) * (p["volume"] / (p["volume"] - area * s)) ** p["exponent"] - AMBIENT)


def stroke_at(c, w):
    a, b = c
    return w / a if b == 0 else (math.sqrt(a * a + 4 * b * w) - a) / (2 * b)


def landing(job):
    p, (a, b), load, c = job["spring"], job["curve"], job["load"], job["damping"]
    full = a * p["stroke"] + b * p["stroke"] ** 2

    def wheel(w):
        s = stroke_at((a, b), w)
        return force(p, s) / (a + 2 * b * s)

    def slope(t, y):
        push = c * y[1]
        return [y[1], G - G / load * (wheel(y[0]) + push), push * y[1]]

    stops = lambda t, y: y[1]
    bottoms = lambda t, y: y[0] - full
    stops.terminal = bottoms.terminal = True
    stops.direction, bottoms.direction = -1, 1
    run = solve_ivp(slope, (0, 10), [0, math.sqrt(2 * G * job["height"]), 0], "DOP853", events=[stops, bottoms], dense_output=True, rtol=1e-13, atol=1e-14, max_step=1e-3)
    assert run.status == 1
    t, (w, v, work) = run.t[-1], run.y[:, -1]
    push = lambda t: wheel(run.sol(t)[0]) + c * run.sol(t)[1]
    grid = numpy.linspace(0, t, 401)
    best = max(range(401), key=lambda i: push(grid[i]))
    peak = minimize_scalar(lambda t: -push(t), bounds=(grid[max(best - 1, 0)], grid[min(best + 1, 400)]), method="bounded", options=dict(xatol=1e-10))
    hit = len(run.t_events[1]) > 0
    return dict(travel=w, time=t, force=wheel(w), peak=max(-peak.fun, push(0), push(t)), work=work, bottoms=hit, left=load / G * v * v / 2 if hit else 0.0)


def stance(job):
    masses = job["masses"]
    total = masses["rider"] + masses["bike"]
    sprung = total - masses["front"] - masses["rear"]
    base, rf, rr, angle = job["wheelbase"], job["front_radius"], job["rear_radius"], math.radians(job["head_angle"])
    a, b = job["curve"]
    centre = ((1 - job["rear_share"]) * total - masses["front"]) * base / sprung, job["height"]

    def high(sf, sr):  # for complex strokes too
        front = base - math.cos(angle) * sf, rf + math.sin(angle) * sf
        rear = rr + a * sr + b * sr**2
        dx, dy = front[0], front[1] - rear
        ground = numpy.arctan(dy / dx) - numpy.arcsin((rf - rr) / numpy.sqrt(dx * dx + dy * dy))
        return rr - numpy.sin(ground) * centre[0] + numpy.cos(ground) * (centre[1] - rear)

    def falls(t, s):
        tiny = 1e-30  # a complex step, which rounds nothing
        up = [high(s[0] + 1j * tiny, s[1]).imag / tiny, high(s[0], s[1] + 1j * tiny).imag / tiny]
        return [-(sprung * G * up[i] + force(p, s[i])) / 2e4 for i, p in enumerate((job["front"], job["rear"]))]

    run = solve_ivp(falls, (0, 800), [0.2 * job["front"]["stroke"], 0.2 * job["rear"]["stroke"]], "DOP853", rtol=1e-12, atol=1e-13, max_step=1.0)
    s = run.y[:, -1]
    assert run.status == 0 and max(map(abs, falls(0, s))) < 1e-12, falls(0, s)
    assert all(0 < s[i] < p["stroke"] for i, p in enumerate((job["front"], job["rear"]))), s
    return dict(front_stroke=s[0], rear_stroke=s[1])


landings = [
    dict(spring=p, curve=c, load=load, height=h, damping=d)
    for p, c in [(coil(80e3, 2e-3, 0.06), (2.9, -3.0)), (gas(0.045, 190e-6, 900e3, 1.4, 0.06), (2.4, 1.5))]
    for load, h, d in [(500, 0.05, 0), (450, 0.3, 400), (520, 0.6, 900), (480, 0.15, 1100), (600, 0.9, 100), (550, 1.6, 1200)]
]
stances = [
    dict(masses=dict(rider=rider, bike=17.0, front=2.5, rear=3.3), rear_share=share, wheelbase=1.22, height=high, front_radius=0.372, rear_radius=0.351,
         head_angle=64.0, front=front, rear=coil(79e3, 1e-3, 0.065), curve=(2.8, -2.5))
    for front in [coil(8.5e3, 2e-3, 0.16), gas(0.036, 190e-6, 210e3, 1.0, 0.16)]
    for rider, share, high in [(60, 0.55, 0.9), (80, 0.58, 1.1), (95, 0.6, 1.2), (80, 0.5, 1.1), (70, 0.62, 0.6), (90, 0.57, 1.4)]
]
answer = dict(note=__doc__.split("\n\n")[3].replace("\n", " "),
              landings=[dict(job=j, want=landing(j)) for j in landings], stances=[dict(job=j, want=stance(j)) for j in stances])
assert sum(one["want"]["bottoms"] for one in answer["landings"]) in range(2, 9)


def numbers(value):
    if isinstance(value, dict):
        return [n for key in sorted(value) for n in numbers(value[key])]
    if isinstance(value, (list, tuple)):
        return [n for part in value for n in numbers(part)]
    return [] if isinstance(value, str) else [float(value)]


if sys.argv[1:] == ["check"]:
    kept, now = (numbers(v) for v in (json.loads(pathlib.Path(__file__).with_suffix(".json").read_text()), answer))
    if len(kept) != len(now):
        sys.exit("settling.json has other cases")
    off = max(abs(a - b) / max(abs(b), 1e-6) for a, b in zip(kept, now))
    if not off < 1e-9:
        sys.exit(f"settling.json is off by {off}")
    print(f"SciPy's DOP853: {len(landings)} landings and {len(stances)} stances agree to {off:.1g}")
else:
    json.dump(answer, sys.stdout, indent=1, default=float)
    print()
