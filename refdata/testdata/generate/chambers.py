"""The chambers of an air spring by the balance of forces, and those nearest to
readings of gauge and ring.
"""
from mpmath import findroot, lu_solve, matrix, mp, mpf, sqrt

from casefile import close, si


class Chambers:
    """A slow spring: areas of bore and shaft, volumes, and port travel. Without a
    negative chamber the shaft is the bore."""

    def __init__(self, bore, volume, shaft=None, negative=None, port=None):
        self.a, self.v, self.n, self.port = bore, volume, negative, port
        self.shaft = bore if shaft is None else shaft

    def force(self, fill, s, pa):
        """Of the gas on both sides of the piston, less the ambient's."""
        p = fill + pa
        f = self.a * p * self.v / (self.v - self.a * s) - self.shaft * pa
        if self.n is not None:
            ring = self.a - self.shaft
            shared = p * self.v / (self.v - self.a * self.port)
            f -= ring * shared * (self.n + ring * self.port) / (self.n + ring * s)
        return f

    def stroke(self, fill, force, pa, near):
        s = findroot(lambda s: (self.force(fill, s, pa) - force) / 1000, (near, near * mpf("1.001")), tol=mpf("1e-90"))
        close(self.force(fill, s, pa) + 1, force + 1, mpf("1e-36"), "balance")
        return s

    def fill(self, force, s, pa):
        p = findroot(lambda p: (self.force(p * 100000, s, pa) - force) / 1000, (mpf(5), mpf(6)), tol=mpf("1e-90")) * 100000
        close(self.force(p, s, pa), force, mpf("1e-36"), "balance")
        return p


def area(diameter):
    return mp.pi * si(diameter) ** 2 / 4


def single(bore, volume):
    return Chambers(area(f"{bore} mm"), si(f"{volume} cm3"))


def double(bore, shaft, volume, negative, port):
    return Chambers(area(f"{bore} mm"), si(f"{volume} cm3"), area(f"{shaft} mm"), si(f"{negative} cm3"), si(f"{port} mm"))


def nearest(start, readings, ring, gauge, pa):
    """The chambers of fit, without their errors."""
    return fit(start, readings, ring, gauge, pa)[0]


def fit(start, readings, ring, gauge, pa):
    """The chambers with the least sum of squares of the strokes' errors, each in
    standard errors: that of the ring, and that of the gauge times the stroke that a
    change of the fill makes. With them how to make
    chambers of the unknowns, the unknowns, residuals and their derivatives."""
    fixed, double_ = start.shaft, start.n is not None
    x = [start.a, start.v] + ([start.n, start.port] if double_ else [])

    def chambers(x):
        return Chambers(x[0], x[1], fixed, *x[2:]) if double_ else Chambers(x[0], x[1], fixed)

    def residuals(x):
        c, out = chambers(x), []
        for r in readings:
            fill, s, force = si(r["fill"]), (si(r["stroke"]) + si(r.get("stroke_back", r["stroke"]))) / 2, si(r["force"])
            own = c.stroke(fill, force, pa, s)
            spread = ring
            if gauge:
                d = mpf("1e-15") * fill
                spread = sqrt(ring**2 + (gauge * (c.stroke(fill + d, force, pa, s) - c.stroke(fill - d, force, pa, s)) / (2 * d)) ** 2)
            out.append((s - own) / spread)
        return out

    for _ in range(60):
        r = residuals(x)
        j = matrix(len(r), len(x))
        for k in range(len(x)):
            d = mpf("1e-15") * (x[k] if k < 3 else mpf("1e-3"))
            up, down = residuals(x[:k] + [x[k] + d] + x[k + 1:]), residuals(x[:k] + [x[k] - d] + x[k + 1:])
            for i in range(len(r)):
                j[i, k] = (up[i] - down[i]) / (2 * d)
        scale = [sqrt(sum(j[i, k] ** 2 for i in range(len(r)))) for k in range(len(x))]
        for k in range(len(x)):
            for i in range(len(r)):
                j[i, k] /= scale[k]
        step = lu_solve(j.T * j, -j.T * matrix(r))
        x = [v + step[k] / scale[k] for k, v in enumerate(x)]
        if max(abs(v) for v in step) < mpf("1e-22"):
            break
    else:
        raise SystemExit("no least sum of squares")
    assert all(v > 0 for v in x[:3]) and x[0] >= fixed * (1 if double_ else 0), x
    return chambers(x), chambers, x, r, j, scale
