"""Writes data/cases/worked-statics.json: supports, levers and struts that were read in
books, as suspensions of one arm, and the loads on the wheels of vehicles.

A body that a pin and one other force hold up is an arm on a pivot with a shock: the
load, which books have downward, stands at the axle, so the drawing is turned upside
down. Loads that are several stand as one in their common centre, which leaves all
other forces as they are. Moments about the pin give the shock's force, the sum of
forces the pin's; statics.py, which draws bodies free, is held against them. See
worked.py, and casefile.py for how to run it.
"""
from mpmath import mp, mpf

from worked import COLLEGE, STATICS, UNIVERSITY, book, companion, half, holds
from casefile import File, G0, close, num, si, to
from mechanisms import Mechanism
from statics import forces

file = File("statics in books")


def arm(group, load, at, push, along, expect, tolerance=None, note="", unit="m"):
    """An arm about a pin at the origin, at rest under a load up at a place, held by a force
    at the place push in the direction along; places are numbers of the unit, or SI."""
    w, scale = si(load), si(f"1 {unit}")
    (ax, ay), (px, py), (ux, uy) = ([mpf(str(v)) if not isinstance(v, mpf) else v for v in p] for p in (at, push, along))
    size = mp.hypot(ux, uy)
    ux, uy = ux / size, uy / size
    shock = -w * ax / (px * uy - py * ux)
    jx, jy = -shock * ux, -w - shock * uy
    reach = mp.hypot(ax, ay) + mp.hypot(px, py)  # where the other eye of the shock is makes no difference
    place = lambda x, y: to([x * scale, y * scale], unit, 17)  # noqa: E731
    given = {"mechanism": {"points": {"pin": place(mpf(0), mpf(0)), "load": place(ax, ay), "eye": place(px, py), "ground": place(px - reach * ux, py - reach * uy)},
                           "bodies": {"frame": ["pin", "ground"], "arm": ["pin", "load", "eye"]}, "axle": "load", "shock": ["eye", "ground"],
                           "stroke": to(reach * scale / 1000, unit, 17)},
             "wheel_force": load, "joint": "pin", "at": ["0 mm"]}
    free, on = forces(Mechanism(given["mechanism"]), mpf(0), (mpf(0), w))
    for have, want in ((free, shock), (on["arm", "pin"][0], jx), (on["arm", "pin"][1], jy)):
        assert abs(have - want) < mpf("1e-14") * w, "bodies drawn free"
    got = {"shock_force": [shock], "joint_force": [mp.hypot(jx, jy)], "joint_angle": [mp.atan2(jy, jx)]}
    holds(group, "linkage.joints", given, {k: [v] for k, v in expect.items()}, got, tolerance, note)
    ratio, half_unit = si(expect["shock_force"]) / w, (tolerance or {}).get("shock_force", half(expect["shock_force"]))
    holds(group, "linkage.mechanism", {"mechanism": given["mechanism"], "at": ["0 mm"]}, {"lever_ratio": [num(ratio)]}, {"lever_ratio": [shock / w]},
          {"lever_ratio": str(num(si(half_unit) / w, 3))}, note + " The lever ratio is the printed force over the load, by virtual work, and its tolerance half a unit of that force." if note else "")


TURNED = "Drawn upside down: printed is the angle with the other sign."


def polar(r, degrees):
    t = mp.radians(mpf(str(degrees)))
    return r * mp.cos(t), r * mp.sin(t)


# ------------------------------------------------------------ an arm in motion

g = book(file, companion("R. C. Hibbeler, A. Gupta, Engineering Mechanics: Statics and Dynamics", "notebook Chapter_16_Planar_Kinematics_of_a"), "example 16.5, p. 666")
x, y = polar(mpf(1), 30)
given = {"points": {"pin": ["0 m", "0 m"], "axle": ["-1 m", "0 m"], "eye": to([x, y], "m", 17), "ground": ["2 m", "0 m"]},
         "bodies": {"frame": ["pin", "ground"], "arm": ["pin", "axle", "eye"]}, "axle": "axle", "shock": ["eye", "ground"], "stroke": "10 mm"}
angle = lambda s: mp.acos((5 - (mp.sqrt(5 - 4 * mp.cos(mp.pi / 6)) + s) ** 2) / 4)  # noqa: E731
first, second = mp.diff(angle, 0), mp.diff(angle, 0, 2)
m = Mechanism(given)
close(m.ratio(mpf(0)), first, mpf("1e-14"), "lever ratio")
close(m.slope(mpf(0)), -second, mpf("1e-12"), "its slope")
holds(g, "linkage.mechanism", {"mechanism": given, "at": ["0 mm"]},
      {"lever_ratio": [num(mpf("0.62") / mpf("0.5"))], "lever_ratio_slope": [to(mpf("0.416") / mpf("0.25"), "1/m")]}, {"lever_ratio": [first], "lever_ratio_slope": [-second]},
      {"lever_ratio": "0.01", "lever_ratio_slope": "0.006 1/m"},
      "A cylinder from 2 m beside a pin to an arm of 1 m at 30° grows by 0.5 m/s: printed are 0.62 rad/s and −0.416 rad/s² of the arm. The axle stands for the arm's rate, a metre behind the pin. "
      "The tolerances are half a unit of the first, and of the second a unit and a half, as the companion works with a rounded length: −0.4151 is exact.")

