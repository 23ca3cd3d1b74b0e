#!/usr/bin/env python3
"""What lessons 3 and 5 should say, worked out with mpmath at 40 digits and
nothing of the library: the four-bar is solved as circles that meet, its lever
ratio is differentiated numerically, the fit is done by normal equations.

    python3 lessons.py      (Debian: python3-mpmath)
"""
from mpmath import mp, mpf, matrix, sqrt, sin, erfc, findroot, diff, lu_solve

mp.dps = 40
POINT = {k: (mpf(x), mpf(y)) for k, x, y in [
    ("M", 14, 53), ("H", -390, 32), ("A", -437, 30), ("T", -144, 387), ("R", -20, 302), ("S1", 52, 330), ("S2", 36, 113)]}  # mm
STROKE, K = mpf("62.5"), mpf(80)  # mm, N/mm
LBF_IN = mpf("4.4482216152605") / mpf("25.4")  # N/mm, exact by definition
G0 = mpf("9.80665")


def dist(a, b):
    return sqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2)


def meet(a, ra, b, rb, like):
    """The point at ra from a and rb from b, on the side of ab where the third
    point of the triangle like = (a, b, c) is."""
    d = dist(a, b)
    u = (ra * ra - rb * rb + d * d) / (2 * d)
    h = sqrt(ra * ra - u * u)
    ex, ey = (b[0] - a[0]) / d, (b[1] - a[1]) / d
    oa, ob, oc = like
    side = (ob[0] - oa[0]) * (oc[1] - oa[1]) - (ob[1] - oa[1]) * (oc[0] - oa[0])
    h = h if side > 0 else -h
    return (a[0] + u * ex - h * ey, a[1] + u * ey + h * ex)


def third(a, b, oa, ob, oc):
    """The point of a rigid body that was oc when a and b were oa and ob."""
    return meet(a, dist(oa, oc), b, dist(ob, oc), (oa, ob, oc))


def travel(s):
    P = POINT
    s1 = meet(P["R"], dist(P["R"], P["S1"]), P["S2"], dist(P["S1"], P["S2"]) - s, (P["R"], P["S2"], P["S1"]))
    t = third(P["R"], s1, P["R"], P["S1"], P["T"])
    h = meet(P["M"], dist(P["M"], P["H"]), t, dist(P["T"], P["H"]), (P["M"], P["T"], P["H"]))
    a = third(h, t, P["H"], P["T"], P["A"])
    return a[1] - P["A"][1]


def lr(s):
    return diff(travel, s, h=mpf(10) ** -10)


def slope(s):  # 1/mm
    return diff(travel, s, 2, h=mpf(10) ** -8)


def rate(s):
    first = K / lr(s) ** 2
    return first, -K * s * slope(s) / lr(s) ** 3


def show(name, *values):
    print(name, *[mp.nstr(v, 8) for v in values])


for i in range(11):
    s = STROKE * i / 10
    first, second = rate(s)
    show("row", travel(s), lr(s), 1000 * slope(s), first, second, first + second)
middle = STROKE / 2
stroke_at = lambda w, near: findroot(lambda s: travel(s) - w, near)
force = lambda w: K * stroke_at(w, middle) / lr(stroke_at(w, middle))
show("about the middle", force(travel(middle) - mpf("0.5")), force(travel(middle) + mpf("0.5")))
turn = findroot(slope, (mpf(60), mpf(61)))
show("least ratio", travel(turn), lr(turn))

# Lesson 5: readings.
n = 25
x = [STROKE * i / n for i in range(n + 1)]
y = [travel(s) + (mpf("0.1") * sin(mpf(7 * i * i)) if i else 0) for i, s in enumerate(x)]
show("neighbours", max(abs((y[i] - y[i - 1]) / (x[i] - x[i - 1]) - lr((x[i] + x[i - 1]) / 2)) for i in range(1, n + 1)))
A = matrix(n + 1, 4)
for i in range(n + 1):
    for j in range(4):
        A[i, j] = (x[i] / STROKE) ** (j + 1)
b = lu_solve(A.T * A, A.T * matrix(y))
fitted = lambda s: sum(b[j] * (j + 1) * (s / STROKE) ** j for j in range(4)) / STROKE
show("curve near all", max(abs(fitted(STROKE * i / 160) - lr(STROKE * i / 160)) for i in range(161)))

# Lesson 5: the spring, with 1 mm of preload.
W = travel(STROKE)
target = stroke_at(mpf("0.28") * W, mpf(15))
ideal = lambda load: load * lr(target) / (target + 1)
load = (mpf("0.6") * 96 - 3) * G0
k = ideal(load) / LBF_IN
effects = [2 * mpf("0.6") * G0, mpf("0.01") * 96 * G0]
effects = [k * e / load for e in effects] + [k * mpf("0.005")]
u = sqrt(sum(e * e for e in effects))
show("ideal", k, u, *effects)
show("shares", *[e * e / u / u for e in effects])
half = [e / 4 if i == 0 else e for i, e in enumerate(effects)]
show("weighed", sqrt(sum(e * e for e in half)))


def edge(soft, hard):
    """The ideal rate at which two springs miss the target by as much."""
    rest = lambda rate, load: travel(findroot(lambda s: rate * LBF_IN * (s + 1) - load * lr(s), target))
    at = findroot(lambda load: rest(soft, load) + rest(hard, load) - 2 * travel(target), load)
    return ideal(at) / LBF_IN


for soft, hard, above in [(450, 475, False), (475, 500, True)]:
    soft, hard = mpf(soft), mpf(hard)
    e = edge(soft, hard)
    ue = mpf("0.02") * sqrt((soft * diff(lambda r: edge(r, hard), soft)) ** 2 + (hard * diff(lambda r: edge(soft, r), hard)) ** 2)
    z = abs(e - k) / sqrt(u * u + ue * ue)
    show("edge", e, ue, erfc(z / sqrt(2)) / 2)
