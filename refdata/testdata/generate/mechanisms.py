"""Planar mechanisms at 50 digits, from their definition alone.

A body that moves has three coordinates (dx, dy, θ); a point that stands at P
at full extension stands at R(θ) P + (dx, dy). A pivot makes the point of one
body the point of the other, two equations; a slot keeps its pin on the line
through two points of a body, one equation; the shock makes the distance of its
eyes L₀ − s, one equation. Newton's method solves them, starting from the pose
before; implicit differentiation of the same equations, once and twice, gives
all rates. The determinant of their matrix must keep its sign over the stroke:
where it does not, the mechanism locks.

MECHANISMS holds the geometries of the cases. All are invented.
"""
from bisect import bisect_left, insort

from mpmath import mp, mpf

from casefile import si

MECHANISMS = {
    # One pivot, a shock between frame and swingarm.
    "a1": ("single pivot, direct shock", "P 12 72, A -438 28, S1 -92 238, S2 112 292",
           "frame: P S2; swingarm: P A S1", 57.5),
    "a2": ("high single pivot, direct shock", "P -22 186, A -436 22, S1 -70 338, S2 128 282",
           "frame: P S2; swingarm: P A S1", 62.5),
    "b1": ("single pivot, a link and a rocker drive the shock", "P 14 58, R -28 320, S2 11 118, A -436 27, L -383 86, T -121 340, S1 13 357",
           "frame: P R S2; swingarm: P A L; link: L T; rocker: T R S1", 57.5),
    # Four-bars with the axle on the coupler.
    "c1": ("four-bar, axle on the coupler, upright shock", "M 14 53, R -20 302, S2 36 113, H -390 32, A -437 30, T -144 387, S1 52 330",
           "frame: M R S2; chainstay: M H; seatstay: H A T; rocker: T R S1", 62.5),
    "c2": ("four-bar, axle on the coupler, shock along the top tube", "M 4 45, R -31 273, S2 121 386, H -398 16, A -433 32, T -167 382, S1 -72 349",
           "frame: M R S2; chainstay: M H; seatstay: H A T; rocker: T R S1", 55),
    "c3": ("four-bar of nearly parallel links: regressive, the instant centre runs through infinity",
           "M 4 45, R -30 306, S2 36 112, H -398 16, A -433 32, T -139 272, S1 15 322",
           "frame: M R S2; chainstay: M H; seatstay: H A T; rocker: T R S1", 40),
    # Two short links that carry a rear triangle.
    "d1": ("two short links, shock on the upper one", "M1 -7 93, U1 -21 284, S2 33 83, M2 -86 55, U2 -149 377, A -435 26, S1 68 306",
           "frame: M1 U1 S2; lower: M1 M2; rear: M2 U2 A; upper: U1 U2 S1", 60),
    "d2": ("two short links, shock on the rear triangle", "M1 -2 75, U1 -26 228, S2 159 348, M2 -64 42, U2 -115 328, A -437 24, S1 -42 275",
           "frame: M1 U1 S2; lower: M1 M2; rear: M2 U2 A S1; upper: U1 U2", 52.5),
    # Neither eye of the shock on the frame.
    "e1": ("four-bar, shock between rocker and chainstay", "M 2 52, R -36 315, H -392 -4, S2 22 150, A -437 30, T -172 368, S1 42 370",
           "frame: M R; chainstay: M H S2; seatstay: H A T; rocker: T R S1", 60),
    "e2": ("two short links, shock between them", "M1 2 53, U1 -42 284, M2 -49 15, S2 33 92, U2 -153 353, A -435 26, S1 70 299",
           "frame: M1 U1; lower: M1 M2 S2; rear: M2 U2 A; upper: U1 U2 S1", 55),
    # Six-bars.
    "f1": ("six-bar, a link from the coupler drives a second rocker",
           "M 6 44, R -16 294, R2 -32 169, S2 175 162, H -396 14, A -436 30, T -97 360, K -177 242, Q -105 276, S1 -10 259",
           "frame: M R R2 S2; chainstay: M H; seatstay: H A T K; rocker: T R; link: K Q; second: Q R2 S1", 55),
    "f2": ("six-bar, the chainstay on a short link that a tie holds to the rocker",
           "M0 20 75, R -32 323, S2 42 112, M -18 53, H -396 16, K -32 28, A -436 28, T -127 357, Q -52 332, S1 14 358",
           "frame: M0 R S2; short: M0 M; chainstay: M H K; seatstay: H A T; tie: K Q; rocker: T R Q S1", 57.5),
    "f3": ("six-bar, shock between the second rocker and the chainstay",
           "M 6 44, R -16 294, R2 -59 177, S2 -84 85, H -396 14, A -436 30, T -97 360, K -177 242, Q -114 315, S1 60 295",
           "frame: M R R2; chainstay: M H S2; seatstay: H A T K; rocker: T R; link: K Q; second: Q R2 S1", 50),
    "f4": ("six-bar, three bodies on one pivot",
           "M 6 44, R -16 294, R2 -2 202, S2 184 160, H -396 14, A -436 30, T -97 360, Q -109 235, S1 -12 318",
           "frame: M R R2 S2; chainstay: M H; seatstay: H A T; rocker: T R; link: T Q; second: Q R2 S1", 45),
}
# With slots: the same texts, the eyes of the shock, and "pin on body: the two points of its line".
SLOTTED = {
    "s1": ("single pivot, a link whose pin slides in the frame compresses the shock", "P 12 72, A -438 28, L -100 200, N 40 260, F 20 255, G 220 305, S2 245 300",
           "frame: P F G S2; swingarm: P A L; link: L N", 50, ("N", "S2"), "N frame F G"),
    "s2": ("a pin of the rocker slides in the swingarm", "P 12 72, A -438 28, F -180 146, G -20 154, R 60 175, N -100 150, S1 80 400, S2 290 385",
           "frame: P R S2; swingarm: P A F G; rocker: R N S1", 50, ("S1", "S2"), "N swingarm F G"),
    "s3": ("no pivot: two pins of the body that carries the wheel slide in the frame", "F1 -36 50, G1 -64 120, F2 -80 245, G2 60 350, N1 -40 60, N2 -60 260, A -438 28, S1 -110 300, S2 60 420",
           "frame: F1 G1 F2 G2 S2; carrier: N1 N2 A S1", 40, ("S1", "S2"), "N1 frame F1 G1, N2 frame F2 G2"),
}


