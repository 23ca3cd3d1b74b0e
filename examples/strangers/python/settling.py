"""Sag: where an end comes to rest, and the spring or fill that brings it to a target."""

from mpmath import mp, mpf

from bracket import root
from chambers import AirSpring, NoFill, fill_for
from laws import same
from pump import fill_by, spring_of, stroke_of, too_few_strokes

GRAVITY = mpf("9.80665")
PARTS = 64  # of the travel, looked through for the first or last place


def crossing(f, high, last=False):
    """The first (or last) place from 0 to high at which f comes up through 0; None if none."""
    places = [high * i / PARTS for i in range(PARTS + 1)]
    values = [f(x) for x in places]
    found = None
    for i in range(PARTS):
        if values[i] <= 0 < values[i + 1] or values[i] < 0 <= values[i + 1]:
            found = (places[i], places[i + 1])
            if not last:
                break
    return root(f, *found) if found else None


def target(given):
    """The stroke at which the wheel has sagged as wanted."""
    curve = given.curve.model
    return curve.stroke_at(given.sag * curve.travel_full)


def check_settle(given):
    if not given.all_clean():
        return
    end = given.end_model
    least, most = end.force_at_stroke(mpf(0)), end.force_at_stroke(end.stroke)
    if given.load < least and not same(given.load, least):
        given.refuse_as("topped_out")
    elif given.load > most and not same(given.load, most):
        given.refuse_as("bottomed_out")


def settle(given):
    end, load, friction = given.end_model, given.load, given.friction or mpf(0)
    curve, law = end.curve, end.law
    excess = lambda s, f: law.force(s) + f - load * curve.ratio(s)
    if excess(mpf(0), 0) >= 0 or same(end.force_at_stroke(mpf(0)), load):
        s = mpf(0)
    else:
        s = crossing(lambda s: excess(s, 0), end.stroke)
        s = end.stroke if s is None else s
    low = mpf(0) if excess(mpf(0), friction) >= 0 else crossing(lambda x: excess(x, friction), end.stroke)
    high = crossing(lambda x: excess(x, -friction), end.stroke, last=True)
    if not friction:
        low = high = s
    elif high is None:
        high = s if excess(mpf(0), -friction) >= 0 else end.stroke
    rate = end.rate_at_stroke(s)
    travel = curve.travel(s)
    return {
        "travel": travel,
        "stroke": s,
        "sag": travel / curve.travel_full,
        "shock_sag": s / curve.stroke,
        "travel_low": curve.travel(low),
        "travel_high": curve.travel(high),
        "wheel_rate": rate,
        "frequency": mp.sqrt(max(rate, mpf(0)) * GRAVITY / load) / (2 * mp.pi),
    }


def rate_for(curve, load, s, preload):
    return load * curve.ratio(s) / (s + preload)


def rate(given):
    curve, s = given.curve.model, target(given)
    return {
        "rate": rate_for(curve, given.load, s, given.preload or mpf(0)),
        "stroke": s,
        "spring_force": given.load * curve.ratio(s),
    }


def fill_to_target(given, load, blame):
    """The fill that carries a load at the wheel on target; blame is who is named for the load."""
    s = target(given)
    if s > given.airspring.travel:
        given.refuse("sag")
        return
    try:
        given.set("answer", fill_for(given.airspring, load * given.curve.model.ratio(s), s))
    except NoFill as none:
        given.refuse("sag" if none.where == "at" else blame)


def check_fill(given):
    if given.all_clean():
        fill_to_target(given, given.load, "load")


def fill(given):
    return {"fill": given.answer}


