"""Forms of the desk: all questions on one page, each answered on its own, kept at once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING, Any, NamedTuple

from fieldapp.husbandry.vocabulary import DAYS, word
from fieldapp.rounds.desk_form import (
    Answers,
    Dated,
    Form,
    Measured,
    Question,
    Several,
    Written,
    lacking,
)
from fieldapp.rounds.look_form import Choice, Number, answer_words
from fieldapp.rounds.photos import PhotoPlace
from fieldapp.screens import day_pages, number_page, photo_pages
from fieldapp.screens.block import Block, Words
from fieldapp.screens.entry import Entry
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.number_page import Beside
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, main_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK, Role
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow

SAVE = say("Write it down")
#: Answers of so few letters stand side by side.
SHORT = 8


def form_page(
    flow: Flow,
    form: Form,
    save: Act,
    back: Act,
    *,
    act_words: Phrase = SAVE,
    at: int = 0,
    photos_for: str | None = None,
) -> Page:
    """Return the questions of a form with what was answered; `save` is what its large key does.

    `at` is the page of it that is shown first; `photos_for` the name under which photos wait with
    it, None where it takes none.
    """
    look = flow.look

    def anew(at: int) -> Page:
        return form_page(flow, form, save, back, act_words=act_words, at=at, photos_for=photos_for)

    def again(at: int) -> None:
        flow.show_page(partial(anew, at))

    middle: list[Block] = [Tell(look, told.sign, told.words, "small") for told in form.remarks]
    middle += [_key(flow, form, question, again) for question in form.questions]
    if photos_for is not None:
        beside = PhotoPlace(form=photos_for)

        def photos() -> None:
            photo_pages.show(flow, beside, partial(again, _at(flow)))

        under, sign = photo_pages.under(flow, beside)
        middle.append(desk_key(look, say("Photos"), photos, under=under, sign=sign or "quiet"))
    if form.begun:

        def forget() -> None:
            form.forget()
            back()

        middle.append(desk_key(look, say("Forget what was entered"), forget))
    page = Page(
        look,
        head=[title(look, form.title)],
        low_head=[Words(look, form.title, "small", bold=True)],
        middle=middle,
        acts=[] if lacking(form) else [main_key(look, act_words, save)],
        back=back,
        name="desk form",
    )
    page.at = at
    return page


def _key(flow: Flow, form: Form, question: Question, again: Callable[[int], None]) -> Key:
    under: Phrase | str = answer_words(question, form.values)
    sign: Role = "done"
    if question.name not in form.values:
        sign = "quiet"
        if question.needed:
            sign, under = "due", say("needed")
        elif question.name in form.wanted:
            sign, under = "unknown", say("not said: the record book wants it")
        elif isinstance(question, Dated) and question.left is not None:
            under = say("{day}, if it was no other day", day=question.left)

    def asked() -> None:
        ask(flow, form, question, partial(again, _at(flow)))

    return desk_key(
        flow.look,
        question.words,
        asked,
        under=under,
        sign=sign,
    )


class Way(NamedTuple):
    """Where a question leads: `done` with its answer, `back` without one.

    `besides` are answers of its own kind; where there are some, they stand in place of
    *not said*.
    """

    done: Act
    back: Act
    besides: tuple[Beside, ...] = ()


def _at(flow: Flow) -> int:
    """Return which page of the middle is in sight."""
    return flow.stage.page.at if flow.stage.page is not None else 0


def ask(flow: Flow, form: Form, question: Question, again: Act) -> None:
    """Ask one question of a form; every answer goes back to `again`."""
    ask_on(flow, form, question, Way(again, again))


def ask_on(flow: Flow, form: Answers, question: Question, way: Way) -> None:
    """Ask one question of a form, which leads on."""
    flow.show_page(lambda: _question_page(flow, form, question, way))


def _question_page(flow: Flow, form: Answers, question: Question, way: Way) -> Page:
    def take(value: Any) -> None:
        form.take(question.name, value)
        way.done()

    if isinstance(question, Written):
        return _written_page(flow, form, question, take, way)
    if isinstance(question, Several):
        return _several_page(flow, form, question, way)
    if isinstance(question, Choice):
        options = [(words, partial(take, value)) for value, words in question.options]
        return _choice_page(flow, form, question, options, way)
    if isinstance(question, Dated):
        known = [
            (say("{day}", day=day), partial(take, day.isoformat())) for day in question.offered
        ]
        years = day_pages.years(flow, question, take, way.back)
        return _choice_page(flow, form, question, [*known, *years], way)
    if isinstance(question, Number):
        return number_page.page(
            flow,
            question.words,
            question.unit or DAYS,
            take,
            back=way.back,
            least=question.least,
            most=question.most,
            besides=way.besides,
        )
    return _measured_page(flow, form, question, take, way)


def _measured_page(
    flow: Flow, form: Answers, question: Measured, take: Callable[[float], None], way: Way
) -> Page:
    """Return the amounts to tap and the way to another, or the digits where there are none."""
    unit = question.unit if isinstance(question.unit, Phrase) else word(question.unit)

    def digits(back: Act) -> Page:
        return number_page.decimal_page(
            flow,
            question.words,
            unit,
            take,
            back=back,
            least=question.least,
            most=question.most,
            besides=way.besides,
        )

    known = question.name in form.values
    if not question.offered and (question.needed or way.besides or not known):
        return digits(way.back)
    here = partial(ask_on, flow, form, question, way)
    options = [(words, partial(take, amount)) for amount, words in question.offered]
    other = say("Another amount") if question.offered else say("An amount")
    options.append((other, partial(flow.show_page, lambda: digits(here))))
    return _choice_page(flow, form, question, options, way)


def _choice_page(
    flow: Flow,
    form: Answers,
    question: Question,
    options: Sequence[tuple[Phrase | str, Act]],
    way: Way,
) -> Page:
    look = flow.look
    middle: list[Block] = [desk_key(look, words, act) for words, act in options]
    if all(len(look.say(words)) <= SHORT for words, _ in options):
        keys = [Key(look, words, act, least=DESK) for words, act in options]
        middle = [Grid(look, keys, least=100)]
    return _asked_page(flow, form, question, middle, way)


def _asked_page(
    flow: Flow, form: Answers, question: Question, middle: list[Block], way: Way, *acts: Key
) -> Page:
    """Return a question's page; what may be left open can be left open again."""
    look = flow.look

    def not_said() -> None:
        form.take(question.name, None)
        way.done()

    middle += [desk_key(look, words, act, sign="unknown") for words, act in way.besides]
    if question.name in form.values and not question.needed and not way.besides:
        middle.append(desk_key(look, say("Not said"), not_said, sign="quiet"))
    return Page(
        look,
        head=[title(look, question.words)],
        low_head=[heading(look, question.words)],
        middle=middle,
        acts=acts,
        back=way.back,
        name="desk question",
    )