def mechanism(points, bodies, stroke, axle="A", shock=("S1", "S2")):
    """The "mechanism" of a case from the short texts above, in millimetres."""
    return {"points": {name: [f"{x} mm", f"{y} mm"] for name, x, y in (p.split() for p in points.split(","))},
            "bodies": {name.strip(): of.split() for name, of in (b.split(":") for b in bodies.split(";"))},
            "axle": axle, "shock": list(shock), "stroke": f"{stroke} mm"}


def named(name):
    return mechanism(*MECHANISMS[name][1:])


def slotted(name):
    _, points, bodies, stroke, shock, slots = SLOTTED[name]
    return {**mechanism(points, bodies, stroke, shock=shock),
            "slots": [{"point": p, "on": on, "along": list(along)} for p, on, *along in (s.split() for s in slots.split(","))]}


class Pose:
    """A solved pose: coordinates and their first and second derivative by s,
    cosine and sine of the bodies' rotations, the determinant."""

    def __init__(self, s, q, d1, d2, turn, det):
        self.s, self.q, self.d1, self.d2, self.turn, self.det = s, q, d1, d2, turn, det


class Mechanism:
    way = -1  # of the driving equation's right-hand side

    def __init__(self, given):
        self.points = {n: (si(x), si(y)) for n, (x, y) in given["points"].items()}
        self.bodies, self.axle, self.stroke = given["bodies"], given["axle"], si(given["stroke"])
        moving = [b for b in self.bodies if b != "frame"]
        self.first = {b: 3 * i for i, b in enumerate(moving)}  # of a body's coordinates
        self.n = 3 * len(moving)
        home = lambda p: [b for b, of in self.bodies.items() if p in of]
        self.joints = [(p, a, b) for p in self.points for a, b in zip(home(p), home(p)[1:])]
        self.slots = [(s["point"], next(b for b in home(s["point"]) if b != s["on"]), s["on"], *s["along"]) for s in given.get("slots", [])]
        assert 2 * len(self.joints) + len(self.slots) + 1 == self.n, "not one degree of freedom"
        self.carrier = given.get("carrier", home(self.axle)[0])
        assert self.carrier in home(self.axle) and ("carrier" in given) >= (len(home(self.axle)) > 1), "which body carries the wheel"
        self.eyes = [(p, home(p)[0]) for p in given["shock"]]
        (ax, ay), (bx, by) = (self.points[p] for p, _ in self.eyes)
        self.length = mp.hypot(ax - bx, ay - by)
        zero = [mpf(0)] * self.n
        self.known, self.poses = [0.0], {0.0: self._rates(mpf(0), zero)}  # by stroke, as floats

    # ---- where a point is, and how it moves

    def arm(self, body, p):
        """R(θ) P: the point without the shift of its body."""
        x, y = self.drawn(body, p)
        c, s = self.turn[body]
        return c * x - s * y, s * x + c * y

    def place(self, q, body, p):
        if body == "frame":
            return self.drawn(body, p)
        i = self.first[body]
        x, y = self.arm(body, p)
        return q[i] + x, q[i + 1] + y

    def drawn(self, body, p):
        """Where a body's point is at full extension."""
        return self.points[p]

    def _equations(self, q, s):
        """Residuals, and the rows of their matrix as {column: value}."""
        self.turn = {b: (mp.cos(q[i + 2]), mp.sin(q[i + 2])) for b, i in self.first.items()}
        rest, rows = [], []

        def row(terms):
            """terms: (body, point, factor of its x, factor of its y)."""
            r = {}
            for body, p, fx, fy in terms:
                if body == "frame":
                    continue
                i = self.first[body]
                x, y = self.arm(body, p)
                for j, v in ((i, fx), (i + 1, fy), (i + 2, fy * x - fx * y)):
                    if v:
                        r[j] = r.get(j, 0) + v
            rows.append(r)

        for p, a, b in self.joints:
            (ax, ay), (bx, by) = self.place(q, a, p), self.place(q, b, p)
            rest += [ax - bx, ay - by]
            row([(a, p, 1, 0), (b, p, -1, 0)])
            row([(a, p, 0, 1), (b, p, 0, -1)])
        for p, own, on, a, b in self.slots:  # the cross product of the line and the way to the pin is 0
            (lx, ly), (wx, wy) = self.ways(lambda body, point: self.place(q, body, point), p, own, on, a, b)
            rest.append(lx * wy - ly * wx)
            row([(on, b, wy, -wx), (on, a, ly - wy, wx - lx), (own, p, -ly, lx)])
        self._drive(q, s, rest, rows, row)
        return rest, rows

    @staticmethod
    def ways(of, p, own, on, a, b):
        """Along a slot's line and from its first point to the pin, of places or of their derivatives."""
        (ax, ay), (bx, by), (px, py) = of(on, a), of(on, b), of(own, p)
        return (bx - ax, by - ay), (px - ax, py - ay)

    def _drive(self, q, s, rest, rows, row):
        """The shock's equation."""
        (p, a), (r, b) = self.eyes
        (ax, ay), (bx, by) = self.place(q, a, p), self.place(q, b, r)
        x, y = ax - bx, ay - by
        length = mp.hypot(x, y)
        rest.append(length - (self.length - s))
        row([(a, p, x / length, y / length), (b, r, -x / length, -y / length)])

    def _rates(self, s, q):
        """The pose with its derivatives; q solves the equations at s."""
        rest, rows = self._equations(q, s)
        assert max(abs(r) for r in rest) < mpf("1e-40"), "unsolved"
        right = [mpf(0)] * self.n
        right[-1] = mpf(self.way)
        (d1,), det = eliminate(rows, [right])
        # The second derivative of R(θ)P is −R(θ)P θ'² besides the part linear
        # in q″; of the shock: D·D″ = 1 − D′·D′, for (D·D)″/2 = L L″ + L′².
        bend = lambda body, p: (0, 0) if body == "frame" else tuple(-v * d1[self.first[body] + 2] ** 2 for v in self.arm(body, p))
        right = []
        for p, a, b in self.joints:
            (ax, ay), (bx, by) = bend(a, p), bend(b, p)
            right += [bx - ax, by - ay]
        for slot in self.slots:  # the second derivative of the cross product
            (lx, ly), (wx, wy) = self.ways(lambda body, p: self.place(q, body, p), *slot)
            (dlx, dly), (dwx, dwy) = self.ways(lambda body, p: self._velocity(d1, body, p), *slot)
            (elx, ely), (ewx, ewy) = self.ways(bend, *slot)
            right.append(-(elx * wy - ely * wx) - 2 * (dlx * dwy - dly * dwx) - (lx * ewy - ly * ewx))
        right.append(self._bent_drive(q, d1, bend))
        (d2,), _ = eliminate(rows, [right])
        return Pose(s, q, d1, d2, self.turn, det)

    def _bent_drive(self, q, d1, bend):
        (p, a), (r, b) = self.eyes
        (ax, ay), (bx, by) = self.place(q, a, p), self.place(q, b, r)
        (ux, uy), (vx, vy) = self._velocity(d1, a, p), self._velocity(d1, b, r)
        (cx, cy), (ex, ey) = bend(a, p), bend(b, r)
        x, y = ax - bx, ay - by
        return (1 - (ux - vx) ** 2 - (uy - vy) ** 2 - x * (cx - ex) - y * (cy - ey)) / mp.hypot(x, y)

    def _velocity(self, d1, body, p):
        if body == "frame":
            return mpf(0), mpf(0)
        i = self.first[body]
        x, y = self.arm(body, p)
        return d1[i] - d1[i + 2] * y, d1[i + 1] + d1[i + 2] * x

    def at(self, s):
        """The pose at stroke s, from the nearest one known."""
        key = float(s)
        i = bisect_left(self.known, key)
        start = self.poses[min(self.known[max(i - 1, 0):i + 1], key=lambda k: abs(k - key))]
        h = s - start.s
        if abs(h) < mpf("1e-45"):
            return start
        if abs(h) > self.stroke / 20:
            return self.step(s, h)
        q = [a + h * b + h * h / 2 * c for a, b, c in zip(start.q, start.d1, start.d2)]
        for _ in range(12):
            rest, rows = self._equations(q, s)
            (change,), _ = eliminate(rows, [[-r for r in rest]])
            q = [a + b for a, b in zip(q, change)]
            if max(abs(c) for c in change) < mpf("1e-26"):
                break  # the error is the square of this
        pose = self._rates(s, q)
        if key not in self.poses:
            insort(self.known, key)
            self.poses[key] = pose
        return pose

    def step(self, s, h):
        """The pose at s with one in between, where the nearest is far."""
        self.at(s - h / 2)
        return self.at(s)

    # ---- what the cases ask for

    def point(self, s, body, p):
        pose = self.at(s)
        self.turn = pose.turn
        return self.place(pose.q, body, p)

    def rate(self, s, body, p):
        """d/ds of a point, and d²/ds²."""
        pose = self.at(s)
        self.turn = pose.turn
        vx, vy = self._velocity(pose.d1, body, p)
        if body == "frame":
            return (vx, vy), (vx, vy)
        i = self.first[body]
        x, y = self.arm(body, p)
        w, a = pose.d1[i + 2], pose.d2[i + 2]
        return (vx, vy), (pose.d2[i] - a * y - w * w * x, pose.d2[i + 1] + a * x - w * w * y)

    def turning(self, s, body):
        """dθ/ds of a body."""
        return mpf(0) if body == "frame" else self.at(s).d1[self.first[body] + 2]

    def wheel(self, s):
        """Axle, its rate and second rate, and the rate at which its body turns."""
        v, a = self.rate(s, self.carrier, self.axle)
        return self.point(s, self.carrier, self.axle), v, a, self.turning(s, self.carrier)

    def travel_at(self, s):
        return self.wheel(s)[0][1] - self.points[self.axle][1]

    def ratio(self, s):
        return self.wheel(s)[1][1]

    def slope(self, s):
        return self.wheel(s)[2][1]

    def instant_centre(self, s):
        (x, y), (vx, vy), _, w = self.wheel(s)
        return x - vy / w, y + vx / w

    def growth(self, s):
        x, y = self.points[self.axle]
        return mp.hypot(*self.wheel(s)[0]) - mp.hypot(x, y)

    def path(self, a, b, nodes):
        """Length of the axle's path between two strokes, by Gauss."""
        total = mpf(0)
        for x, w in nodes:
            total += w * mp.hypot(*self.wheel((a + b) / 2 + (b - a) / 2 * x)[1])
        return total * (b - a) / 2

    @property
    def progression(self):
        start = self.ratio(mpf(0))
        return (start - self.ratio(self.stroke)) / start

    def holds(self):
        """Whether the determinant kept its sign at all poses solved so far."""
        signs = {mp.sign(p.det) for p in self.poses.values()}
        return len(signs) == 1 and 0 not in signs


