"""A ride by SciPy's DOP853, to 1e-12, from equations that are written down here
once more: apt-get install python3-scipy.

    /usr/bin/python3 sag/motion/testdata/dop853.py > sag/motion/testdata/dop853.json
    /usr/bin/python3 sag/motion/testdata/dop853.py check

With "check" it holds the file against what it computes, to 1e-10, and exits with
1 where they differ.

The bike is invented. Its springs are linear behind constant ratios with stops at
both ends, its dampers linear, its tyres lift off. It rolls at a speed from its rest
over a bump of half a sine, once so fast that both wheels leave the ground behind
it. The rows are, at each time, heave, pitch, the axles' heights, and the work of
each damper. The rides differ in the bump, the speed, the mass and the share of the
damping that the first has.
"""
import json
import math
import pathlib
import sys

import numpy
from scipy.integrate import DOP853

G = 9.80665
gyration, ahead, behind = 0.42, 0.68, 0.52
first = 0.6
arms = (ahead, -behind)
jobs = [  # mass, share of the damping, speed, height and length of the bump
    (82.0, 1.0, 6.0, 0.08, 1.2), (82.0, 0.3, 6.0, 0.08, 1.2), (82.0, 2.0, 6.0, 0.08, 1.2), (60.0, 1.0, 3.0, 0.12, 1.0), (105.0, 1.0, 8.0, 0.05, 0.8),
    (82.0, 0.0, 4.0, 0.02, 2.0), (70.0, 0.7, 5.0, -0.1, 1.5), (95.0, 1.5, 9.0, 0.15, 2.5), (82.0, 1.0, 2.0, 0.2, 1.0), (75.0, 0.5, 12.0, 0.03, 0.4),
]


def ride(mass, share, speed, height, length):
    inertia = mass * gyration**2
    wheel = [  # rate, preload force, travel, stops, damping (all at the wheel), unsprung mass, tyre
        dict(k=7.0e3, f=60.0, w=0.160, stop=150e3, c=share * 420.0, m=3.2, tyre=90e3),
        dict(k=9.5e3, f=90.0, w=0.150, stop=170e3, c=share * 560.0, m=4.1, tyre=110e3),
    ]

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

    times = [0.1 * i for i in range(1, 13)]
    y, t, rows, lifted = numpy.array(rest), 0.0, [], 0
    # The steps end where the ground has a kink.
    kinks = [(first + d + b) / speed for d in (0, length) for b in (0, ahead + behind)]
    for stop in sorted(set(times + [k for k in kinks if k < times[-1]])):
        run = DOP853(slope, t, y, stop, rtol=1e-12, atol=1e-14, max_step=2e-4)
        while run.status == "running":
            run.step()
            lifted += forces(run.t, run.y)[0][2] == 0
        assert run.status == "finished"
        t, y = stop, run.y
        if stop in times:
            rows.append([stop] + [float(y[i]) for i in (0, 1, 2, 3, 8, 9)])
    return dict(mass=mass, share=share, speed=speed, height=height, length=length, rest=rest, rows=rows), lifted


rides = [ride(*job) for job in jobs]
assert rides[0][1] > 10, "the front wheel lifts off"
answer = dict(note=__doc__.split("\n\n")[3].replace("\n", " "), rides=[one for one, _ in rides])
if sys.argv[1:] == ["check"]:
    kept = json.loads(pathlib.Path(__file__).with_suffix(".json").read_text())["rides"]
    if [one["mass"] for one in kept] != [one["mass"] for one in answer["rides"]]:
        sys.exit("dop853.json has other rides")
    # Places in m, works in J.
    off = max(
        abs(a - b) / (1 if i < 5 else 1000)
        for one, two in zip(kept, answer["rides"])
        for p, q in zip(one["rows"] + [one["rest"]], two["rows"] + [two["rest"]])
        for i, (a, b) in enumerate(zip(p, q)))
    if not off < 1e-10:
        sys.exit(f"dop853.json is off by {off}")
    print(f"SciPy's DOP853: {len(rides)} rides of {len(kept[0]['rows'])} times agree to {off:.1g}")
else:
    json.dump(answer, sys.stdout, indent=1)
    print()
