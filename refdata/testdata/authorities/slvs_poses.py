"""libslvs on where a linkage goes: apt-get install libslvs1-dev gcc.

A general solver of geometric constraints, as a drawing program uses it, is
given nothing but points, distances and lines: a body is a triangulation, the shock a
distance that shrinks, a slot a line that its pin is on. Every linkage.mechanism case is solved from full
extension on in small steps. Its places agree with the cases to 2e-8 mm, or to
the case's own tolerance where that is wider: the solver ends its search at
about 1e-8 mm. It knows no rates; lever ratios and instant centres are held
against differences of its places over 0.1 mm of stroke, to 1e-5, as far as
that rule of ending lets them be.
"""
import math
import pathlib
import shutil
import subprocess
import sys
import tempfile

sys.path.insert(0, "testdata/authorities/lib")
from authority import Authority, si

a = Authority(__file__)
SOURCE = pathlib.Path(__file__).parent / "lib" / "slvs_poses.c"
a.need(pathlib.Path("/usr/include/slvs.h").exists(), "no slvs.h")
a.need(shutil.which("gcc"), "no gcc")


def mm(text):
    return 1e3 * si(text)


class Drawing:
    """A mechanism as points, distances and lines."""

    def __init__(self, m):
        self.names = list(m["points"])
        self.at = [tuple(mm(v) for v in m["points"][n]) for n in self.names]
        fixed = set(m["bodies"]["frame"])
        self.fixed = [n in fixed or not any(n in b for b in m["bodies"].values()) for n in self.names]
        self.length = math.dist(self.place(m["shock"][0]), self.place(m["shock"][1]))
        self.distances = [(self.names.index(m["shock"][0]), self.names.index(m["shock"][1]))]
        self.slots = [[self.names.index(p) for p in (slot["point"], *slot["along"])] for slot in m.get("slots", [])]
        for body, points in m["bodies"].items():
            if body != "frame":
                self.add([self.names.index(p) for p in points])

    def place(self, name):
        return self.at[self.names.index(name)]

    def add(self, body):
        """A body: its two points farthest apart, one made up beside their middle, and every other point by the two of these three that it is seen from most nearly at right angles."""
        if len(body) < 2:
            return
        p, q = max(((p, q) for p in body for q in body if p < q), key=lambda pair: math.dist(self.at[pair[0]], self.at[pair[1]]))
        self.distances.append((p, q))
        if len(body) == 2:
            return
        (px, py), (qx, qy) = self.at[p], self.at[q]
        self.at.append(((px + qx) / 2 - (qy - py) / 2, (py + qy) / 2 + (qx - px) / 2))
        self.fixed.append(False)
        made = len(self.at) - 1
        self.distances += [(made, p), (made, q)]
        for r in body:
            if r in (p, q):
                continue
            def sine(pair):
                (ax, ay), (bx, by), (rx, ry) = self.at[pair[0]], self.at[pair[1]], self.at[r]
                u, v = (ax - rx, ay - ry), (bx - rx, by - ry)
                return abs(u[0] * v[1] - u[1] * v[0]) / max(math.hypot(*u) * math.hypot(*v), 1e-12)
            best = max([(p, q), (p, made), (q, made)], key=sine)
            self.distances += [(r, best[0]), (r, best[1])]

    def solve(self, strokes):
        """The places of all points at each stroke, rising from 0."""
        lines = [str(len(self.at))]
        lines += [f"{x!r} {y!r} {int(fixed)}" for (x, y), fixed in zip(self.at, self.fixed)]
        both = [(i, j) for i, j in self.distances[1:] if not (self.fixed[i] and self.fixed[j])]
        lines += [str(1 + len(both))]
        lines += [f"{i} {j} {math.dist(self.at[i], self.at[j])!r}" for i, j in [self.distances[0]] + both]
        lines += [str(len(self.slots))] + [" ".join(map(str, slot)) for slot in self.slots]
        lines += [str(len(strokes))] + [repr(self.length - s) for s in strokes]
        out = subprocess.run([program], input="\n".join(lines), capture_output=True, text=True)
        if out.returncode:
            raise RuntimeError(out.stderr.strip())
        poses = []
        for line in out.stdout.splitlines():
            v = [float(t) for t in line.split()]
            poses.append(list(zip(v[::2], v[1::2])))
        return poses