def _written_page(
    flow: Flow, form: Answers, question: Written, take: Callable[[str], None], way: Way
) -> Page:
    """Return a line to type in, kept letter by letter; what was written before to tap."""
    look = flow.look

    def typed(text: str) -> None:
        form.take(question.name, text.strip()[: question.most] or None)

    entry = Entry(look, say("In words"), str(form.values.get(question.name, "")), typed)
    middle: list[Block] = [entry]
    middle += [
        desk_key(look, question.said(each), partial(take, each)) for each in question.offered
    ]
    take_this = main_key(look, say("Take this"), way.done)
    return _asked_page(flow, form, question, middle, way, take_this)


def _several_page(flow: Flow, form: Answers, question: Several, way: Way) -> Page:
    """Return keys of which any number can be chosen."""
    look = flow.look
    chosen: list[str] = form.values.get(question.name, [])

    def turn(value: str) -> None:
        left = [each for each in chosen if each != value]
        now = left if value in chosen else [*chosen, value]
        form.take(question.name, now or None)

    keys = [
        Key(
            look,
            words,
            shown_after(flow, partial(turn, value)),
            sign="done" if value in chosen else "quiet",
            least=DESK,
        )
        for value, words in question.options
    ]
    acts = [main_key(look, say("Go on"), way.done)] if chosen else []
    return _asked_page(flow, form, question, [Grid(look, keys, least=100)], way, *acts)
