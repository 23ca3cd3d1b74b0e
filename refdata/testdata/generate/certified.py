"""Writes data/cases/certified.json: certified values of statistics, and a
textbook example beside them.

The data are those of NIST's Norris set, as the Debian package python3-scipy
1.10.1 ships it with its tests (scipy/stats/tests/data/nist_linregress/
Norris.dat), read there: certified to 15 digits. Its abscissa stands for mm and
its ordinate for N. See casefile.py for how to run this.
"""
from mpmath import mp, mpf

from casefile import ATM, File, close, si, to
from worked import COLLEGE, book, holds

file = File("certified values")

# x y, in the order of the file
NORRIS = """0.2 0.1  337.4 338.8  118.2 118.1  884.6 888.0  10.1 9.2  226.5 228.1  666.3 668.5  996.3 998.5  448.6 449.1
777.0 778.9  558.2 559.2  0.4 0.3  0.6 0.1  775.5 778.1  666.9 668.8  338.0 339.3  447.5 448.9  11.6 10.8  556.0 557.7
228.1 228.3  995.8 998.0  887.6 888.8  120.2 119.6  0.3 0.3  0.3 0.6  556.8 557.6  339.1 339.3  887.2 888.0  999.0 998.5
779.0 778.9  11.1 10.2  118.3 117.6  229.2 228.9  669.1 668.4  448.9 449.2  0.5 0.2""".split()
x, y = NORRIS[::2], NORRIS[1::2]
assert len(x) == len(y) == 36
CERTIFIED = {"rate": ("1.00211681802045", "N/mm"), "force_at_zero": ("-0.262323073774029", "N"),
             "rate_standard_error": ("0.000429796848199937", "N/mm"), "force_at_zero_standard_error": ("0.232818234301152", "N"),
             "residual_deviation": ("0.884796396144373", "N")}

# Recomputed, and compared with every certified digit.
xs, ys = [mpf(v) for v in x], [mpf(v) for v in y]
n = len(xs)
mean_x, mean_y = mp.fsum(xs) / n, mp.fsum(ys) / n
sxx = mp.fsum((a - mean_x) ** 2 for a in xs)
slope = mp.fsum((a - mean_x) * (b - mean_y) for a, b in zip(xs, ys)) / sxx
zero = mean_y - slope * mean_x
deviation = mp.sqrt(mp.fsum((b - zero - slope * a) ** 2 for a, b in zip(xs, ys)) / (n - 2))
for output, got in (("rate", slope), ("force_at_zero", zero), ("residual_deviation", deviation),
                    ("rate_standard_error", deviation / mp.sqrt(sxx)), ("force_at_zero_standard_error", deviation * mp.sqrt(1 / mpf(n) + mean_x**2 / sxx))):
    close(got, CERTIFIED[output][0], mpf("1e-14"), output)

g = file.group({"title": "NIST Statistical Reference Datasets, Linear Regression, Norris (J. Norris, Calibration of Ozone Monitors)",
                "where": "Norris.dat, certified values (lines 31 to 46) and data (lines 61 to 96), read in the file that SciPy 1.10.1 ships with its tests",
                "url": "https://www.itl.nist.gov/div898/strd/lls/lls.shtml"}, "published", 501)
g.add("spring.readings", {"travel": [v + " mm" for v in x], "force": [v + " N" for v in y]},
      {k: f"{v} {unit}" for k, (v, unit) in CERTIFIED.items()},
      {"*": 1e-11}, "recomputed at 50 digits: every certified digit",
      "Certified to 15 digits, of which sums in double precision can keep fewer: hence the tolerance. Its x stands for mm, its y for N.")

g = book(file, COLLEGE, "module m42216, The Ideal Gas Law, worked example 1", 501)
printed = to(mpf("7.41e5") - ATM, "Pa(g)")
holds(g, "airspring.conditions", {"fill": "598675 Pa(g)", "from": {"temperature": "18.0 °C", "altitude": "0 m"}, "to": {"temperature": "35.0 °C", "altitude": "0 m"}},
      {"fill": printed}, {"fill": si("700000 Pa(a)") * mpf("308.15") / mpf("291.15") - ATM}, {"fill": "500 Pa(g)"},
      "A tyre at 7.00e5 Pa absolute warms to 7.41e5 Pa, printed; both less the standard atmosphere, the tolerance half a unit of the last printed digit.")

file.write()
