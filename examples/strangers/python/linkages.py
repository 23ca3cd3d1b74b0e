"""Suspensions by their pivots: what is refused, motion, forces, holes off their place."""

import math

from mpmath import matrix, mp, mpf

from mechanisms import FRAME, MOST_BODIES, MOST_POINTS, MOST_SLOTS, Locks, Mechanism, State, cross, minus
from reading import MISSING

LEAST_RATIO, GREATEST_RATIO = mpf("0.001"), mpf(1000)
FARTHEST = mpf("1e6")  # 1000 km, at which an instant centre is cut off


# What is refused.


def check_mechanism(given):
    points = given.points
    if points is not None and not 1 <= len(points) <= MOST_POINTS:
        given.refuse("points")
    if given.slots is not None and len(given.slots) > MOST_SLOTS:
        given.refuse("slots")
    if points is None and "points" not in given._document and given.bodies:
        given.refuse("bodies", MISSING)  # its names are no points
    named = points is not None and given.bodies is not None and check_bodies(given)
    if points is not None and given.shock and given.stroke is not None and given.right("shock", "stroke"):
        a, b = given.shock
        if a in points and b in points and good_places(given, a, b) and a != b:
            length = mp.hypot(*minus(points[a], points[b]))
            if 0 < length <= given.stroke:
                given.refuse("stroke")
    if named:
        check_axle(given)
        check_shock(given)
        for slot in given.slots or []:
            check_slot(given, slot)
    if given.clean():
        check_motion(given)


def good_places(given, *names):
    return all(given.right("points." + name) and None not in (given.points[name] or [None]) for name in names)


def check_bodies(given):
    """Whether bodies name known points; refuses bodies that do not move in one way."""
    bodies, ok = given.bodies, given.right("bodies")
    if not ok:
        return False
    for name, points in bodies.items():
        for i, point in enumerate(points):
            if point not in given.points or point in points[:i]:
                given.refuse(f"bodies.{name}[{i}]")
                return False
    moving = [b for b in bodies if b != FRAME]
    if FRAME not in bodies or not 1 <= len(moving) <= MOST_BODIES:
        given.refuse("bodies")
        return False
    owners = {p: [b for b in bodies if p in bodies[b]] for p in given.points}
    slots = given.slots or []
    if not all(s is not None and s.clean() for s in slots):
        return True
    joined, before = {FRAME}, 0
    while len(joined) > before:
        before = len(joined)
        links = list(owners.values())
        links += [owners.get(s.point, []) + [s.on] for s in slots]
        for link in links:
            if joined.intersection(link):
                joined.update(b for b in link if b in bodies)
    pivots = sum(max(0, len(own) - 1) for own in owners.values())
    if len(joined) < len(bodies) or 3 * len(moving) - 2 * pivots - len(slots) != 1:
        given.refuse("bodies")
    return True


def owners_of(given, point):
    return [b for b in given.bodies if point in given.bodies[b]]


def check_axle(given):
    if not given.good("axle"):
        return
    owners = owners_of(given, given.axle)
    if not owners or FRAME in owners:
        given.refuse("axle")
        return
    if given.carrier is None and given.right("carrier") and len(owners) > 1:
        given.refuse("carrier")
    elif given.carrier is not None and given.carrier not in owners:
        given.refuse("carrier")


def check_shock(given):
    if not given.good("shock"):
        return
    a, b = given.shock
    own_a, own_b = owners_of(given, a), owners_of(given, b)
    if not own_a or not own_b or set(own_a) & set(own_b):
        given.refuse("shock")
    elif good_places(given, a, b) and given.points[a] == given.points[b]:
        given.refuse("shock")


def check_slot(given, slot):
    if slot is None or not slot.clean():
        return
    points, owners = given.points, owners_of(given, slot.point)
    if slot.on not in given.bodies:
        slot.refuse("on")
        if not owners:
            slot.refuse("point")
        return
    if not owners or slot.on in owners:
        slot.refuse("point")
        return
    a, b = slot.along
    if a == b or any(end not in given.bodies[slot.on] for end in (a, b)):
        slot.refuse("along")
    elif good_places(given, a, b):
        line = minus(points[b], points[a])
        if line == (0, 0):
            slot.refuse("along")
        elif good_places(given, slot.point, *points):
            off = abs(cross(line, minus(points[slot.point], points[a]))) / mp.hypot(*line)
            extent = max(max(p[i] for p in points.values()) - min(p[i] for p in points.values()) for i in (0, 1))
            if off > mpf("1e-9") * extent:
                slot.refuse("point")


