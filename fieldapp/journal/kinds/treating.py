"""Rounds of treatment: applications, pieces in and out, hives passed over, courses stopped."""

from __future__ import annotations

from fieldapp.journal.fields import (
    choice,
    many,
    may,
    need,
    number,
    ref,
    shape,
    table,
    text,
    whole,
    yes_no,
)
from fieldapp.journal.kinds.kind import Kind
from fieldapp.journal.kinds.labels import DOSE_OF, DOSE_PER, IDENTITY

SUPERS_SEEN = choice("off", "on", "not known")

_strokes = shape(
    {
        "place": need(text(40), "where in the hive"),
        "strokes": need(whole(1, 999), "strokes there"),
    }
)
_dose_given = shape(
    {
        "amount": need(number(0, 1e6), "how much"),
        "unit": need(text(12), "unit"),
        "of": need(DOSE_OF, "of what"),
        "per": may(DOSE_PER, "per what"),
    }
)
_drawn = shape(
    {
        "lot": need(ref, "root id of the bought or batch record"),
        "amount": need(number(0, 1e6), "how much"),
        "unit": need(text(12), "unit"),
    }
)

KINDS = (
    Kind(
        "application",
        "One treatment given to one hive once.",
        {
            "treatment": need(IDENTITY, "identity"),
            "terms": need(ref, "root id of the terms record"),
            "round": may(ref, "root id of the round"),
            "plan": may(ref, "root id of the plan that decides the course"),
            "joins": may(ref, "root id of the first application of the course it joins"),
            "pieces": may(whole(0, 99), "pieces put in by it"),
            "dose": may(_dose_given, "what was given"),
            "seams": may(number(0, 60), "occupied seams, to the quarter"),
            "part": may(yes_no, "true: a part dose"),
            "supers": may(SUPERS_SEEN, "what the keeper saw"),
            "brood": may(choice("none", "hardly any", "yes", "not known"), "what the keeper knew"),
            "batch": may(ref, "root id of the batch"),
            "drawn": may(many(_drawn, 1, 9), "lots it drew on"),
            "gear": may(ref, "root id of the applicator it was given with"),
            "strokes": may(many(_strokes, 1, 9), "strokes by place"),
            "temperature": may(number(-40, 60), "outside, degC"),
            "clear": may(choice("clear", "cloudy"), "the batch as it was given"),
            "seconds": may(whole(0, 86400), "how long it ran"),
            "reason": may(text(200), "why early, other, over label"),
        },
        needs=("hive",),
    ),
    Kind(
        "pieces",
        "Pieces moved, out, lost, found or replaced.",
        {
            "did": need(choice("moved", "out", "lost", "found", "replaced"), "what happened"),
            "count": need(whole(1, 99), "how many"),
            "treatment": need(IDENTITY, "identity"),
            "application": may(ref, "root id of the application that put them in"),
            "seen": may(
                choice("outside the hive", "every box searched", "not found"),
                "for lost; only the first two end the exposure",
            ),
            "round": may(ref, "root id of the round"),
        },
        needs=("hive",),
    ),
    Kind(
        "weighed",
        "Annex: a dispenser that an application put in, weighed with what is in it.",
        {"grams": need(number(0, 100_000), "g, dispenser and acid")},
        needs=("adds_to",),
    ),
    Kind(
        "course_stop",
        "The keeper stops the colony's course of a treatment.",
        {"treatment": need(IDENTITY, "identity"), "reason": may(text(200), "why")},
        needs=("hive",),
    ),
    Kind(
        "round",
        "A round begins: one treatment or task, these hives, what was checked.",
        {
            "treatment": may(IDENTITY, "identity; left out: a round of another task"),
            "task": need(
                choice("treat", "pieces", "count", "look", "board", "supers", "harvest", "feed"),
                "what the walk is for",
            ),
            "hives": need(many(ref, 1, 1000), "in the order of the walk"),
            "checks": may(
                table(text(60), choice("yes", "no", "not known"), 40), "answers, each on its own"
            ),
            "plan": may(ref, "root id of the plan"),
            "batch": may(ref, "root id of the batch"),
        },
        needs=("apiary",),
    ),
    Kind(
        "round_end",
        "The round is over.",
        {"round": need(ref, "root id of the round")},
        needs=("apiary",),
    ),
    Kind(
        "skip",
        "A hive of the round was not done, and why.",
        {
            "round": may(ref, "root id of the round"),
            "treatment": may(IDENTITY, "identity"),
            "why": need(
                choice(
                    "supers on",
                    "dead",
                    "too weak",
                    "too hot",
                    "too cold",
                    "no bees at home",
                    "queenless",
                    "ran out",
                    "bees too bad",
                    "not needed",
                    "other",
                ),
                "the reason",
            ),
            "words": may(text(200), "in words"),
        },
        needs=("hive",),
    ),
)
