"""Reads what a case is given, as the description's JSON says, and names what is bad.

Quantities become numbers of 40 digits in SI. Everything that holds for all
computations is taken from description/*.json: kinds, units, ranges, what may be
left out, what excludes what. What a single computation demands beside that is a
rule, a function that a module of this program gives for the form.
"""

import json
import pathlib
import re
from decimal import Decimal
from fractions import Fraction

from mpmath import mp, mpf

mp.dps = 40

NUMBER = re.compile(r"[+-]?(?:[0-9]+(?:\.[0-9]*)?|\.[0-9]+)(?:[eE][+-]?[0-9]+)?")
WHITE = " \t\n\r"
LONGEST_LIST = 1000

DATA = {}  # the dataset that is in use, as "dataset"


class Json(dict):
    """A JSON object that knows the names it has twice."""

    def __init__(self, pairs=()):
        super().__init__(pairs)
        names = [name for name, _ in pairs]
        self.twice = {name for name in names if names.count(name) > 1}


def loads(line):
    """Reads JSON; a number with a point or an exponent keeps its decimal digits."""
    return json.loads(line, object_pairs_hook=Json, parse_float=Decimal)


class Unreadable(Exception):
    """A text that is no quantity of its kind."""


class Kind:
    """A kind of quantity: its units and its least value."""

    def __init__(self, description):
        self.least = description.get("least")
        self.units = {}
        for unit in description["units"]:
            for symbol in unit["symbols"]:
                self.units[symbol] = (unit["factor"], Fraction(unit.get("zero", "0")))

    def read(self, text):
        text = text.strip(WHITE)
        number = NUMBER.match(text)
        if not number:
            raise Unreadable(text)
        symbol = text[number.end() :].lstrip(WHITE)
        if symbol not in self.units:
            raise Unreadable(text)
        factor, zero = self.units[symbol]
        digits = Decimal(number.group())
        if digits.adjusted() > 400:
            raise Unreadable(text)
        shifted = mpf(str(digits)) + exact(zero)
        value = shifted * factor_of(factor)
        if mp.isinf(mpf(float(digits))) or mp.isinf(mpf(float(value))):
            raise Unreadable(text)
        if self.least is not None and value < self.least:
            raise Unreadable(text)
        return value


def exact(fraction):
    return mpf(fraction.numerator) / fraction.denominator


def factor_of(text):
    """The factor of a unit: a decimal number, a fraction of two, or pi/180."""
    value = mpf(1)
    for i, part in enumerate(text.split("/")):
        part = mp.pi if part == "pi" else mpf(part)
        value = value / part if i else value * part
    return value


class Dataset:
    """The folder of the dataset: its description and the data that cases look up."""

    def __init__(self, folder):
        self.folder = pathlib.Path(folder)
        self.kinds = {q["kind"]: Kind(q) for q in self.load("description/format.json")["quantities"]}
        self.forms = {}
        for path in sorted((self.folder / "description").glob("*.json")):
            page = json.loads(path.read_text(encoding="utf-8"))
            for form in page.get("forms", []) + page.get("computations", []):
                self.forms[form["name"]] = form

    def load(self, name):
        return json.loads((self.folder / name).read_text(encoding="utf-8"))

    def including(self, name):
        """Names of the forms that a form includes, the innermost first, and itself."""
        names = []
        for included in self.forms[name].get("includes", []):
            names += [n for n in self.including(included) if n not in names]
        return names + [name]

    def fields(self, name):
        """Descriptions of all fields of a form by name; of two of one name its own holds."""
        fields = {}
        for form in self.including(name):
            fields.update({field["name"]: field for field in self.forms[form]["inputs"]})
        return fields


# Why a field is named. The first two make the rest uncertain.
UNKNOWN, WRONG_TYPE, UNREADABLE, RANGE, MISSING, CONDITION = range(6)


NO_FIELD = ("locks", "topped_out", "bottomed_out")