def check_motion(given):
    mechanism = Mechanism(given)
    try:
        start = State(mechanism, 0.0, [0.0] * (3 * len(mechanism.moving)))
        start.newton(20, 1e-13)
        start.differentiate()
        if start.axle.velocity[1] < LEAST_RATIO:
            given.refuse("axle")
            return
        mechanism.follow()
    except Locks:
        given.refuse_as("locks")
        return
    if any(not LEAST_RATIO <= ratio <= GREATEST_RATIO for ratio in ratios(mechanism)):
        given.refuse_as("locks")
        return
    given.set("model", mechanism)


def ratios(mechanism):
    """Lever ratios along the motion, and where they turn between two poses."""
    for before, after in zip(mechanism.track, mechanism.track[1:]):
        yield before.axle.velocity[1]
        a, b = before.axle.acceleration[1], after.axle.acceleration[1]
        if a * b < 0:
            s = before.stroke + (after.stroke - before.stroke) * a / (a - b)
            yield mechanism.motion(mpf(s)).axle.velocity[1]
    yield mechanism.track[-1].axle.velocity[1]


# Motion.


def strokes_of(given, mechanism):
    return [min(max(s, mpf(0)), mechanism.stroke) for s in given.at or []]


def motion(given):
    m = given.mechanism.model
    strokes = strokes_of(given, m)
    start, end = m.motion(mpf(0)).axle, m.motion(m.stroke).axle
    states = [m.motion(s) for s in strokes]
    axles = [state.axle for state in states]
    centres = [instant_centre(state) for state in states]
    return {
        "axle_x": [a.place[0] for a in axles],
        "axle_y": [a.place[1] for a in axles],
        "travel": [a.place[1] - start.place[1] for a in axles],
        "lever_ratio": [a.velocity[1] for a in axles],
        "lever_ratio_slope": [a.acceleration[1] for a in axles],
        "path_length": path_lengths(m, strokes),
        "axle_growth": [mp.hypot(*a.place) - mp.hypot(*start.place) for a in axles],
        "instant_centre_x": [c[0] for c in centres],
        "instant_centre_y": [c[1] for c in centres],
        "progression": (start.velocity[1] - end.velocity[1]) / start.velocity[1],
    }


def instant_centre(state):
    """Of the body that carries the wheel, at most 1000 km from the axle."""
    axle = state.axle
    _, turning = state.of_body(state.mechanism.carrier)
    vx, vy = axle.velocity
    speed = mp.hypot(vx, vy)
    if abs(turning) < mpf("1e-28") or speed > FARTHEST * abs(turning):
        sign = -1 if turning < -mpf("1e-28") else 1
        return axle.place[0] - sign * FARTHEST * vy / speed, axle.place[1] + sign * FARTHEST * vx / speed
    return axle.place[0] - vy / turning, axle.place[1] + vx / turning


def gauss(n):
    """Nodes and weights of Gauss and Legendre's rule of n points on [−1, 1]."""
    rule = []
    for i in range(n):
        x = mp.cos(mp.pi * (i + mpf("0.75")) / (n + mpf("0.5")))
        for _ in range(8):  # Newton's method
            slope = n * (x * mp.legendre(n, x) - mp.legendre(n - 1, x)) / (x**2 - 1)
            x -= mp.legendre(n, x) / slope
        rule.append((float(x), float(2 / ((1 - x**2) * slope**2))))
    return rule


GAUSS = gauss(16)
PANELS = 8  # over the whole stroke


def path_lengths(mechanism, strokes):
    """∫|dP/ds| ds from full extension to each stroke, by Gauss's rule."""
    lengths, total, before = {}, 0.0, 0.0
    for s in sorted(set(strokes)):
        panels = math.ceil(PANELS * (float(s) - before) / float(mechanism.stroke))
        for i in range(panels):
            width = (float(s) - before) / panels
            for x, weight in GAUSS:
                velocity = mechanism.rough_motion(before + width * (i + (x + 1) / 2)).axle.velocity
                total += weight * width / 2 * math.hypot(*velocity)
        lengths[s], before = total, float(s)
    return [lengths[s] for s in strokes]


