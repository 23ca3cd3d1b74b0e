"""Forces in a planar mechanism at rest, by all its bodies drawn free.

Each moving body has three equations: forces in x and y, and moments about the
bottom bracket. Unknown are two components of each pivot of two bodies, the force of
each slot on its pin, square to its line, and that of the shock along its line; all are
solved for at once. The two points of a slot's line share the force by the lever rule. Nothing here
knows how the mechanism moves but where its points are.
"""
from mpmath import mp, mpf

from mechanisms import eliminate


def forces(m, s, load=(mpf(0), mpf(1))):
    """Those of forces_under a load on the body that carries the wheel, at the axle."""
    return forces_under(m, s, [(m.carrier, m.point(s, m.carrier, m.axle), load)])


def forces_under(m, s, loads):
    """The force of the shock and, by body and point, the force on each hole by what sits in it,
    under loads: body, place and force. Keyed (body, point)."""
    moving = [b for b in m.bodies if b != "frame"]
    row = {b: 3 * i for i, b in enumerate(moving)}
    rows, right, unknowns = [{} for _ in range(3 * len(moving))], [mpf(0)] * (3 * len(moving)), []

    def act(column, body, at, fx, fy):
        if body != "frame":
            for i, v in enumerate((fx, fy, at[0] * fy - at[1] * fx)):
                rows[row[body] + i][column] = rows[row[body] + i].get(column, 0) + v

    def pair(a, b, p, r, fx, fy):
        """A unit force on point p of body a, and against it on r of b."""
        press(((a, p), fx, fy), ((b, r), -fx, -fy))

    def press(*on):
        """Forces on holes that are so great together."""
        for (body, p), fx, fy in on:
            act(len(unknowns), body, m.point(s, body, p), fx, fy)
        unknowns.append(on)

    for p, a, b in m.joints:
        pair(a, b, p, p, mpf(1), mpf(0))
        pair(a, b, p, p, mpf(0), mpf(1))
    for p, own, on, a, b in m.slots:
        (lx, ly), (wx, wy) = m.ways(lambda body, point: m.point(s, body, point), p, own, on, a, b)
        long = mp.hypot(lx, ly)
        fx, fy, share = -ly / long, lx / long, (wx * lx + wy * ly) / long**2
        press(((own, p), fx, fy), ((on, a), -fx * (1 - share), -fy * (1 - share)), ((on, b), -fx * share, -fy * share))
    (p, a), (r, b) = m.eyes
    (ax, ay), (bx, by) = m.point(s, a, p), m.point(s, b, r)
    length = mp.hypot(ax - bx, ay - by)
    pair(a, b, p, r, (ax - bx) / length, (ay - by) / length)
    for body, (x, y), (fx, fy) in loads:
        if body != "frame":
            for i, v in enumerate((fx, fy, x * fy - y * fx)):
                right[row[body] + i] -= v
    (size,), _ = eliminate(rows, [right])
    out = {}
    for on, f in zip(unknowns, size):
        for hole, fx, fy in on:
            gx, gy = out.get(hole, (mpf(0), mpf(0)))
            out[hole] = gx + f * fx, gy + f * fy
    return size[-1], out


def turned(m, s, body):
    """By how much a body has turned since full extension."""
    return mpf(0) if body == "frame" else m.at(s).q[m.first[body] + 2]


def hole_work(m, body, point, s):
    """The force on the body at the hole under a unit force up at the axle, itself
    included, in the axes that turn with the body: by virtual work how far the axle
    rises for each way of the hole."""
    _, on = forces(m, s)
    x, y = on.get((body, point), (mpf(0), mpf(0)))
    if (body, point) == (m.carrier, m.axle):
        y += 1
    if body == "frame":
        return x, y
    c, r = m.at(s).turn[body]
    return c * x + r * y, c * y - r * x
