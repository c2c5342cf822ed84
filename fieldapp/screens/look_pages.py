"""Questions in taps: all of a form on one page with their answers, each answered on its own."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

from fieldapp.rounds.look_form import (
    Answerable,
    Choice,
    Form,
    Number,
    Question,
    answer_words,
    in_parts,
)
from fieldapp.rounds.photos import PhotoPlace
from fieldapp.screens import number_page, photo_pages
from fieldapp.screens.block import Block, Words
from fieldapp.screens.grid import Grid
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import Role
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow

SAVE = say("Save")


def form_page(
    flow: Flow,
    form: Form,
    act: Act,
    back: Act,
    *,
    act_words: Phrase = SAVE,
    photos_for: str | None = None,
    asks: Callable[[Any, Act], None] | None = None,
) -> Page:
    """Return the questions of a form with what was answered; `act` is what its large key does.

    `photos_for` is the name under which photos wait with it, None where it takes none. `asks`
    shows a question and then what its second argument shows, where a form has some of its own.
    """
    look = flow.look

    def anew() -> Page:
        return form_page(
            flow, form, act, back, act_words=act_words, photos_for=photos_for, asks=asks
        )

    again = partial(flow.show_page, anew)
    middle: list[Block] = [Tell(look, each.sign, each.words) for each in form.remarks]
    ask = asks or partial(ask_one, flow, form)
    keys = [_key(flow, form, each, partial(ask, each, again)) for each in form.questions]
    if photos_for is not None:
        beside = PhotoPlace(form=photos_for)
        under, sign = photo_pages.under(flow, beside)
        photos = partial(photo_pages.show, flow, beside, again)
        keys.append(Key(look, say("Photos"), photos, under=[(under, "small")], sign=sign))
    middle.append(Grid(look, keys))
    acts = []
    if form.ready:
        acts.append(main_key(look, act_words, act))
    return Page(
        look,
        head=[title(look, form.title)],
        low_head=[Words(look, form.title, "small", bold=True)],
        middle=middle,
        acts=acts,
        back=back,
        name="form",
    )


def _key(flow: Flow, form: Form, question: Answerable, ask: Act) -> Key:
    under: Phrase | str = answer_words(question, form.values)
    sign: Role | None = "done" if question.name in form.values else None
    if question.needed and sign is None:
        under, sign = say("needed"), "due"
    return Key(flow.look, question.words, ask, under=[(under, "small")], sign=sign)


def ask_one(flow: Flow, form: Form, question: Question, again: Act) -> None:
    """Ask a question of a form; its answer leads on to `again`."""
    if isinstance(question, Number) and question.unit is not None:
        ask_number(flow, form, question, question.unit, again)
    else:
        flow.show_page(lambda: question_page(flow, form, question, again))


def ask_number(flow: Flow, form: Form, question: Number, unit: Phrase, again: Act) -> None:
    """Ask for a number digit by digit."""

    def take(number: int) -> None:
        form.take(question.name, number)
        again()

    flow.show_page(
        lambda: number_page.page(flow, question.words, unit, take, back=again, gloves=True)
    )


def question_page(
    flow: Flow, form: Form, question: Question, again: Act, part: int = 0, back: Act | None = None
) -> Page:
    """Return one question with its answers as keys; each leads on at once.

    Going back is the same, but where there is another `back`.
    """
    look = flow.look

    def take(value: Any) -> None:
        form.take(question.name, value)
        again()

    keys: list[Key] = []
    acts: list[Key] = []
    if isinstance(question, Choice):
        keys = [Key(look, words, partial(take, value)) for value, words in question.options]
    else:
        keys = [
            Key(look, in_parts(each), partial(take, each), size="title")
            for each in _numbers(question, part)
        ]
        if question.parts > 1:
            after = (part + 1) % question.parts
            shown = question_page
            acts.append(
                Key(
                    look,
                    say("a half more") if question.parts == 2 else say("a quarter more"),
                    lambda: flow.show_page(lambda: shown(flow, form, question, again, after, back)),
                )
            )
    if question.name in form.values and not question.needed:
        keys.append(Key(look, say("Not said"), partial(take, None)))
    return Page(
        look,
        head=[title(look, question.words)],
        low_head=[Words(look, question.words, "small", bold=True)],
        middle=[Grid(look, keys)],
        acts=acts,
        back=back or again,
        name="question",
    )


def _numbers(question: Number, part: int) -> list[float]:
    more = part / question.parts
    return [n + more if more else n for n in range(question.least, question.most + 1)]
