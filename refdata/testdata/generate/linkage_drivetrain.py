"""Writes data/cases/linkage-drivetrain.json: chain and brake on a suspension.

The model is drives.py. Confirmed by the textbook construction of two lines where it applies, by
numerical differentiation of the chain's length, by an identity between
anti-squat and kickback, and by the digits of another program. See casefile.py
for how to run it.
"""
from mpmath import mpf

from casefile import File, mpmath_source, num, si, to
from drives import Drive, given, mm

file = File("chain and brake on a suspension")
SCRIPT = "linkage_drivetrain.py"

TOLERANCE = {"anti_squat": 1e-11, "anti_rise": 1e-11, "chain_growth": "1e-9 mm", "kickback_wheel_fixed": "1e-9 deg", "kickback_wheel_rolling": "1e-9 deg"}
TWICE = "rate of the chain by numerical differentiation, anti-squat against the kickback or by the construction of two lines"


def add(spec, note, digits=None):
    """Adds a case; digits are those of the other program at the last pose."""
    drive = Drive(spec)
    xs = [si(s) for s in spec["at"]]
    for s in xs:
        drive.check(s)
    out = {"anti_squat": num([drive.squat(s) for s in xs]), "anti_rise": num([drive.rise(s) for s in xs]), "chain_growth": to([drive.growth(s) for s in xs], "mm"),
           "kickback_wheel_fixed": to([drive.fixed(s) for s in xs], "deg"), "kickback_wheel_rolling": to([drive.rolling(s) for s in xs], "deg")}
    if spec["ground"] == "front":  # rolling is defined on the level
        del out["kickback_wheel_rolling"]
    for output, last in (digits or {}).items():
        a, b = si(out[output][-1]), si(last)
        assert abs(a - b) <= mpf("1e-14") * max(1, abs(b)), (note, output, a, b)
    g.add("linkage.drivetrain", spec, out, {k: v for k, v in TOLERANCE.items() if k in out}, TWICE + ("; last pose by a separate program" if digits else ""), note)


# At full stroke, by a program written separately, mpmath at 40 digits: anti-squat
# and anti-rise on both grounds, chain growth in mm, kickback fixed and rolling in degrees.
DIGITS = {
    ("a1", 50, None): ("0.8305520123725202", "0.7750162906593705", "0.9113809323365698", "0.8590891222885667", "32.470005042867314", "28.716617991115434", "27.01575825622474"),
    ("a1", 21, None): ("0.9536770015124749", "0.7750162906593705", "1.0273140353135044", "0.8590891222885667", "15.129361206928985", "13.380474861503588", "12.663913921172492"),
    ("a1", 10, None): ("1.167020723356199", "0.7750162906593705", "1.22819608084105", "0.8590891222885667", "8.498281320670229", "7.515918089465391", "7.170312933942154"),
    ("c1", 50, None): ("0.563801812641334", "0.6842737083512488", "0.6708650497281448", "0.7822116423866107", "31.37118088725412", "27.744812982939568", "23.11048528202708"),
    ("c1", 21, None): ("0.42785727103068105", "0.6842737083512488", "0.5452178071935734", "0.7822116423866107", "11.063888471916298", "9.784952553129314", "7.832540989114187"),
    ("c1", 10, None): ("0.1637547708352905", "0.6842737083512488", "0.3011201001221439", "0.7822116423866107", "3.326889310436754", "2.9423158173338297", "2.000646429221449"),
    ("d1", 24, None): ("1.36718889296437", "0.7365455829754678", "1.4277564636628601", "0.83777672091805", "31.85036160531894", "30.03985555845687", "30.20483547284628"),
    ("a2", 24, None): ("3.2922040268869006", "1.036000686309233", "3.286414615391149", "1.1654362098098425", "70.00388887924692", "61.91175308361785", "65.45850086230425"),
    ("a2", 24, "frame"): ("0.053425928803164345", "1.036000686309233", "0.24175180377307204", "1.1654362098098425", "2.9924048867772166", "2.646496293883545", "6.193244072569943"),
    ("a2", 24, "swingarm"): ("0.49014327934787466", "1.036000686309233", "0.6522946184162127", "1.1654362098098425", "13.096237238752058", "11.582370911546153", "15.129118690232552"),
    ("c3", 21, None): ("0.4242577446835193", "0.22811990872382382", "0.5042332228544866", "0.31744833447527543", "8.607541240257808", "7.6125480520537625", "6.929739736140085"),
}
IDLER_ON_FRAME = {"teeth": 16, "at": mm(-18, 196), "on": "frame"}
IDLER_ON_SWINGARM = {"teeth": 16, "at": mm(-48, 200), "on": "swingarm"}
RINGS = [("a1", 32, 50, None), ("a1", 32, 21, None), ("a1", 32, 10, None), ("c1", 32, 50, None), ("c1", 32, 21, None), ("c1", 32, 10, None), ("d1", 30, 24, None),
         ("a2", 32, 24, None), ("a2", 32, 24, IDLER_ON_FRAME), ("a2", 32, 24, IDLER_ON_SWINGARM), ("c3", 32, 21, None)]