class Faults:
    """The bad fields of a case, by path."""

    def __init__(self):
        self.found = []

    def add(self, path, why):
        if (path, why) not in self.found:
            self.found.append((path, why))

    def below(self, path):
        """Whether the path itself or anything inside is bad."""
        inside = (path + ".", path + "[")
        return any(not path or p == path or p.startswith(inside) for p, _ in self.found)

    def names(self):
        """What an answer names, by the rules of refusals."""
        why = [w for _, w in self.found]
        unknown, wrong = why.count(UNKNOWN), why.count(WRONG_TYPE)
        told = {UNKNOWN, WRONG_TYPE, UNREADABLE, RANGE}
        if not wrong and unknown != 1:
            told.add(MISSING)
        if not wrong and not unknown:
            told.add(CONDITION)
        names, seen = [], set()
        for path, w in self.found:
            last = path.split(".")[-1]
            path = last if last in NO_FIELD else path
            plain = re.sub(r"\[[0-9]+\]$", "", path)
            if w in told and plain not in seen:
                seen.add(plain)
                names.append(path)
        return names


class Given:
    """What a form is given, in SI. A field that is left out is None."""

    def __init__(self, path, faults, document, fields):
        self._path, self._faults, self._document = path, faults, document
        self._values = dict.fromkeys(fields)

    def __getattr__(self, name):
        if name.startswith("_"):
            raise AttributeError(name)
        return self._values[name]

    def model_or_none(self):
        """What a rule has made of a form that is good."""
        return self._values.get("model")

    def set(self, name, value):
        """Sets a value that is left out, or one that is worked out of the others."""
        self._values[name] = value

    def path(self, name=""):
        return ".".join(filter(None, (self._path, name)))

    def good(self, *names):
        """Whether all these are given and nothing is bad in them."""
        return all(self._values.get(n) is not None and not self._faults.below(self.path(n)) for n in names)

    def right(self, *names):
        """Whether nothing is bad in any of these; they may be left out."""
        return not any(self._faults.below(self.path(n)) for n in names)

    def clean(self):
        """Whether nothing at all is bad in this object."""
        return not self._faults.below(self._path)

    def all_clean(self):
        """Whether nothing at all is bad in the whole case."""
        return not self._faults.found

    def refuse(self, name, why=CONDITION):
        self._faults.add(self.path(name), why)

    def hide(self, name):
        """Takes back what was said against a field."""
        self._faults.found = [(p, w) for p, w in self._faults.found if p != self.path(name)]

    def is_missing(self, name):
        return (self.path(name), MISSING) in self._faults.found

    def take_back_missing(self, name):
        """Takes back that a field is missing."""
        self._faults.found = [f for f in self._faults.found if f != (self.path(name), MISSING)]

    def hide_all_but(self, name):
        """Takes back what was said against all other fields of a computation."""
        self._faults.found = [(p, w) for p, w in self._faults.found if p == name or p.startswith(name + ".")]

    def refuse_itself(self):
        self._faults.add(self._path, CONDITION)

    def refuse_as(self, name):
        """Names what concerns no single field, by one of NO_FIELD."""
        self._faults.add(self.path(name), CONDITION)