class Turned(Mechanism):
    """The same without its shock, moved by turning one body: s is its angle
    here. Its shock may then shorten and lengthen as it likes, so dead points
    that the shock's own equation cannot pass show as turning points."""

    way = 1

    def __init__(self, given, body):
        self.body = body
        super().__init__(given)
        self.stroke = mpf(1)

    def _drive(self, q, s, rest, rows, row):
        i = self.first[self.body] + 2
        rest.append(q[i] - s)
        rows.append({i: mpf(1)})

    def _bent_drive(self, q, d1, bend):
        return mpf(0)

    def shock(self, t):
        """How far the shock is compressed, and how fast."""
        (p, a), (r, b) = self.eyes
        (ax, ay), (bx, by) = self.point(t, a, p), self.point(t, b, r)
        (ux, uy), (vx, vy) = self.rate(t, a, p)[0], self.rate(t, b, r)[0]
        x, y = ax - bx, ay - by
        length = mp.hypot(x, y)
        return self.length - length, -(x * (ux - vx) + y * (uy - vy)) / length

    def dead_point(self, step, start=mpf(0)):
        """The stroke at which shock or wheel first stand still while the body
        turns on, in steps of this many radians from a start, and which of
        them does."""
        def rates(t):
            return self.shock(t)[1] * mp.sign(step), self.wheel(t)[1][1] * mp.sign(step)
        t = start
        while True:
            (s0, w0), (s1, w1) = rates(t), rates(t + step)
            for i, (a, b) in enumerate(((s0, s1), (w0, w1))):
                if a > 0 >= b:
                    t = mp.findroot(lambda x: rates(x)[i], (t, t + step), solver="anderson", tol=mpf("1e-30"))
                    return self.shock(t)[0], ("shock", "wheel")[i]
            t += step
            assert self.shock(t)[0] < self.length


