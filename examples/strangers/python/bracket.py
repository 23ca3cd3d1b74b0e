"""Roots of functions of one unknown, between two bounds."""

from mpmath import mp, mpf


def root(f, low, high):
    """A root of f between low and high, where f has different signs or is 0.

    The Illinois method: false position that halves the value at a bound that
    stays twice, with a bisection wherever three steps have not halved the bracket.
    """
    low, high = mpf(low), mpf(high)
    f_low, f_high = f(low), f(high)
    if f_low == 0:
        return low
    if f_high == 0:
        return high
    if (f_low > 0) == (f_high > 0):
        raise ValueError("no change of sign")
    enough = (abs(low) + abs(high)) * mpf(10) ** (3 - mp.dps)
    stayed, width, steps = 0, high - low, 0
    while abs(high - low) > enough:
        x = (low * f_high - high * f_low) / (f_high - f_low)
        steps += 1
        if steps % 3 == 0:
            if abs(high - low) > width / 2:
                x = (low + high) / 2
            width = abs(high - low)
        if not min(low, high) < x < max(low, high):
            x = (low + high) / 2
            if not min(low, high) < x < max(low, high):
                break
        f_x = f(x)
        if f_x == 0:
            return x
        if (f_x > 0) == (f_low > 0):
            low, f_low = x, f_x
            f_high = f_high / 2 if stayed == 1 else f_high
            stayed = 1
        else:
            high, f_high = x, f_x
            f_low = f_low / 2 if stayed == -1 else f_low
            stayed = -1
    return (low + high) / 2
