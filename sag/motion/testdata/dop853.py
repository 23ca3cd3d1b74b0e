"""A ride by SciPy's DOP853, to 1e-12, from equations that are written down here
once more: apt-get install python3-scipy.

    /usr/bin/python3 sag/motion/testdata/dop853.py > sag/motion/testdata/dop853.json
    /usr/bin/python3 sag/motion/testdata/dop853.py check

With "check" it holds the file against what it computes, to 1e-10, and exits with
1 where they differ.

The bike is invented. Its springs are linear behind constant ratios with stops at
both ends, its dampers linear, its tyres lift off. It rolls at 6 m/s from its rest
over a bump of half a sine, 80 mm high and 1.2 m long, so fast that both wheels
leave the ground behind it. The tables of the answer are, at each time, heave,
pitch, the axles' heights, and the work of each damper.
"""
import json
import math
import pathlib
import sys

import numpy
from scipy.integrate import DOP853

G = 9.80665
mass, inertia = 82.0, 82.0 * 0.42**2
ahead, behind = 0.68, 0.52
wheel = [  # rate, preload force, travel, stops, damping (all at the wheel), unsprung mass, tyre
    dict(k=7.0e3, f=60.0, w=0.160, stop=150e3, c=420.0, m=3.2, tyre=90e3),
    dict(k=9.5e3, f=90.0, w=0.150, stop=170e3, c=560.0, m=4.1, tyre=110e3),
]
speed, height, length, first = 6.0, 0.08, 1.2, 0.6
arms = (ahead, -behind)


def ground(x):
    return height * math.sin(math.pi * (x - first) / length) if first < x < first + length else 0.0


def forces(t, y):
    out = []
    for i, (p, arm) in enumerate(zip(wheel, arms)):
        body, vel = y[0] + arm * y[1], y[4] + arm * y[5]
        w, dw = y[2 + i] - body, y[6 + i] - vel
        spring = p["f"] + p["k"] * min(max(w, 0.0), p["w"]) + p["stop"] * (min(w, 0.0) + max(w - p["w"], 0.0))
        contact = max(0.0, p["tyre"] * (ground(speed * t - (0.0 if i == 0 else ahead + behind)) - y[2 + i]))
        out.append((spring, p["c"] * dw, contact, dw))
    return out


def slope(t, y):
    (sf, df, nf, vf), (sr, dr, nr, vr) = forces(t, y)
    return [
        y[4], y[5], y[6], y[7],
        (sf + df + sr + dr) / mass - G, (ahead * (sf + df) - behind * (sr + dr)) / inertia,
        (nf - sf - df) / wheel[0]["m"] - G, (nr - sr - dr) / wheel[1]["m"] - G,
        df * vf, dr * vr,
    ]


# The rest, from the statics alone.
load = [mass * G * behind / (ahead + behind), mass * G * ahead / (ahead + behind)]
axle = [-(n + p["m"] * G) / p["tyre"] for n, p in zip(load, wheel)]
w = [(n - p["f"]) / p["k"] for n, p in zip(load, wheel)]
at = [a - b for a, b in zip(axle, w)]
pitch = (at[0] - at[1]) / (ahead + behind)
rest = [at[0] - ahead * pitch, pitch, axle[0], axle[1], 0, 0, 0, 0, 0, 0]
assert max(abs(v) for v in slope(0, rest)) < 1e-9

times = [0.05 * i for i in range(1, 31)]
y, t, rows, lifted = numpy.array(rest), 0.0, [], 0
# The steps end where the ground has a kink.
kinks = [(first + d + b) / speed for d in (0, length) for b in (0, ahead + behind)]
for stop in sorted(set(times + kinks)):
    run = DOP853(slope, t, y, stop, rtol=1e-12, atol=1e-14, max_step=2e-4)
    while run.status == "running":
        run.step()
        lifted += forces(run.t, run.y)[0][2] == 0
    assert run.status == "finished"
    t, y = stop, run.y
    if stop in times:
        rows.append([stop] + [float(y[i]) for i in (0, 1, 2, 3, 8, 9)])
assert lifted > 10, "the front wheel lifts off"
answer = {"note": __doc__.split("\n\n")[3].replace("\n", " "), "rest": rest, "rows": rows}
if sys.argv[1:] == ["check"]:
    kept = json.loads(pathlib.Path(__file__).with_suffix(".json").read_text())
    if len(kept["rows"]) != len(rows):
        sys.exit("dop853.json has another number of rows")
    # Places in m, works in J.
    off = max(abs(a - b) / (1 if i < 5 else 1000) for p, q in zip(kept["rows"], rows) for i, (a, b) in enumerate(zip(p, q)))
    off = max([off] + [abs(a - b) for a, b in zip(kept["rest"], rest)])
    if not off < 1e-10:
        sys.exit(f"dop853.json is off by {off}")
    print(f"SciPy's DOP853: {len(rows)} times of a ride agree to {off:.1g}")
else:
    json.dump(answer, sys.stdout, indent=1)
    print()
