"""What the generators of published examples share: sources, and printed values held
against what their stated data give.

A source says in its place how it was read: in the original, or in what quotes it or
works it ("seen in ..."). A printed value is held to half a unit in its last digit
where no tolerance is given. The program stops where what the data give is further
off, so every value here holds by arithmetic; a case says in second what came out.
"""
import sys

from mpmath import mp, mpf

from casefile import Number, UNITS, digits, si

UNIVERSITY = dict(title="University Physics (OpenStax; Ling, Sanny, Moebs)",
                  read="read in the book's source text, repository openstax/osbooks-university-physics-bundle, commit d0ed34a5",
                  url="https://github.com/openstax/osbooks-university-physics-bundle")
COLLEGE = dict(title="College Physics 2e (OpenStax)", read="read in the book's source text, repository openstax/osbooks-college-physics-bundle, commit fd1b25df",
               url="https://github.com/openstax/osbooks-college-physics-bundle")
STATICS = dict(title="Engineering Statics: Open and Interactive (Baker, Haynes)",
               read="read in the book's source text, repository dantheboatman/EngineeringStatics, commit 3ca253a9",
               url="https://github.com/dantheboatman/EngineeringStatics")


def companion(title, notebook):
    """A book that was seen in a program alone that works its examples."""
    return dict(title=title, read=f"seen in the printed output of the FOSSEE Python textbook companion, {notebook}; the book was not opened",
                url="https://github.com/FOSSEE/Python-Textbook-Companions")


def book(file, source, where, first=701):
    """A group of published cases of a place in a source."""
    return file.group({"title": source["title"], "where": f"{where}; {source['read']}", "url": source["url"]}, "published", first)


def half(printed):
    """Half a unit in the last digit of a printed value, in its unit."""
    number, _, unit = str(printed).partition(" ")
    mantissa, _, exponent = number.lower().partition("e")
    places = len(mantissa.partition(".")[2])
    text = ("0." + "0" * places + "5") + ("e" + exponent if exponent else "")
    return f"{text} {unit}" if unit else text


def size(text):
    """The SI size of a difference: si, but for temperatures without their zero."""
    text = text.replace("N·s/m", "N")
    return si(text.replace("°C", "K")) if isinstance(text, str) else si(text)


def holds(group, computes, given, expect, got, tolerance=None, note="", second=""):
    """Adds a case that expects printed values, after holding them against got, in SI.
    A list of values has a list of results."""
    limits = {}
    came = []
    for name, printed in expect.items():
        limits[name] = (tolerance or {}).get(name, half(printed[0] if isinstance(printed, list) else printed))
        values = list(zip(printed, got[name], strict=True)) if isinstance(printed, list) else [(printed, got[name])]
        for text, value in values:
            limit = limits[name]
            assert not isinstance(limit, Number), "a number is a relative tolerance"
            allowed = size(limit) if isinstance(limit, str) else mpf(str(limit)) * abs(si(text))
            if not abs(si(text) - value) <= allowed * (1 + mpf("1e-12")):
                sys.exit(f"{computes} {given}: {name} is printed as {text}, and its data give {came_out(text, value)}")
            came.append(f"{name} {came_out(text, value)}")
    group.add(computes, given, expect, limits, second or f"recomputed at {mp.dps} digits from the stated data: {', '.join(came)}", note)


def came_out(printed, value):
    """A value in SI to nine digits, in the unit of its printed text."""
    unit = str(printed).partition(" ")[2] if isinstance(printed, str) else ""
    if not unit:
        return digits(value, 9)
    if unit == "K":
        return digits(value, 9) + " K"
    return f"{digits(value / UNITS[unit], 9)} {unit}"