def check_sag_calibrate(given):
    curve_good = given.good("curve")
    for i, reading in enumerate(given.readings or []):
        if reading is None or not curve_good:
            continue
        curve = given.curve.model
        for name in ("stroke", "stroke_back"):
            if reading.good(name) and getattr(reading, name) > curve.stroke:
                reading.refuse(name)
        if reading.good("load", "stroke") and reading.right("stroke_back"):
            if reading.load * curve.ratio(stroke_of(reading)) > mpf("1e9"):
                reading.refuse("load")
    too_few_strokes(given)
    known = ("readings", "curve", "ambient", "outside_diameter")
    if given.good(*known) and given.right("ring_error", "gauge_error") and given.negative_chamber is not None:
        ratio = given.curve.model.ratio
        spring = spring_of(given, lambda r: (r.load or mpf(0)) * ratio(stroke_of(r)))
        if given.all_clean():
            s = target(given)
            fill_by(given, spring, given.load * ratio(s), s, ("load", "sag"))


def check_correct(given):
    if given.airspring and given.preload:
        given.refuse("preload")
    spring = given.airspring if given.airspring is not None else given.rate
    known = spring is not None and given.right("rate", "airspring", "preload")
    if known and given.good("measured_stroke", "curve"):
        ends = [given.curve.model.stroke] + ([given.airspring.travel] if given.airspring else [])
        if given.measured_stroke >= min(ends):
            given.refuse("measured_stroke")
        elif given.airspring and AirSpring(given.airspring).force(given.measured_stroke) <= 0:
            given.refuse("measured_stroke")
    if given.all_clean() and given.airspring:
        fill_to_target(given, load_measured(given), "measured_stroke")


def load_measured(given):
    s, ratio = given.measured_stroke, given.curve.model.ratio(given.measured_stroke)
    if given.airspring:
        return AirSpring(given.airspring).force(s) / ratio
    return given.rate * (s + (given.preload or 0)) / ratio


def correct(given):
    load = load_measured(given)
    if given.airspring:
        return {"load": load, "fill": given.answer}
    return {"load": load, "rate": rate_for(given.curve.model, load, target(given), given.preload or mpf(0))}


def check_bands(given):
    before = None
    for i, k in enumerate(given.rates or []):
        if k is None or not k > 0:
            continue
        if before is not None and k <= before:
            given.refuse(f"rates[{i}]")
        else:
            before = k
    if given.good("rear_share", "end"):
        share = given.rear_share if given.end == "rear" else 1 - given.rear_share
        if share < mpf("1e-6"):
            given.refuse("rear_share")
    if given.all_clean():
        bands_of(given)


def bands_of(given):
    curve, s = given.curve.model, target(given)
    full, wanted = curve.travel_full, given.sag * curve.travel_full
    preload, unsprung = given.preload or mpf(0), given.unsprung or mpf(0)
    share = given.rear_share if given.end == "rear" else 1 - given.rear_share
    mass = lambda load: (load / GRAVITY + unsprung) / share - given.bike_mass

    def load(k, w):
        s = curve.stroke_at(w)
        return k * (s + preload) / curve.ratio(s)

    ideal = [mass(k * (s + preload) / curve.ratio(s)) for k in given.rates]
    for i, m in enumerate(ideal):
        if m <= 0:
            given.refuse(f"rates[{i}]")
            return
    edges = []
    for i, (soft, hard) in enumerate(zip(given.rates, given.rates[1:])):
        difference = lambda u: load(soft, wanted + u) - load(hard, wanted - u)
        u = crossing(difference, min(wanted, full - wanted))
        edge = mass(load(soft, wanted + u)) if u is not None else None
        if edge is None or not ideal[i] < edge < ideal[i + 1]:
            given.refuse(f"rates[{i + 1}]")
            return
        edges.append(edge)
    given.set("answer", {"ideal_mass": ideal, "edge_mass": edges})


def bands(given):
    return given.answer


def reserve(given):
    end = given.end_model
    energy = end.law.energy(end.stroke)
    return {
        "energy": energy,
        "drop_height": energy / given.load - end.travel,
        "full_force": end.force_at_stroke(end.stroke),
    }


def check_implied(given):
    s, error, end = given.stroke, given.error, given._values.get("end_model")
    if end is None or not given.good("stroke"):
        return
    if s >= end.stroke:
        given.refuse("stroke")
    elif given.good("error") and error >= min(s, end.stroke - s):
        given.refuse("error")
    if given.all_clean() and end.law.force(s) <= 0:
        given.refuse("stroke")


