"""Records about records: annexes, sameness, answers, losses."""

from __future__ import annotations

from fieldapp.journal.fields import (
    choice,
    digest,
    many,
    may,
    need,
    number,
    ref,
    text,
    whole,
    writer_id,
)
from fieldapp.journal.kinds.kind import Kind

KINDS = (
    Kind(
        "position",
        "Annex: where the phone was.",
        {
            "lat": need(number(-90, 90), "degrees north, WGS 84"),
            "lon": need(number(-180, 180), "degrees east, WGS 84"),
            "accuracy": may(number(0, 1e6), "metres"),
            "after_s": need(number(-86400, 86400), "monotonic seconds since the tap"),
        },
        needs=("adds_to",),
    ),
    Kind(
        "photo",
        "Annex: a photo, kept beside the journal by its digest.",
        {
            "sha256": need(digest, "of the file"),
            "type": need(text(40), "media type"),
            "size": need(whole(1, 2**31), "bytes"),
            "words": may(text(300), "what it shows"),
        },
        needs=("adds_to",),
    ),
    Kind(
        "voice",
        "Annex: a voice note, kept beside the journal by its digest.",
        {
            "sha256": need(digest, "of the file"),
            "type": need(text(40), "media type"),
            "size": need(whole(1, 2**31), "bytes"),
        },
        needs=("adds_to",),
    ),
    Kind("note", "Annex: words.", {"words": need(text(2000), "in words")}, needs=("adds_to",)),
    Kind(
        "same_as",
        "Two or more ids are one apiary, hive, colony or keeper. Transitive; can be voided.",
        {
            "what": need(choice("apiary", "hive", "colony", "keeper"), "of what"),
            "ids": need(many(ref, 2, 100), "the ids that are one"),
        },
    ),
    Kind(
        "answer_twice",
        "Which of the applications under one key are one application: the ids, parted.",
        {"parts": need(many(many(ref, 1, 100), 1, 100), "each part is one application")},
    ),
    Kind(
        "answer_joins",
        "Which course an application joins, where days between are not known.",
        {
            "application": need(ref, "root id of the application"),
            "course": may(ref, "root id of the course's first application; left out: a new one"),
        },
    ),
    Kind(
        "answer_split",
        "How many pieces went along with the part in a split.",
        {"split": need(ref, "root id of the split"), "pieces_along": need(whole(0, 99), "pieces")},
    ),
    Kind(
        "answer_clock",
        "The keeper's word on records of a wrong clock: moved (by corrections), or left.",
        {
            "records": need(many(ref, 1, 10000), "root ids"),
            "off_by": need(number(-1e10, 1e10), "seconds the clock was ahead"),
            "answer": need(choice("corrected", "left"), "what was done"),
        },
    ),
    Kind(
        "loss",
        "Records that no replica brought back.",
        {
            "of": need(writer_id, "writer"),
            "first": need(whole(1, 2**53), "first seq missing"),
            "last": need(whole(1, 2**53), "last seq missing"),
            "finder": need(text(80), "which device found it"),
        },
    ),
)