def eliminate(rows, rights):
    """Solves the sparse system by elimination with row pivots; returns the
    solutions and the determinant."""
    n = len(rows)
    rows = [dict(r) for r in rows]
    rights = [list(r) for r in rights]
    det, order, left = mpf(1), [], list(range(n))
    for column in range(n):
        pivot = max((i for i in left if column in rows[i]), key=lambda i: abs(rows[i][column]))
        det *= rows[pivot][column] * (-1) ** left.index(pivot)
        left.remove(pivot)
        order.append(pivot)
        head = rows[pivot]
        for i in left:
            if column not in rows[i]:
                continue
            factor = rows[i].pop(column) / head[column]
            for j, v in head.items():
                if j > column:
                    rows[i][j] = rows[i].get(j, 0) - factor * v
            for r in rights:
                r[i] -= factor * r[pivot]
    out = []
    for r in rights:
        x = [mpf(0)] * n
        for column in reversed(range(n)):
            row = rows[order[column]]
            x[column] = (r[order[column]] - sum(v * x[j] for j, v in row.items() if j > column)) / row[column]
        out.append(x)
    return out, det


def gauss(n):
    """Nodes and weights of Gauss and Legendre on [−1, 1]."""
    out = []
    for k in range(n):
        x = mp.cos(mp.pi * (k + mpf(3) / 4) / (n + mpf(1) / 2))
        for _ in range(8):
            p, before = mp.legendre(n, x), mp.legendre(n - 1, x)
            slope = n * (before - x * p) / (1 - x * x)
            x -= p / slope
        out.append((x, 2 / ((1 - x * x) * slope**2)))
    return out
