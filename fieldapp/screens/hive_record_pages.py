"""A hive's history, one record of it, and how it is put right."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.hive_correction import PutRight
from fieldapp.rounds.hive_history import history
from fieldapp.rounds.hive_record import REASONS, RecordView
from fieldapp.rounds.photos import PhotoPlace
from fieldapp.screens import photo_pages
from fieldapp.screens.block import Block, Words
from fieldapp.screens.entry import Entry
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.hive_flow import HiveFlow


def history_page(way: HiveFlow, hive: str, back: Act) -> Page:
    """Return every record of a hive, newest first; a tap opens one."""
    look = way.flow.look
    again = partial(way.history, hive, back)
    number = way.flow.kit.notebook.book.hive(hive).number
    middle: list[Block] = [
        desk_key(
            look,
            shown.told.words,
            partial(way.record, hive, shown.root, again),
            sign=shown.told.sign,
        )
        for shown in history(way.flow.kit.notebook, hive)
    ]
    if not middle:
        words = say("No records yet. Look inside, count or treat, and it stands here.")
        middle = [Tell(look, "unknown", words)]
    return Page(
        look,
        head=[title(look, say("Hive {number}: history", number=number))],
        middle=middle,
        back=back,
        name="history",
    )


def record_page(way: HiveFlow, hive: str, root: str, back: Act) -> Page:
    """Return one record: what it says, what corrected it, and the ways to put it right."""
    look = way.flow.look
    view = RecordView(way.flow.kit.notebook, hive, root)
    middle: list[Block] = []
    if view.asks:
        words = say("Two people put it right apart from each other: which one holds?")
        middle.append(Tell(look, "unknown", words, bold=True))
        for at in range(len(view.entry.versions)):
            first, *rest = view.version_words(at)
            settle = partial(way.settle, view, at, back)
            key = desk_key(look, first, settle, sign="unknown")
            middle += [key, *(Words(look, each, "small") for each in rest)]
    if view.entry.void:
        middle.append(Tell(look, "late", say("Taken back: it does not count"), bold=True))
    middle += [Words(look, each) for each in view.says()]
    changes = view.changes()
    if changes:
        middle.append(heading(look, say("Put right")))
    for change in changes:
        middle.append(Tell(look, "quiet", change.words))
        middle += [Words(look, each, "small") for each in change.differences]
    notes = view.notes()
    if notes:
        middle.append(heading(look, say("Words beside it")))
        middle += [Words(look, each, "small") for each in notes]
    middle += photo_pages.shown(way.flow, PhotoPlace(root=root))
    middle += [Words(look, each, "small", "quiet") for each in view.photos_taken_back()]
    placed = view.places()
    where = say("position recorded") if placed else say("no position recorded")
    middle.append(Tell(look, "done" if placed else "quiet", where, "small"))
    again = partial(way.record, hive, root, back)
    beside = PhotoPlace(root=root)
    there, sign = photo_pages.under(way.flow, beside)
    photos = partial(photo_pages.show, way.flow, beside, again)
    middle.append(desk_key(look, say("Photos"), photos, under=there, sign=sign))
    middle.append(desk_key(look, say("Add words"), partial(way.words, view, again)))
    acts = []
    if not view.entry.void:
        why_void = partial(way.why_void, view, again, back)
        middle.append(desk_key(look, say("Take back"), why_void))
        acts = [main_key(look, say("Put right"), partial(way.correct, view, again))]
    return Page(
        look,
        head=[
            title(look, view.kind),
            Words(look, _made(view), "small"),
        ],
        low_head=[Words(look, view.kind, "small", bold=True)],
        low_tail=[Words(look, _made(view), "small")],
        middle=middle,
        acts=acts,
        back=back,
        name="record",
    )


def _made(view: RecordView) -> Phrase:
    """Return when and by whom a record was made, and of which hive where it is of one."""
    if not view.number:
        return view.made
    return say("Hive {number}: {made}", number=view.number, made=view.made)


def why_void_page(way: HiveFlow, view: RecordView, again: Act, done: Act) -> Page:
    """Return the reasons for taking a record back; a tap takes it back."""
    look = way.flow.look
    keys = [
        Key(look, words, partial(way.void, view, why, done))
        for why, words in REASONS.items()
        if why not in ("wrong number", "misread", "wrong day")
    ]
    return Page(
        look,
        head=[title(look, say("Taken back: why?"))],
        middle=[Grid(look, keys)],
        back=again,
        name="void",
    )


def why_correct_page(way: HiveFlow, correction: PutRight, form: Act, done: Act) -> Page:
    """Return the reasons for a correction; a tap writes it."""
    look = way.flow.look
    keys = [
        Key(look, words, partial(way.write, correction, why, done))
        for why, words in REASONS.items()
        if why not in ("did not happen", "logged twice")
    ]
    return Page(
        look,
        head=[title(look, say("Put right: why?"))],
        middle=[Grid(look, keys)],
        back=form,
        name="correct why",
    )


def words_page(way: HiveFlow, view: RecordView, again: Act) -> Page:
    """Return a line for words, by keyboard or the keyboard's own dictation."""
    look = way.flow.look
    typed: list[str] = [""]

    def take(text: str) -> None:
        typed[0] = text

    def save() -> None:
        view.add_words(typed[0])
        again()

    return Page(
        look,
        head=[title(look, say("Add words"))],
        middle=[
            Entry(look, say("What is to be remembered"), "", take),
            Tell(look, "quiet", say("The keyboard's own dictation can write them."), "small"),
        ],
        acts=[main_key(look, say("Save"), save)],
        back=again,
        name="words",
    )
