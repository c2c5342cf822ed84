"""Honey supers and lots of honey."""

from __future__ import annotations

from fieldapp.journal.fields import many, may, need, number, ref, shape, text, whole
from fieldapp.journal.kinds.kind import Kind

_mark = may(text(20), "the super's mark; left out: *the supers of the hive*, one lot")

KINDS = (
    Kind(
        "super_on",
        "A super goes on. Marked supers are known by their mark all over the operation.",
        {
            "mark": _mark,
            "count": may(whole(1, 9), "how many unmarked ones"),
            "of_hive": may(ref, "unmarked, from the store: the hive whose lot they were"),
        },
        needs=("hive",),
    ),
    Kind(
        "super_off",
        "A super comes off and goes to the store.",
        {"mark": _mark, "count": may(whole(1, 9), "how many unmarked ones; left out: all")},
        needs=("hive",),
    ),
    Kind(
        "super_carried",
        "A super is carried from this hive to another at once.",
        {
            "mark": _mark,
            "count": may(whole(1, 9), "how many unmarked ones; left out: all"),
            "to_hive": need(ref, "where it is put on"),
        },
        needs=("hive",),
    ),
    Kind(
        "super_emptied",
        "Emptied, and not for people: the one thing that clears an exposed super. Without a "
        "mark: all unmarked supers of the hive.",
        {"mark": _mark, "how": may(text(200), "fed back, melted, burnt")},
    ),
    Kind(
        "comb_up",
        "A comb of the brood box was moved up into a super.",
        {"mark": _mark},
        needs=("hive",),
    ),
    Kind(
        "harvest",
        "Honey drawn: which hives and supers went into which lot.",
        {
            "lot": need(text(40), "the lot's number, as on the jars"),
            "takes": need(
                many(shape({"hive": need(ref, "from which hive"), "mark": _mark}), 1, 1000),
                "what went in",
            ),
            "amount": may(number(0, 100000), "how much"),
            "unit": may(text(8), "kg, lb"),
            "jars": may(text(200), "where it went"),
        },
    ),
)
