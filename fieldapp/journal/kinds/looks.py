"""What the keeper sees: looks inside, the day after, counts, boards, queens, weather."""

from __future__ import annotations

from fieldapp.journal.fields import (
    choice,
    day,
    many,
    may,
    need,
    number,
    ref,
    shape,
    text,
    whole,
    yes_no,
)
from fieldapp.journal.kinds.kind import Kind

_dead = choice("0-20", "21-100", "101-500", "over 500", "not known")

KINDS = (
    Kind(
        "look",
        "A look inside a hive.",
        {
            "brood": may(choice("none", "hardly any", "yes", "not seen"), "sealed brood"),
            "brood_frames": may(number(0, 60), "frames with brood, to the half"),
            "eggs": may(choice("yes", "none", "not seen"), "eggs"),
            "queen": may(choice("seen", "not seen", "queenless", "cells"), "the queen"),
            "seams": may(number(0, 60), "occupied seams, to the quarter"),
            "frames_of_bees": may(number(0, 60), "frames covered with bees, to the quarter"),
            "boxes": may(whole(0, 12), "brood boxes"),
            "stores": may(choice("short", "enough", "plenty"), "food"),
            "temper": may(choice("calm", "lively", "stinging"), "temper"),
            "words": may(text(1000), "in words"),
        },
        needs=("hive",),
    ),
    Kind(
        "day_after",
        "The look at entrance and board about 24 h after an application.",
        {
            "application": may(ref, "root id of the application"),
            "board": may(_dead, "dead bees on the board"),
            "entrance": may(_dead, "dead bees at the entrance"),
            "behaviour": may(choice("as usual", "restless", "hanging outside", "silent"), "bees"),
            "words": may(text(1000), "in words"),
        },
        needs=("hive",),
    ),
    Kind(
        "queen",
        "What was done with the queen.",
        {
            "did": need(choice("caged", "released", "removed", "introduced", "died"), "what"),
            "words": may(text(200), "in words"),
        },
        needs=("hive",),
    ),
    Kind(
        "count",
        "Mites counted from a sample of bees (wash, roll) or from a board over days (drop).",
        {
            "way": need(choice("wash", "roll", "drop"), "the way of counting"),
            "fluid": may(text(40), "alcohol, soapy water, icing sugar, carbon dioxide"),
            "mites": need(whole(0, 100000), "mites counted"),
            "bees": may(number(1, 100000), "bees in the sample"),
            "bees_by": may(choice("counted", "weighed", "measured"), "how the bees were counted"),
            "measure": may(text(60), "the measure and what it was taken to hold"),
            "grams": may(number(0, 10000), "of bees weighed"),
            "days": may(number(0.25, 60), "days the board was in"),
            "board_part": may(number(0.01, 1), "share of the board that was counted"),
            "purpose": may(choice("before", "after", "season"), "why it was made"),
            "application": may(ref, "root id of an application of the course it judges"),
        },
        needs=("hive",),
    ),
    Kind(
        "board",
        "The bottom board goes in or out.",
        {"did": need(choice("in", "out"), "in or out")},
        needs=("hive",),
    ),
    Kind(
        "feed",
        "Feed given.",
        {
            "what": need(choice("syrup", "fondant", "combs", "pollen"), "what"),
            "amount": may(number(0, 1000), "how much"),
            "unit": may(choice("kg", "L", "combs"), "unit"),
        },
        needs=("hive",),
    ),
    Kind(
        "outlook",
        "Temperatures of an apiary as measured or forecast, entered by the keeper.",
        {
            "days": need(
                many(
                    shape(
                        {
                            "day": need(day, "date"),
                            "low": may(number(-60, 60), "degC"),
                            "mean": may(number(-60, 60), "degC"),
                            "high": may(number(-60, 60), "degC"),
                        }
                    ),
                    1,
                    60,
                ),
                "by day",
            ),
            "from": may(text(120), "whose forecast, which thermometer"),
            "forecast": need(yes_no, "true: a forecast; false: measured"),
        },
        needs=("apiary",),
    ),
)
