"""The package fluids on the atmosphere and on compression of an ideal gas:
sudo apt-get install python3-fluids.

Its ATMOSPHERE_1976 is the U.S. Standard Atmosphere, 1976, by geometric
altitude; the cases go by geopotential altitude, so that it is asked for
Z = rH/(r − H). A fill elsewhere is what a sealed rigid chamber keeps, with both
ambients from that atmosphere. Its compressor work per mole, over the exponent,
is the work on a closed amount of gas, and its outlet temperature gives the
volume. Each must agree to the case's own tolerance, but not closer than 1e-12.
"""
import math
import sys

sys.path.insert(0, "testdata/authorities/lib")
from authority import Authority, si

a = Authority(__file__)
try:
    import fluids
    from fluids.compressible import isentropic_T_rise_compression, isentropic_work_compression, isothermal_work_compression
except ImportError as e:
    a.need(False, str(e))

RADIUS = 6356766.0  # m, of the standard's geopotential
RELATIVE = 1e-12


def air(altitude):
    h = si(altitude)
    return fluids.ATMOSPHERE_1976(RADIUS * h / (RADIUS - h))


def allowed(case, output, want, at_least=RELATIVE):
    """The tolerance of the case, but not less than what doubles can keep here."""
    tolerance = case.get("tolerance", {})
    t = tolerance.get(output, tolerance.get("*", 0))
    return max(si(t) if isinstance(t, str) else t * abs(want), at_least * abs(want))


for case in a.cases("airspring.atmosphere"):
    state = air(case["given"]["altitude"])
    for output, got in (("pressure", state.P), ("temperature", state.T)):
        if output in case["expect"]:
            want = si(case["expect"][output])
            a.compare(case, output, want, got, allowed(case, output, want))

for case in a.cases("airspring.conditions"):
    given = case["given"]
    start, end = (air(given[k].get("altitude", "0 m")).P for k in ("from", "to"))
    warm = si(given["to"]["temperature"]) / si(given["from"]["temperature"])
    want = si(case["expect"]["fill"])
    # the difference of two absolute pressures: to 1e-12 of these
    a.compare(case, "fill", want, (si(given["fill"]) + start) * warm - end, max(allowed(case, "fill", want), RELATIVE * (abs(want) + start)))

for case in a.cases("airspring.polytropic"):
    given, expect = case["given"], case["expect"]
    p, v, to, n = (si(given[k]) for k in ("pressure", "volume", "to_volume", "exponent"))
    t = 300.0
    moles = p * v / (fluids.constants.R * t)
    if "pressure" in expect:
        end = si(expect["pressure"])
        outlet = t if n == 1 else isentropic_T_rise_compression(T1=t, P1=p, P2=end, k=n, eta=1)
        # what it says of the volume is compared where the pressure is printed
        slack = allowed(case, "pressure", end) / end / n * to
        a.compare(case, "volume at the pressure", to, v * outlet / t * p / end, slack + RELATIVE * to)
    if "work" in expect:
        end = p * (v / to) ** n
        if n == 1:
            per_mole = isothermal_work_compression(P1=p, P2=end, T=t, Z=1)
        else:
            per_mole = isentropic_work_compression(T1=t, k=n, Z=1, P1=p, P2=end, eta=1) / n
        want = si(expect["work"])
        near_one = 1e-15 / abs(n - 1) if n != 1 else 0  # its formula cancels where n is next to 1
        a.compare(case, "work", want, per_mole * moles, allowed(case, "work", want, max(RELATIVE, near_one)))

if not math.isclose(fluids.ATMOSPHERE_1976(0).P, 101325):
    sys.exit("fluids_air.py: the atmosphere is not the standard's at sea level")
a.finish(fluids.__version__)