# ------------------------------------------------------------- supports, levers

g = book(file, STATICS, "chapter 5, example Chapter_05-example-pin-and-roller")
arm(g, "250 lbf", (-6, 0), (-7, -3), (mp.sqrt(3) / 2, -mpf("0.5")), {"shock_force": "246.0 lbf", "joint_force": "248.0 lbf", "joint_angle": "-149.2 deg"},
    note="250 lbf at 4 ft from the pin and a couple of 500 ft·lbf are one force at 6 ft. The roller pushes at 60° from the vertical. " + TURNED, unit="ft")
g = book(file, STATICS, "chapter 6, example Chapter_06-example-toggle-clamp")
turn = mp.expj(-mp.pi / 6)  # makes the force on the handle vertical
spin = lambda x, y: ((mp.mpc(x, y) * turn).real, (mp.mpc(x, y) * turn).imag)  # noqa: E731
arm(g, "1000 N", spin(16, 40), spin(7, 24), spin(7, -24), {"shock_force": "2.52 kN"},
    note="Printed is 2.52 times the force on the handle, along a link of 7 to 24. The drawing is turned by 30°, so that the force on the handle is vertical; lengths are in centimetres.", unit="cm")
g = book(file, UNIVERSITY, "volume 1, module m58341, Examples of Static Equilibrium, worked example 3")
arm(g, "400.0 N", polar(mpf("2.5"), -53), polar(mpf(5), -53), (-1, 0), {"shock_force": "150.7 N", "joint_force": "427.4 N", "joint_angle": "-69.3 deg"},
    {"joint_force": "0.06 N", "joint_angle": "0.06 deg"}, "A ladder against a smooth wall. " + TURNED + " The book rounds on its way, 427.45 N and 69.35° are exact: hence the tolerances.")
g = book(file, UNIVERSITY, "volume 1, module m58341, worked example 4")
arm(g, "400.0 N", ("0.5", 0), (0, -2), (-1, 0), {"shock_force": "100.0 N"},
    note="A door on two hinges: printed is the force across of either. What each carries of the weight is not determined, and the book assumes a half; here the pin carries all of it.")
g = book(file, UNIVERSITY, "volume 1, module m58341, exercise fs-id1163709749614 and its printed solution")
arm(g, "1000 N", ("2.8", 0), (4, 0), (-4, -3), {"shock_force": "1167 N", "joint_force": "980 N"},
    note="A strut of 4 m and 600 N with 400 N at its end, on a cable to a point 3 m above the hinge; the shock pushes where the cable pulls.")
g = book(file, UNIVERSITY, "volume 1, module m58341, worked example 2")
arm(g, "50.0 lbf", (13, 0), ("1.5", 0), (0, -1), {"shock_force": "433.3 lbf", "joint_force": "383.3 lbf"}, note="A forearm: the muscle's tension, and the force in the elbow.", unit="in")
g = book(file, UNIVERSITY, "volume 1, module m58341, worked example 1")
arm(g, to(mpf("0.275") * mpf("9.8"), "N"), (-mpf(9500) / 275, 0), (30, 0), (0, 1), {"shock_force": to(mpf("0.317") * mpf("9.8"), "N"), "joint_force": "5.8 N"},
    {"shock_force": to(mpf("0.0005") * mpf("9.8"), "N")}, "A balance: 317 g are printed as the mass on the right, and the tolerance is half a gram; g is 9.80 m/s².", "cm")
g = book(file, COLLEGE, "module m42175, Forces and Torques in Muscles and Joints, worked example 1 and problem fs-id1169738208828")
arm(g, to(mpf("6.5") * mpf("9.8"), "N"), (mpf("1.92") / mpf("6.5"), 0), ("0.04", 0), (0, -1), {"shock_force": "470 N", "joint_force": "407 N"},
    note="A forearm of 2.50 kg with 4.00 kg in the hand, g 9.80 m/s²")
g = book(file, COLLEGE, "module m42175, worked example 2")
ux, uy = polar(mpf(1), 29)
arm(g, "833 N", (mpf("34.25") / 85, 0), (-mpf("0.08") * uy, -mpf("0.08") * ux), (-ux, uy), {"shock_force": "4.20 kN", "joint_force": "4.66 kN", "joint_angle": "-38.0 deg"},
    note="A back that lifts 30.0 kg, with 55.0 kg of its own, g 9.80 m/s²; the muscles' line is 8.0 cm from the pivot, at 29.0°. " + TURNED)
