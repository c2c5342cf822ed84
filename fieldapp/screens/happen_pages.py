"""What happened to a hive: what, which other hives and supers, what follows, what was written."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.desk_form import Dated
from fieldapp.rounds.happening.choosing import DayOver, HiveKey, Marks, OneHive, SomeHives
from fieldapp.rounds.happening.following import Followed
from fieldapp.rounds.happening.happening import Happening
from fieldapp.rounds.happening.ways import WAYS
from fieldapp.rounds.told import Told
from fieldapp.screens import desk_pages
from fieldapp.screens.block import Block, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import briefly, heading, main_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import Role, Size
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.happen_flow import HappenFlow

#: Years back to which something can be dated.
_YEARS_BACK = 5


def what_page(way: HappenFlow, hive: str, back: Act) -> Page:
    """Return what can have happened to a hive, as large keys."""
    look = way.flow.look
    state = way.flow.kit.notebook.book.hive(hive)
    again = partial(way.what, hive, back)
    keys = [Key(look, words, partial(way.begin, make, hive, again)) for words, make in WAYS]
    keys.insert(5, Key(look, say("Supers emptied"), partial(way.emptied, hive, again)))
    if state.apiary is not None:
        moved = partial(way.move, state.apiary, state.hive, again)
        keys.insert(0, Key(look, say("Moved to another apiary"), moved))
    return Page(
        look,
        head=[title(look, say("Hive {number}: what happened?", number=state.number))],
        middle=[Grid(look, keys)],
        back=back,
        name="happened",
    )


def one_page(way: HappenFlow, form: Happening, question: OneHive, done: Act, back: Act) -> Page:
    """Return the hives to choose one from."""

    def take(hive: str) -> None:
        form.take(question.name, hive)
        done()

    keys = [_hive(way, each, partial(take, each.hive)) for each in question.options]
    return _question(way, question.words, keys, [], back)


def some_page(
    way: HappenFlow, form: Happening, question: SomeHives | Marks, done: Act, back: Act
) -> Page:
    """Return hives or supers of which any number can be chosen."""
    look = way.flow.look
    chosen: list[str] = form.values.get(question.name, [])

    def turn(value: str) -> None:
        left = [each for each in chosen if each != value]
        form.take(question.name, left if value in chosen else [*chosen, value])

    def turned(value: str) -> Act:
        return shown_after(way.flow, partial(turn, value))

    if isinstance(question, Marks):
        values = list(question.options)
        keys = [
            Key(look, mark, turned(mark), sign="done" if mark in chosen else "quiet")
            for mark in values
        ]
    else:
        values = [each.hive for each in question.options]
        keys = [
            _hive(way, each, turned(each.hive), "done" if each.hive in chosen else "quiet")
            for each in question.options
        ]

    def all_of_them() -> None:
        form.take(question.name, values)

    def go_on() -> None:
        form.take(question.name, chosen)
        done()

    acts = []
    if len(chosen) < len(values):
        acts.append(Key(look, say("All"), shown_after(way.flow, all_of_them)))
    if chosen or not question.needed:
        words = say("Go on") if chosen else say("None of them")
        acts.append(main_key(look, words, go_on))
    return _question(way, question.words, keys, acts, back)


def _hive(way: HappenFlow, each: HiveKey, act: Act, sign: Role | None = None) -> Key:
    under: list[tuple[Phrase | str, Size]] = []
    if each.told is not None:
        under.append((each.told, "small"))
    size: Size = "title" if sign is not None or under else "figure"
    return Key(way.flow.look, each.number, act, under=under, size=size, sign=sign)


def day_page(way: HappenFlow, form: Happening, question: DayOver, done: Act, back: Act) -> Page:
    """Return the days of two weeks, and the way to earlier ones."""
    look = way.flow.look

    def take(day: str | None) -> None:
        form.take(question.name, day)
        done()

    today, *earlier = question.offered
    keys = [Key(look, say("today, {day}", day=today), partial(take, None))]
    keys += [Key(look, say("{day}", day=day), partial(take, day.isoformat())) for day in earlier]
    dated = Dated(question.name, question.words, today.year - _YEARS_BACK, today.year)
    leads = desk_pages.Way(done, partial(way.ask, form, question, done, back))
    keys.append(
        Key(
            look,
            say("An earlier day"),
            partial(desk_pages.ask_on, way.flow, form, dated, leads),
        )
    )
    return _question(way, question.words, keys, [], back)


def _question(
    way: HappenFlow, words: Phrase, keys: Sequence[Key], acts: Sequence[Key], back: Act
) -> Page:
    look = way.flow.look
    return Page(
        look,
        head=[title(look, words)],
        low_head=[Words(look, words, "small", bold=True)],
        middle=[Grid(look, keys)],
        acts=acts,
        back=back,
        name="happened question",
    )


def stop_page(way: HappenFlow, form: Happening, back: Act, go_on: Act) -> Page:
    """Return why a standstill blocks something, what to do, and the ways out of it."""
    look, flow = way.flow.look, way.flow
    blocked = form.blocked
    middle: list[Block] = []
    acts: list[Key] = []
    if blocked is None:
        middle.append(Tell(look, "done", say("The standstill is lifted.")))
        acts.append(main_key(look, say("Go on"), go_on))
    else:
        again = partial(way.stop, form, back, go_on)

        def despite() -> None:
            form.despite = True
            go_on()

        middle = [
            Tell(look, "late", blocked.reason.phrase, bold=True),
            Words(
                look, say("Do not do it. Ask the office that set it, and write down its answer.")
            ),
            Key(
                look,
                say("It is lifted: write that down"),
                partial(flow.premises.lifted, blocked.apiary, again),
                centred=False,
            ),
            Key(
                look,
                say("It was done all the same"),
                despite,
                under=[(say("the record book shows it as done during a standstill"), "small")],
                sign="late",
                centred=False,
            ),
            Key(
                look,
                say("The record of it"),
                partial(flow.hives.record, "", blocked.reason.records[0], again),
                centred=False,
            ),
        ]
    return Page(
        look,
        head=[title(look, say("Standstill: blocked")), Words(look, form.title, "small")],
        low_head=[Words(look, say("Standstill: blocked"), "small", bold=True)],
        middle=middle,
        acts=acts,
        back=back,
        name="standstill",
    )


def follows_page(way: HappenFlow, form: Happening, again: Act, back: Act) -> Page:
    """Return what would be otherwise, hive by hive, and the key that writes it down."""
    look = way.flow.look
    middle: list[Block] = [Words(look, say("On {day}", day=form.day))]
    if form.blocked is not None:
        words = say("Done during a standstill: the record book says so.")
        middle += briefly(look, Told("late", words, (form.blocked.reason.phrase,)))
    found = form.follows()
    for each in found:
        middle += _followed(way, each)
    if not found:
        words = say("Honey, courses and pieces stay as they are.")
        middle.append(Tell(look, "quiet", words))
    return Page(
        look,
        head=[title(look, form.title), Words(look, say("What follows"), "small")],
        low_head=[Words(look, form.title, "small", bold=True)],
        middle=middle,
        acts=[main_key(look, say("Write it down"), partial(way.save, form, back))],
        back=again,
        name="follows",
    )


def _followed(way: HappenFlow, each: Followed) -> list[Block]:
    look = way.flow.look
    blocks: list[Block] = [heading(look, say("Hive {number}", number=each.number))]
    for told in each.lines:
        blocks += briefly(look, told)
    return blocks


def done_page(way: HappenFlow, form: Happening, told: Phrase, back: Act) -> Page:
    """Return what was written, with the key that takes it back."""
    look = way.flow.look
    return Page(
        look,
        head=[Tell(look, "done", told, "title", bold=True)],
        low_head=[Tell(look, "done", told, "small", bold=True)],
        middle=[Words(look, say("It stands in the history, and can be put right there too."))],
        acts=[
            Key(look, say("Undo"), partial(way.undo, form, back)),
            main_key(look, say("Go on"), back),
        ],
        back=back,
        back_key=False,
        apart=True,
        name="happened done",
    )


def undone_page(way: HappenFlow, told: Phrase, back: Act) -> Page:
    """Return what was taken back."""
    look = way.flow.look
    return Page(
        look,
        head=[Tell(look, "quiet", told, "title", bold=True)],
        low_head=[Tell(look, "quiet", told, "small", bold=True)],
        middle=[
            Words(look, say("The history keeps what was written, and that it was taken back."))
        ],
        acts=[main_key(look, say("Go on"), back)],
        back=back,
        back_key=False,
        name="happened undone",
    )