g = file.group(mpmath_source(SCRIPT, "invented bikes, eleven poses each, on both grounds"), "computed", 1)
for name, chainring, sprocket, idler in RINGS:
    key = (name, sprocket, idler and idler["on"])
    squat, rise, squat_front, rise_front, growth, fixed, rolling = DIGITS[key]
    chain = {"chain_growth": f"{growth} mm", "kickback_wheel_fixed": f"{fixed} deg"}
    note = f"{name}, {chainring} × {sprocket}" + (f", idler on the {idler['on']}" if idler else "")
    add(given(name, chainring, sprocket, "level", idler), note + ", level", {"anti_squat": squat, "anti_rise": rise, **chain, "kickback_wheel_rolling": f"{rolling} deg"})
    add(given(name, chainring, sprocket, "front", idler), note + ", front axle in place", {"anti_squat": squat_front, "anti_rise": rise_front, **chain})

g = file.group(mpmath_source(SCRIPT, "a floating caliper, other idlers, other bikes"), "computed", 101)
FLOAT = {  # anti-rise at full stroke, by the other program
    ("chainstay", "level"): "0.6848528741555528", ("chainstay", "front"): "0.7827469385111843", ("rocker", "level"): "2.4613869476777035", ("rocker", "front"): "2.424715089362457"}
for body in ("chainstay", "rocker"):
    for ground in ("level", "front"):
        add(given("c1", 32, 21, ground, brake_on=body), f"c1, caliper on the {body}", {"anti_rise": FLOAT[body, ground]})
add(given("c1", 32, 21, "level", brake_on="seatstay"), "c1, caliper on the axle's own body, named: as without a name")
add(given("a1", 32, 21, "level", brake_on="frame"), "a caliper on the frame does not turn: no chain, only the axle's path counts")
add(given("d1", 32, 32, "level"), "chainring and sprocket of one size: the run is parallel to the line of centres")
add(given("a2", 32, 24, "front", {"teeth": 14, "at": mm(-30, 190), "on": "frame"}, brake_on="frame"), "idler on the frame, caliper on the frame")
add(given("d1", 30, 21, "level", {"teeth": 16, "at": mm(-78, 110), "on": "lower"}), "idler on a link")
add(given("d1", 30, 21, "front", {"teeth": 16, "at": mm(-78, 110), "on": "lower"}, brake_on="upper"), "idler on one link, caliper on the other")
add(given("c2", 34, 17, "level", {"teeth": 12, "at": mm(-20, 150), "on": "rocker"}), "idler on the rocker")
add(given("d2", 32, 24, "level", {"teeth": 16, "at": mm(-60, 170), "on": "rear"}), "idler on the axle's own body: only the run from it to the chainring changes")
add(given("f2", 30, 18, "front"), "six-bar")
add(given("e1", 30, 18, "level", wheel_radius="0.345 m", front_axle_x="75 cm", mass_centre=["2 in", "1.05 m"]), "other units, another wheel")
add(given("b1", 36, 28, "level", mass_centre=mm(-150, 1300)), "the mass centre further back: on level ground only its height counts")
add(given("b1", 36, 28, "front", mass_centre=mm(-150, 1300)), "the same with the front axle in place, where that tilts the ground below it")
IC = to(mpf("14.46784191624455376402535") / 1000, "mm", 17)
add(given("c3", 32, 21, "level", at=[IC]), "no instant centre at this pose: the measures are as smooth as ever")
add(given("c3", 32, 21, "front", at=[IC]), "the same with the front axle in place")
for carrier in ("seatstay", "chainstay"):
    spec = given("c1", 32, 21, "level")
    spec["mechanism"].update(axle="H", carrier=carrier)
    add(spec, f"the axle is a pivot of two bodies, and the {carrier} carries wheel and caliper")

g = file.group(mpmath_source(SCRIPT, "a chainring off the bottom bracket or on a moving body, a front wheel of another size"), "computed", 201)
for ground in ("level", "front"):
    add(given("c1", 20, 14, ground, chainring_at=mm(25, 110), front_wheel_radius="300 mm"), "chainring off the bottom bracket, a smaller front wheel")
add(given("a2", 20, 14, "level", chainring_at=mm(-40, 150), chainring_on="swingarm"), "chainring on the wheel's own body: anti-squat is the anti-rise of its brake")
add(given("d1", 20, 14, "front", chainring_at=mm(-30, 95), chainring_on="lower", front_wheel_radius="0.42 m"), "chainring on a link, a larger front wheel")
add(given("a2", 20, 24, "front", {"teeth": 14, "at": mm(-18, 196), "on": "frame"}, chainring_at=mm(-60, 60), chainring_on="swingarm"), "chainring on the swingarm, idler on the frame")

file.write()
