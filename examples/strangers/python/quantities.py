"""The text of a quantity of any kind."""

from reading import DATA, Unreadable


def check_convert(given):
    if not given.right("kind"):
        given.hide("value")
    elif given.good("kind", "value"):
        try:
            given.set("answer", DATA["dataset"].kinds[given.kind].read(given.value))
        except Unreadable:
            given.refuse("value")


def convert(given):
    return {"value": given.answer}


RULES = {"units.convert": check_convert}
COMPUTATIONS = {"units.convert": convert}