class Reader:
    """Reads forms of a dataset; rules are the conditions of forms, by name."""

    def __init__(self, dataset, rules):
        self.dataset, self.rules = dataset, rules

    def read(self, computation, document):
        faults = Faults()
        return self.form(computation, document, "", faults), faults

    def form(self, name, document, path, faults):
        fields = self.dataset.fields(name)
        given = Given(path, faults, document, fields)
        for key in document:
            if key in document.twice:
                faults.add(given.path(key), WRONG_TYPE)
            elif key not in fields:
                faults.add(given.path(key), UNKNOWN)
        for key, field in fields.items():
            if key in document and key not in document.twice:
                given.set(key, self.field(field, document[key], given.path(key), faults))
            elif "left_out" not in field and self.is_form(field):
                given.set(key, self.form(field["kind"], Json(), given.path(key), faults))
            elif "left_out" not in field:
                faults.add(given.path(key), MISSING)
        self.what_excludes_what(name, fields, given)
        for form in self.dataset.including(name):
            if form in self.rules:
                self.rules[form](given)
        return given

    def is_form(self, field):
        return field["kind"] in self.dataset.forms and not field.get("list") and not field.get("map")

    def what_excludes_what(self, name, fields, given):
        def is_given(key):
            return given._values.get(key) is not None or (key in given._document and not given.right(key))

        def is_given_and_not_0(key):
            return is_given(key) and not (given.right(key) and given._values[key] == 0)

        alone = set()
        for form in self.dataset.including(name):
            for choice in self.dataset.forms[form].get("one_of", []):
                chosen = [key for key in choice["of"] if is_given(key)]
                alone.update(choice["of"])
                if form == "curve" and not chosen and is_given("travel"):
                    continue  # travel alone counts as constant being given
                if not chosen and choice["none"]:
                    given.refuse(choice["none"], MISSING)
                elif not chosen:
                    given._faults.add(given._path, MISSING)
                elif len(chosen) > 1 and choice["none"]:
                    self.rules.get("one_of " + form, refuse_all_but_the_first)(given, chosen)
                elif len(chosen) > 1:
                    given.refuse_itself()
        for key, field in fields.items():
            if is_given(key):
                continue
            if "needed_with" in field and is_given_and_not_0(field["needed_with"]):
                given.refuse(key, MISSING)
            elif "needed_without" in field and not any(map(is_given, field["needed_without"])):
                given.refuse(key, MISSING)

    def field(self, field, value, path, faults):
        if field.get("map"):
            if not isinstance(value, dict):
                faults.add(path, WRONG_TYPE)
                return None
            inner = {k: v for k, v in field.items() if k != "map"}
            for key in value.twice:
                faults.add(f"{path}.{key}", WRONG_TYPE)
            return {key: self.field(inner, element, f"{path}.{key}", faults) for key, element in value.items()}
        if not field.get("list") and "count" not in field:
            return self.single(field, value, path, faults)
        count = field.get("count")
        if not isinstance(value, list) or len(value) > LONGEST_LIST or (count and len(value) != count):
            faults.add(path, WRONG_TYPE)
            return None
        if len(value) < field.get("least", 0):
            faults.add(path, MISSING)
            return None
        return [self.single(field, element, f"{path}[{i}]", faults) for i, element in enumerate(value)]

    def single(self, field, value, path, faults):
        kind = field["kind"]
        if kind in self.dataset.forms:
            if not isinstance(value, Json):
                faults.add(path, WRONG_TYPE)
                return None
            return self.form(kind, value, path, faults)
        if kind == "text" or kind == "flag":
            if not isinstance(value, str if kind == "text" else bool):
                faults.add(path, WRONG_TYPE)
                return None
            if value not in field.get("choices", [value]):
                faults.add(path, CONDITION)
                return None
            return value
        try:
            number = self.number(kind, value)
        except Unreadable:
            faults.add(path, UNREADABLE)
            return None
        if number == 0 and field.get("zero_is_left_out"):
            return None
        if not in_range(number, field.get("range", {})):
            faults.add(path, RANGE)
        return number

    def number(self, kind, value):
        if kind in self.dataset.kinds:
            if not isinstance(value, str):
                raise Unreadable(value)
            return self.dataset.kinds[kind].read(value)
        if isinstance(value, bool) or not isinstance(value, int if kind == "integer" else (int, Decimal)):
            raise Unreadable(value)
        if isinstance(value, Decimal) and value.adjusted() > 400 or mp.isinf(mpf(float(value))):
            raise Unreadable(value)
        return value if kind == "integer" else mpf(str(value))


def in_range(number, bounds):
    """Whether a number is in a range, as the nearest 64-bit float, in which the bounds are."""
    number = float(number)
    return not (
        ("from" in bounds and number < bounds["from"])
        or ("over" in bounds and number <= bounds["over"])
        or ("to" in bounds and number > bounds["to"])
        or ("below" in bounds and number >= bounds["below"])
    )


def refuse_all_but_the_first(given, chosen):
    for name in chosen[1:]:
        given.refuse(name)
