"""What is asked about a label in hand, one small question at a time.

Each question of `fieldapp.husbandry.library.QUESTIONS` begins with a gate, named by its key: its
answer is a unit, a form or a number of entries, or that the label is silent, or that what it
says is not known. What follows the gate is named ``key.part`` or ``key.index.part``.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from fieldapp.husbandry.library import QUESTIONS
from fieldapp.husbandry.vocabulary import APPLICATIONS, COURSES, DAYS, MONTHS, WEEKS, word
from fieldapp.rounds.desk_form import Measured, Question, Written
from fieldapp.rounds.look_form import Choice, Number
from fieldapp.words import Phrase, say

#: The label says nothing of it.
SILENT = "not on the label"
#: What the label says is not known.
UNKNOWN = "not known"

#: Conditions under which pieces stay in for times of their own.
STAYS = {"one": ("any",), "two": ("brood", "no or hardly any brood")}
#: Entries of a list: the most lines, doses and temperatures that terms take.
LINES, DOSES, TEMPERATURES = 20, 8, 6
#: Days, in weeks.
_MOST = {"days": 3660, "weeks": 522, "months": 60}
_MOST_AMOUNT = 1e6

#: Small answers by the names of their questions.
Values = Mapping[str, Any]
Options = tuple[tuple[str, Phrase | str], ...]

_UNITS: dict[str, Phrase] = {
    "days": DAYS,
    "weeks": WEEKS,
    "months": MONTHS,
    "degC": say("°C"),
    "degF": say("°F"),
}
_DAYS: Options = (("days", say("in days")), ("weeks", say("in weeks")))
_YES_NO: Options = (("yes", say("yes")), ("no", say("no")))
_NUMBERS: tuple[Phrase, ...] = (
    say("one"),
    say("two"),
    say("three"),
    say("four"),
    say("five"),
    say("six"),
    say("seven"),
    say("eight"),
)
_GATES: dict[str, Options] = {
    "applications": (("one", say("exactly one")), ("several", say("several, or a range"))),
    "gap": _DAYS,
    "stay": (
        ("one", say("the same with brood and without")),
        ("two", say("one time with brood, another without")),
    ),
    "rest": (("days", say("in days")), ("months", say("in months"))),
    "limit": (
        ("courses", say("courses a year")),
        ("applications", say("applications a year")),
    ),
    "supers": (
        ("off, whole course", say("off from the first application to the last")),
        ("off, at applications", say("off at each application, on between")),
        ("off", say("off: it does not say for how long")),
        ("allowed", say("allowed")),
    ),
    "period": (
        ("days", say("a number of days")),
        ("weeks", say("a number of weeks")),
        ("zero", say("none: it says 0 days")),
        ("season", say("until next season's supers go on")),
    ),
    "brood": (
        ("none", say("none at all")),
        ("none or hardly any", say("none or hardly any")),
        ("must be present", say("must be present")),
        ("any", say("any")),
    ),
    "queen": (("present", say("a queen has to be in the hive")),),
    "colony_size": tuple(
        (unit, word(unit))
        for unit in ("frames of brood", "frames of bees", "seams", "boxes", "bees")
    ),
    "flow": (("not during flow", say("not during a nectar flow")),),
    "look_queen": _DAYS,
}
_OF = ("product", "dihydrate", "anhydrous", "solution", "active", "piece")
_PER = ("colony", "hive", "brood chamber", "box", "seam", "frame of bees", "comb side", "strip")
_WHAT: Options = (
    ("maximum", say("the day's highest")),
    ("mean", say("the day's mean")),
    ("minimum", say("the day's lowest")),
    ("average", say("an average over the days")),
    ("any", say("at any time")),
)
_WEIGHTS: Options = (
    ("must", say("must be so")),
    ("ideal", say("best so")),
    ("danger outside", say("dangerous outside of it")),
)
_LINED = ("hive_set_up", "cautions", "protective", "first_aid", "class")
_WORDS = {asked.key: asked.question for asked in QUESTIONS}


def questions_of(key: str, values: Values) -> list[Question]:
    """Return the gate of a key, and what follows from its answer so far."""
    gate = Choice(key, _WORDS[key], _gate(key))
    answer = values.get(key)
    if answer in (None, SILENT, UNKNOWN):
        return [gate]
    if key in _LINED:
        return [gate, *_lines(key, values)]
    return [gate, *_PARTS.get(key, _nothing)(str(answer), values)]


def number_words(count: int) -> Phrase:
    """Return a small number as a word."""
    return _NUMBERS[count - 1]


def _gate(key: str) -> Options:
    if key in _LINED:
        return (("lines", say("Enter what it says")),)
    if key in ("dose", "temperature"):
        most = DOSES if key == "dose" else TEMPERATURES
        entered = say("one dose") if key == "dose" else say("one range of temperatures")
        return (("1", entered), *((str(n), number_words(n)) for n in range(2, most + 1)))
    return _GATES.get(key, _YES_NO)


def _nothing(_answer: str, _values: Values) -> list[Question]:
    return []


def _lines(key: str, values: Values) -> list[Question]:
    most = 1 if key == "class" else LINES
    names = [f"{key}.{index}" for index in range(most)]
    asked = [name for name in names if name in values]
    return [
        Written(name, _WORDS[key], 80 if key == "class" else 300, needed=at == 0)
        for at, name in enumerate(names[: len(asked) + 1])
    ]


def _several(answer: str, _values: Values) -> list[Question]:
    if answer == "one":
        return []
    unit = APPLICATIONS
    return [
        Number("applications.usual", say("How many as a rule?"), 99, least=1, unit=unit),
        Number("applications.least", say("How many at least?"), 99, least=1, unit=unit),
        Number("applications.most", say("How many at most?"), 99, least=1, unit=unit),
    ]


def _gap(answer: str, _values: Values) -> list[Question]:
    unit, most = _UNITS[answer], _MOST[answer]
    return [
        Number("gap.least", say("Between two applications, at least?"), most, unit=unit),
        Number("gap.target", say("Between two applications, best?"), most, unit=unit),
        Number("gap.most", say("Between two applications, at most?"), most, unit=unit),
    ]


def _stay(answer: str, values: Values) -> list[Question]:
    asked: list[Question] = [
        Choice("stay.unit", say("Is that in days or in weeks?"), _DAYS, needed=True)
    ]
    unit = values.get("stay.unit")
    if unit is None:
        return asked
    for index, when in enumerate(STAYS[answer]):
        least, most = say("Pieces stay in, at least?"), say("Pieces stay in, at most?")
        if when == "brood":
            least = say("With brood: pieces stay in, at least?")
            most = say("With brood: pieces stay in, at most?")
        elif when != "any":
            least = say("Without brood: pieces stay in, at least?")
            most = say("Without brood: pieces stay in, at most?")
        for end, words in (("least", least), ("most", most)):
            asked.append(Number(f"stay.{index}.{end}", words, _MOST[unit], unit=_UNITS[unit]))
    return asked


def _rest(answer: str, _values: Values) -> list[Question]:
    words = say("How long before the next course?")
    return [Number("rest.number", words, _MOST[answer], needed=True, unit=_UNITS[answer])]


def _limit(answer: str, _values: Values) -> list[Question]:
    unit = COURSES if answer == "courses" else APPLICATIONS
    words = say("How many a year at most?")
    return [Number("limit.number", words, 99, least=1, needed=True, unit=unit)]


def _period(answer: str, _values: Values) -> list[Question]:
    asked: list[Question] = []
    if answer in ("days", "weeks"):
        words = say("How long is honey withheld?")
        most = _MOST[answer]
        asked.append(Number("period.days", words, most, least=1, needed=True, unit=_UNITS[answer]))
    alone = say("Does it say that the period is for honey alone, and supers need none?")
    return [*asked, Choice("period.honey_only", alone, _YES_NO)]


def _size(answer: str, _values: Values) -> list[Question]:
    unit = word(answer)
    return [
        Measured("colony_size.least", say("The colony, at least?"), unit, _MOST_AMOUNT),
        Measured("colony_size.most", say("The colony, at most?"), unit, _MOST_AMOUNT),
    ]


def _look(answer: str, _values: Values) -> list[Question]:
    words, most = say("Look for the queen after how long?"), 60 if answer == "days" else 8
    return [Number("look_queen.number", words, most, least=1, needed=True, unit=_UNITS[answer])]


def _doses(answer: str, values: Values) -> list[Question]:
    asked: list[Question] = []
    for index in range(int(answer)):
        at = f"dose.{index}"
        words = _nth(index, answer)
        units = tuple((unit, word(unit)) for unit in ("mL", "g", "mg", "piece", "tray", "tablet"))
        asked.append(Choice(f"{at}.unit", words(say("The dose is in?")), units, needed=True))
        unit = word(str(values.get(f"{at}.unit", "")))
        for end, text in (
            ("amount", say("The dose, or what is usual of a range?")),
            ("least", say("The dose at least, if it is a range?")),
            ("most", say("The dose at most, if it is a range?")),
        ):
            asked.append(Measured(f"{at}.{end}", words(text), unit, _MOST_AMOUNT))
        of = tuple((each, word(each)) for each in _OF)
        per = tuple((each, word(each)) for each in _PER)
        cap = say("The most for one colony?")
        when = say("For which colony or season is this dose?")
        asked += [
            Choice(f"{at}.of", words(say("Of what is that amount?")), of, needed=True),
            Choice(f"{at}.per", words(say("Per what is it given?")), per, needed=True),
            Measured(f"{at}.cap", words(cap), unit, _MOST_AMOUNT),
            Written(f"{at}.when", words(when), 120),
        ]
    return asked


def _temperatures(answer: str, values: Values) -> list[Question]:
    asked: list[Question] = []
    for index in range(int(answer)):
        at = f"temperature.{index}"
        words = _nth(index, answer)
        units: Options = (("degC", say("°C")), ("degF", say("°F")))
        asked.append(
            Choice(f"{at}.unit", words(say("Temperature: in °C or °F?")), units, needed=True)
        )
        unit = _UNITS.get(str(values.get(f"{at}.unit")), say("°C"))
        weight = say("How is it meant?")
        least, most = (-76, 176) if values.get(f"{at}.unit") == "degF" else (-60, 80)
        asked += [
            Choice(f"{at}.what", words(say("Which temperature?")), _WHAT, needed=True),
            Measured(f"{at}.low", words(say("From which temperature?")), unit, most, least=least),
            Measured(f"{at}.high", words(say("Up to which temperature?")), unit, most, least=least),
            Choice(f"{at}.weight", words(weight), _WEIGHTS, needed=True),
            Number(f"{at}.from_day", words(_FROM), 366, unit=DAYS),
            Number(f"{at}.to_day", words(_TO), 366, unit=DAYS),
        ]
    return asked


_FROM = say("From which day on? 0 is the day of the application.")
_TO = say("Up to which day?")


def _nth(index: int, of: str) -> Callable[[Phrase], Phrase]:
    """Return what says of several entries which one is asked for."""
    if of == "1":
        return lambda words: words
    return lambda words: say("{n} of {all}: {words}", n=index + 1, all=of, words=words)


_PARTS: dict[str, Callable[[str, Values], Sequence[Question]]] = {
    "applications": _several,
    "gap": _gap,
    "stay": _stay,
    "rest": _rest,
    "limit": _limit,
    "dose": _doses,
    "period": _period,
    "temperature": _temperatures,
    "colony_size": _size,
    "look_queen": _look,
}
