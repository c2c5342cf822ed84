"""Questions to the keeper: all of them, and one with its answers."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.book.answering import NUMBERS, Answer
from fieldapp.book.answers import Asked
from fieldapp.rounds.question import Questions
from fieldapp.screens import number_page
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


def list_page(flow: Flow, back: Act) -> Page:
    """Return every open question."""
    look = flow.look
    questions = flow.kit.home.questions
    again = partial(flow.show_page, lambda: list_page(flow, back))
    asked = questions.all()
    middle: list[Block] = [
        desk_key(look, each.phrase, partial(_ask, flow, questions, each, again), sign="unknown")
        for each in asked
    ]
    if not asked:
        middle.append(Tell(look, "done", say("No questions. What you log may bring some.")))
    else:
        words = say("Until you answer, the worse holds: nothing is opened too early.")
        middle.insert(0, Words(look, words, "small"))
    return Page(
        look,
        head=[title(look, say("Questions to answer"))],
        middle=middle,
        back=back,
        name="questions",
    )


def _ask(flow: Flow, questions: Questions, asked: Asked, back: Act) -> None:
    flow.show_page(lambda: page(flow, questions, asked, back))


def page(flow: Flow, questions: Questions, asked: Asked, back: Act) -> Page:
    """Return one question: what it is about, its answers, and the way to the hive."""
    look = flow.look

    def give(answer: Answer) -> None:
        questions.give(asked, answer.drafts)
        back()

    # Not in the head: a small screen in large letters has to turn over within the question.
    middle: list[Block] = [Tell(look, "unknown", asked.phrase, bold=True)]
    middle += [Words(look, each, "small") for each in questions.records(asked)]
    middle += [desk_key(look, each.words, partial(give, each)) for each in questions.answers(asked)]
    again = partial(_ask, flow, questions, asked, back)
    acts = []
    if asked.what in NUMBERS:
        acts.append(main_key(look, say("Enter it"), partial(_number, flow, questions, asked, back)))
    if asked.hive:
        middle.append(
            desk_key(look, say("Look at the hive"), partial(flow.hives.hive, asked.hive, again))
        )
    if asked.hive and asked.what in ("pieces", "unite"):
        record = partial(flow.hives.record, asked.hive, asked.records[0], again)
        middle.append(desk_key(look, say("Put the record right"), record))
    return Page(
        look,
        head=[title(look, say("Question"))],
        middle=middle,
        acts=acts,
        back=back,
        name="question to keeper",
    )


def _number(flow: Flow, questions: Questions, asked: Asked, back: Act) -> None:
    words, unit, _ = NUMBERS[asked.what]

    def take(number: int) -> None:
        questions.number(asked, number)
        back()

    again = partial(_ask, flow, questions, asked, back)
    flow.show_page(lambda: number_page.page(flow, words, unit, take, back=again))