H = 0.05  # mm of stroke between places that are subtracted


def outputs(case):
    """Everything the places tell of a case: its outputs, in mm or plain, and how near they can be."""
    m, at = case["given"]["mechanism"], [mm(s) for s in case["given"]["at"]]
    d = Drawing(m)
    stroke = mm(m["stroke"])
    # Every stroke with its neighbours, and steps of a millimetre on the way.
    wanted = sorted({round(s, 12) for s in at} | {s + k * H for s in at + [0.0, stroke] for k in (-2, -1, 0, 1, 2) if 0 <= s + k * H <= stroke} | {float(i) for i in range(int(stroke) + 1)})
    places = dict(zip(wanted, d.solve(wanted)))
    axle = d.names.index(m["axle"])
    carrier = next(b for b in sorted(m["bodies"]) if b != "frame" and m["axle"] in m["bodies"][b])
    other = max(m["bodies"][carrier], key=lambda n: math.dist(d.place(n), d.at[axle]))
    arm = d.names.index(other)

    def slope(s, f):
        if s - H < 0:
            return (-3 * f(s) + 4 * f(s + H) - f(s + 2 * H)) / (2 * H)
        if s + H > stroke:
            return (3 * f(s) - 4 * f(s - H) + f(s - 2 * H)) / (2 * H)
        return (f(s + H) - f(s - H)) / (2 * H)

    def near(s):
        return min(places, key=lambda t: abs(t - s))

    def coordinate(i, axis):
        return lambda s: places[near(s)][i][axis]

    def turn(s):
        (x, y), (u, v) = places[near(s)][axle], places[near(s)][arm]
        return math.atan2(v - y, u - x)

    x, y = [coordinate(axle, 0)(s) for s in at], [coordinate(axle, 1)(s) for s in at]
    x0, y0 = d.at[axle]
    ratio = [slope(s, coordinate(axle, 1)) for s in at]
    reference = turn(0.0)
    turning = [slope(s, lambda t: math.remainder(turn(t) - reference, 2 * math.pi)) for s in at]
    forward = [slope(s, coordinate(axle, 0)) for s in at]
    first, last = slope(0.0, coordinate(axle, 1)), slope(stroke, coordinate(axle, 1))
    centre = [(px - r / w, py + f / w, 1e-6 * (1 + math.hypot(f, r) / abs(w)) / abs(w)) if abs(w) > 1e-6 else None for px, py, r, f, w in zip(x, y, ratio, forward, turning)]
    return {
        "axle_x": [(v, 2e-8) for v in x], "axle_y": [(v, 2e-8) for v in y], "travel": [(v - y0, 2e-8) for v in y],
        "axle_growth": [(math.hypot(u, v) - math.hypot(x0, y0), 2e-8) for u, v in zip(x, y)],
        "lever_ratio": [(v, 1e-5) for v in ratio],
        "instant_centre_x": [(c[0], c[2]) if c else None for c in centre],
        "instant_centre_y": [(c[1], c[2]) if c else None for c in centre],
        "progression": [((first - last) / first, 1e-5)],
    }


def allowed(case, name, expected, own):
    """The wider of the solver's own and the case's tolerance."""
    t = case.get("tolerance", {}).get(name, case.get("tolerance", {}).get("*", 1e-9))
    if isinstance(t, str):
        return max(own, mm(t) if name not in ("lever_ratio", "progression") else float(t))
    return max(own, t * abs(expected))


with tempfile.TemporaryDirectory() as folder:
    program = str(pathlib.Path(folder) / "slvs_poses")
    subprocess.run(["gcc", "-O2", "-o", program, str(SOURCE), "-lslvs"], check=True)
    for case in a.cases("linkage.mechanism"):
        got = outputs(case)
        for name, expected in case["expect"].items():
            if name not in got:
                continue  # lengths of paths and slopes of ratios: it knows none
            for want, have in zip(expected if isinstance(expected, list) else [expected], got[name]):
                if have is None:
                    continue
                value = want if isinstance(want, (int, float)) else mm(want)
                a.compare(case, name, value, have[0], allowed(case, name, value, have[1]))

a.finish(subprocess.run(["dpkg-query", "-W", "-f", "${Version}", "libslvs1-dev"], capture_output=True, text=True).stdout.partition("+")[0])