g = book(file, COLLEGE, "module m42173, Applications of Statics, worked example 1")
arm(g, "49.0 N", ("0.6", 0), ("0.9", 0), (0, -1), {"shock_force": "32.7 N", "joint_force": "16.3 N"}, note="A pole of 5.00 kg in two hands, g 9.80 m/s²")
g = book(file, UNIVERSITY, "volume 1, module m58341, exercise fs-id1163709650498 and its printed solution")
arm(g, "1176 N", ("2.375", 0), (6, 0), (0, -1), {"shock_force": "465.5 N", "joint_force": "710.5 N"},
    note="A scaffold of 70.0 kg and 6.00 m with 50 kg at 1.50 m from an end. Printed are 466.0 and 711.0 N, whose last digit is not significant: with g 9.80 m/s² the values expected here are exact.")
g = book(file, UNIVERSITY, "volume 1, module m58341, exercise fs-id1163709693045 and its printed solution")
arm(g, "1332.8 N", (2, 0), (6, 0), (0, -1), {"shock_force": "444.3 N", "joint_force": "888.5 N"},
    note="A scaffold of 40.0 kg and 6.0 m with a painter of 80.0 kg at 1.0 m and the 16.0 kg of equipment that the book finds at 4.5 m; g 9.80 m/s²")
g = book(file, UNIVERSITY, "volume 1, module m58341, exercise fs-id1163709758086 and its printed solution")
slope = mp.sqrt(8) / 3
arm(g, "784 N", (mpf("2.875") / 3, -mpf("2.875") * slope), (2, -6 * slope), (-1, 0), {"shock_force": "132.8 N"},
    note="A ladder of 6.00 m, its foot 2.00 m from a smooth wall, its 10.0 kg at 2 m and 70.0 kg at 3 m along it; g 9.80 m/s². Printed is the friction at its foot, as large as the force of the wall.")
g = book(file, COLLEGE, "module m42173, check fs-id1892207 and its printed solution")
arm(g, "9800 N", (5, 0), (20, 0), (0, -1), {"shock_force": "2450 N", "joint_force": "7350 N"}, note="A car of 1000 kg on a bridge of 20 m, 5 m from its left end, g 9.8 m/s²")

# ------------------------------------------------------------- loads on wheels

g = book(file, UNIVERSITY, "volume 1, module m58340, Conditions for Static Equilibrium, worked example 1")
car = {"rider_mass": "900 kg", "bike_mass": "600 kg", "wheelbase": "2.5 m", "mass_centre_behind_front_axle": "1.2 m"}
holds(g, "sag.loads", car, {"rear_share": num(mpf("0.48"))}, {"rear_share": si("1.2 m") / si("2.5 m")}, {"rear_share": 1e-12},
      "A car with 52 % on its front wheels, whose mass centre is 1.3 m before the rear axle, both exact as printed. The masses are invented and have no effect.")
HANDBOOK = dict(title="FAA-H-8083-1, Weight and Balance Handbook", read="seen in flight-study.com, Electronic Calculator, text and figure 2; the handbook was not opened",
                url="https://flight-study.com/electronic-calculator/")
g = book(file, HANDBOOK, "the mass centre of an aeroplane with a nose wheel")
plane = {"bike_mass": "2000 lb", "front_scale": "340 lb", "rear_scale": "1666 lb"}
holds(g, "sag.loads", plane, {"rear_share": num(1 - mpf("13.2") / 78, 15)}, {"rear_share": mpf(1666) / 2006}, {"rear_share": str(num(mpf("0.05") / 78, 3))},
      "Printed is the mass centre 13.2 in before the main wheels, with 78 in between these and the nose wheel; the tolerance is half a unit of that. bike_mass is invented and has no effect.")

BEVAN = companion("T. Bevan, The Theory of Machines", "notebook ch8")
g = book(file, BEVAN, "chapter 8, example 6, p. 264")
STIFF = {"curve": {"constant": 1, "travel": "100 mm"}, "law": {"linear": {"rate": "100 N/mm", "travel": "100 mm", "preload": "1 m"}}}
for grip, ratio in (("0.1", "0.792"), ("0.6", "1.21")):
    given = {"front": STIFF, "rear": STIFF, "rider_mass": "80 kg", "bike_mass": "20 kg", "wheelbase": "9.5 ft", "mass_centre_behind_front_axle": "5.5 ft",
             "mass_centre_height": "2 ft", "wheel_radius": "1 ft", "front_braking": float(mpf(grip) / 2), "rear_braking": float(mpf(grip) / 2)}
    over = (4 + 2 * mpf(grip)) / (mpf("9.5") - 4 - 2 * mpf(grip))
    limit = mpf("0.0005" if grip == "0.1" else "0.005") / (1 + mpf(ratio)) ** 2
    holds(g, "sag.whole", given, {"rear_share": num(1 / (1 + mpf(ratio)))}, {"rear_share": 1 / (1 + over)}, {"rear_share": str(num(limit, 3))},
          f"A car braked on all wheels at the limit of a grip of {grip}: {ratio} is printed as the load in front over that behind, and the tolerance is half a unit of it. "
          "Springs preloaded so hard that they don't move stand for none; masses and radius are invented and have no effect.")

file.write()
