"""The ledger: bought, mixed, disposed of; gear; and what the law wants kept."""

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
from fieldapp.journal.kinds.labels import IDENTITY

_drawn = shape(
    {
        "lot": need(ref, "root id of the bought record"),
        "amount": need(number(0, 1e6), "how much"),
        "unit": need(text(12), "unit"),
    }
)
_step = shape(
    {
        "do": need(choice("add", "heat", "stir", "wait", "cool", "reheat"), "what"),
        "what": may(text(80), "water, sucrose, oxalic acid dihydrate, glycerol"),
        "amount": may(number(0, 1e6), "how much"),
        "unit": may(text(16), "g, mL, or a kitchen measure"),
        "to": may(number(-20, 300), "degC to which the step heats"),
        "measured": may(number(-20, 300), "degC measured in the step"),
        "off_heat": may(yes_no, "true: added off the heat"),
    }
)

KINDS = (
    Kind(
        "bought",
        "An amount bought.",
        {
            "product": need(text(120), "as on the label: active substance and form"),
            "treatment": may(IDENTITY, "the treatment it is for"),
            "lot": may(text(60), "the lot's number"),
            "expiry": may(day, "use by"),
            "amount": need(number(0, 1e6), "how much"),
            "unit": need(text(12), "unit: g, mL, strip, tray"),
            "supplier": may(text(120), "name"),
            "address": may(text(200), "permanent address"),
            "proof": may(text(200), "invoice number; a photo is an annex"),
            "prescription": may(text(200), "prescription and who wrote it"),
            "price": may(number(0, 1e6), "price"),
            "currency": may(text(3), "ISO 4217"),
        },
    ),
    Kind(
        "batch",
        "An amount mixed at one time.",
        {
            "recipe": need(text(80), "name and version of the recipe"),
            "treatment": may(IDENTITY, "the treatment it is for"),
            "steps": may(many(_step, 1, 40), "as it was done"),
            "drawn": may(many(_drawn, 1, 20), "lots it drew on"),
            "amount": need(number(0, 1e6), "how much was made"),
            "unit": need(text(12), "g or mL"),
            "strength": may(number(0, 100), "percent"),
            "strength_of": may(choice("dihydrate", "anhydrous", "active"), "of what"),
            "strength_as": may(choice("w/v", "w/w"), "by volume or by mass"),
            "keep_until": may(day, "not to be used after"),
            "words": may(text(300), "in words"),
        },
    ),
    Kind(
        "disposed",
        "An amount disposed of.",
        {
            "lot": need(ref, "root id of the bought or batch record"),
            "amount": need(number(0, 1e6), "how much"),
            "unit": need(text(12), "unit"),
            "how": may(text(200), "how"),
            "where": may(text(200), "where"),
        },
    ),
    Kind(
        "on_hand",
        "Stock counted; a difference to the books is a named gap.",
        {
            "lot": need(ref, "root id of the bought or batch record"),
            "amount": need(number(0, 1e6), "how much is there"),
            "unit": need(text(12), "unit"),
        },
    ),
    Kind(
        "gear",
        "A thing that wears or expires: applicator, nozzle, filter.",
        {
            "what": need(choice("applicator", "part", "filter", "thermometer", "other"), "what"),
            "name": need(text(80), "what the keeper calls it"),
            "opened": may(day, "a filter's opening date"),
            "expiry": may(day, "use by"),
            "change_after_hours": may(number(0, 10000), "from its maker"),
            "hours": may(number(0, 100000), "hours run so far"),
            "ended": may(yes_no, "true: thrown away"),
            "of": may(ref, "root id of the gear it is part of"),
        },
    ),
    Kind(
        "measured",
        "An applicator measured: what strokes give, and how hot it is how far off.",
        {
            "gear": need(ref, "root id of the gear"),
            "strokes": may(
                many(
                    shape(
                        {
                            "strokes": need(whole(1, 1000), "strokes into the measure"),
                            "amount": need(number(0, 10000), "what came out"),
                            "unit": need(choice("mL", "g"), "unit"),
                        }
                    ),
                    1,
                    40,
                ),
                "each repeat",
            ),
            "heat": may(
                many(
                    shape(
                        {
                            "pace": need(choice("slow", "fast"), "pace of the strokes"),
                            "distance": need(number(0, 1000), "cm from the nozzle"),
                            "temperature": need(number(-20, 500), "degC"),
                            "spat": may(yes_no, "true: liquid spat"),
                        }
                    ),
                    1,
                    60,
                ),
                "temperature at distances",
            ),
        },
    ),
    Kind(
        "colony_count",
        "Colonies counted for the register.",
        {"number": need(whole(0, 100000), "colonies"), "reported_to": may(text(120), "to whom")},
        needs=("apiary",),
    ),
    Kind(
        "visit",
        "An inspector's visit.",
        {
            "by": need(text(120), "who"),
            "found": may(text(1000), "findings"),
            "standstill": may(
                choice("set", "lifted"), "nothing is moved, united or exchanged while set"
            ),
        },
        needs=("apiary",),
    ),
    Kind(
        "reported",
        "Records were reported to an authority.",
        {
            "records": need(many(ref, 1, 1000), "root ids: counts, colony counts, applications"),
            "to": need(text(120), "to whom"),
            "reference": may(text(120), "number or letter"),
        },
    ),
)