def implied(given):
    end, s, error, friction = given.end_model, given.stroke, given.error, given.friction or mpf(0)
    load = lambda s, f: (end.law.force(s) + f) / end.curve.ratio(s)
    return {
        "load": load(s, 0),
        "load_low": max(load(s - error, -friction), mpf(0)),
        "load_high": load(s + error, friction),
    }


def damping(given):
    return {"damping": 2 * given.damping_ratio * mp.sqrt(given.wheel_rate * given.load / GRAVITY)}


# Masses.


def scales(given):
    return given.front_scale is not None or given.rear_scale is not None


def share_of(given):
    """q: part of the weight on the rear wheel."""
    if scales(given):
        return given.rear_scale / (given.front_scale + given.rear_scale)
    if given.rear_share is not None:
        return given.rear_share
    return given.mass_centre_behind_front_axle / given.wheelbase


def loads_of(given):
    """Loads of the wheels on the ground."""
    if scales(given):
        return given.front_scale * GRAVITY, given.rear_scale * GRAVITY
    q, weight = share_of(given), (given.rider_mass + given.bike_mass) * GRAVITY
    return (1 - q) * weight, q * weight


def check_masses(given):
    share, centre = given.rear_share, given.mass_centre_behind_front_axle
    any_scale = scales(given) or not given.right("front_scale", "rear_scale")
    if any_scale:
        for name in ("rear_share", "mass_centre_behind_front_axle"):
            if getattr(given, name) is not None or name in given._document and not given.right(name):
                given.refuse(name)
        if given.good("front_scale", "rear_scale", "bike_mass"):
            if given.front_scale + given.rear_scale <= given.bike_mass:
                given.refuse("bike_mass")
    elif share is not None and centre is not None:
        given.refuse("rear_share")
    elif share is None and centre is None:
        # One of the two is wanted; the wheelbase says which.
        named = "rear_share" if given.wheelbase is None else "mass_centre_behind_front_axle"
        other = "mass_centre_behind_front_axle" if named == "rear_share" else "rear_share"
        if named not in given._document or given._document[named] is not None:
            given.take_back_missing(other)
    if given.good("mass_centre_behind_front_axle", "wheelbase") and centre >= given.wheelbase:
        given.refuse("mass_centre_behind_front_axle")
    if given.mass_centre_height is not None and given.wheelbase is None and given.right("wheelbase"):
        given.refuse("wheelbase")
    radius = "rear_wheel_radius" if given.rear_wheel_radius is not None else "wheel_radius"
    if given.good("chainstay_length", "bottom_bracket_height", radius) and given.right("rear_wheel_radius"):
        if given.chainstay_length <= abs(given.bottom_bracket_height - getattr(given, radius)):
            given.refuse("chainstay_length")
    if given.clean():
        front, rear = loads_of(given)
        if front <= (given.unsprung_front or 0) * GRAVITY:
            given.refuse("unsprung_front")
        if rear <= (given.unsprung_rear or 0) * GRAVITY:
            given.refuse("unsprung_rear")


def loads(given):
    front, rear = loads_of(given)
    return {
        "front_load": front - (given.unsprung_front or 0) * GRAVITY,
        "rear_load": rear - (given.unsprung_rear or 0) * GRAVITY,
        "rear_share": share_of(given),
        "front_wheel_load": front,
        "rear_wheel_load": rear,
    }


RULES = {
    "sag.settle": check_settle,
    "sag.fill": check_fill,
    "sag.calibrate": check_sag_calibrate,
    "sag.correct": check_correct,
    "sag.bands": check_bands,
    "sag.implied": check_implied,
    "masses": check_masses,
}
COMPUTATIONS = {
    "sag.settle": settle,
    "sag.rate": rate,
    "sag.fill": fill,
    "sag.calibrate": fill,
    "sag.correct": correct,
    "sag.bands": bands,
    "sag.reserve": reserve,
    "sag.implied": implied,
    "sag.damping": damping,
    "sag.loads": loads,
}