# Forces in the joints.


def hide_beside_mechanism(given):
    """Bad fields of the mechanism hide those of the rest."""
    if not given.right("mechanism"):
        given.hide_all_but("mechanism")
        return True
    return given.mechanism is None or given.mechanism.model_or_none() is None


def check_joints(given):
    if hide_beside_mechanism(given) or not given.good("joint"):
        return
    if len(owners_of(given.mechanism, given.joint)) != 2:
        given.refuse("joint")


def joints(given):
    m, force = given.mechanism.model, given.wheel_force
    first, second = sorted(owners_of(given.mechanism, given.joint), key=lambda name: name.encode())
    answer = {"shock_force": [], "joint_force": [], "joint_angle": [], "joint_turn": []}
    for s in strokes_of(given, m):
        state = m.motion(s)
        x, y = force_on(state, force, given.joint, first)
        answer["shock_force"].append(force * state.axle.velocity[1])
        answer["joint_force"].append(mp.hypot(x, y))
        answer["joint_angle"].append(mp.atan2(y, x))
        answer["joint_turn"].append(state.of_body(second)[0] - state.of_body(first)[0])
    return answer


def force_on(state, wheel_force, joint, first):
    """All that acts on a body at a joint, in balance with a wheel force straight up.

    The joints hold with forces along their equations (virtual work): the sum of
    force times row, and of the wheel force, is 0 for every motion of a body.
    """
    m = state.mechanism
    rows, owners = [], []
    for equations_of in m.joints:
        for _, row, _ in equations_of.equations(state):
            rows.append(row)
            owners.append(equations_of)
    load = state.zeros()
    state.add(load, m.carrier, m.axle, (mpf(0), wheel_force))
    forces = mp.lu_solve(matrix(rows).T, -matrix(load))
    x = y = mpf(0)
    for i, owner in enumerate(owners):
        if getattr(owner, "name", None) == joint and first in (owner.first, owner.second):
            sign = 1 if owner.first == first else -1
            if i + 1 < len(owners) and owners[i + 1] is owner:
                x += sign * forces[i]
            else:
                y += sign * forces[i]
        if owner is m.shock and joint in owner.eyes:
            end = owner.eyes.index(joint)
            if owner.bodies[end] == first:
                a, b = (state.at(body, eye).place for body, eye in zip(owner.bodies, owner.eyes))
                d = minus(a, b)
                x += forces[i] * d[0] * (1, -1)[end]
                y += forces[i] * d[1] * (1, -1)[end]
    return x, y


# A hole off its place.


def check_sensitivity(given):
    if hide_beside_mechanism(given):
        return
    bodies = given.mechanism.bodies
    if given.good("body") and given.body not in bodies:
        given.refuse("body")
    elif given.good("body", "point") and given.point not in bodies[given.body]:
        given.refuse("point")


def sensitivity(given):
    """By assembling the mechanism with the hole off by 1e-12 m, both ways."""
    m, off = given.mechanism.model, mpf("1e-12")
    answer = {}
    for axis, direction in (("x", (1, 0)), ("y", (0, 1))):
        sides = []
        for sign in (1, -1):
            dx, dy = (sign * off * d for d in direction)
            moved = Mechanism(given.mechanism, (given.body, given.point, dx, dy))
            moved.track = m.track
            start = moved.motion(mpf(0)).axle.place[1]
            axles = [moved.motion(s).axle for s in strokes_of(given, m)]
            sides.append([(a.velocity[1], a.place[1] - start) for a in axles])
        answer["lever_ratio_per_" + axis] = [(p[0] - q[0]) / (2 * off) for p, q in zip(*sides)]
        answer["travel_per_" + axis] = [(p[1] - q[1]) / (2 * off) for p, q in zip(*sides)]
    return answer


RULES = {
    "mechanism": check_mechanism,
    "linkage.joints": check_joints,
    "linkage.sensitivity": check_sensitivity,
}
COMPUTATIONS = {
    "linkage.mechanism": motion,
    "linkage.joints": joints,
    "linkage.sensitivity": sensitivity,
}
