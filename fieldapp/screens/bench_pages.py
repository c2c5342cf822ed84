"""The bench: which recipe, for how many, what goes in; how strong, how clear, how long it keeps.

It is read at arm's length over a stove: one step a page, its amount as the picture.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.husbandry.mixing.recipe import Recipe
from fieldapp.rounds.bench import BASES, Bench
from fieldapp.rounds.bench_checks import ANSWERS, CHECKS
from fieldapp.rounds.bench_told import (
    StepTold,
    Told,
    rounded,
    told_crystals,
    told_keeping,
    told_steps,
    told_strength,
)
from fieldapp.rounds.recipes import Choice
from fieldapp.screens.block import Block, Row, Words
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, main_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import DESK, SPACE, Role
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.bench_flow import BenchFlow


def recipes_page(way: BenchFlow, bench: Bench, back: Act) -> Page:
    """Return the choice of a recipe, and the way to one's own."""
    look = way.flow.look

    def key(choice: Choice) -> Key:
        def chosen() -> None:
            bench.choose(choice.recipe.title)
            way.mix(bench, back)

        return desk_key(look, choice.recipe.name, chosen, under=choice.whose)

    middle: list[Block] = [
        Tell(look, "quiet", say("A recipe is what its source prints; none is advice."), "small")
    ]
    if bench.printed is not None:
        under_way = say("{recipe}", recipe=bench.printed.name)
        go_on = partial(way.mix, bench, back)
        middle.insert(0, desk_key(look, say("Go on mixing"), go_on, under=under_way, sign="due"))
    middle += [key(choice) for choice in bench.recipes()]
    here = partial(way.recipes, back)
    middle.append(desk_key(look, say("Dilute an acid"), partial(way.dilution, here)))
    return Page(
        look,
        head=[title(look, say("The bench"))],
        low_head=[heading(look, say("The bench"))],
        middle=middle,
        acts=[Key(look, say("Own recipe"), partial(way.own, bench, back))],
        back=back,
        name="bench",
    )


def mix_page(way: BenchFlow, bench: Bench, recipe: Recipe, back: Act) -> Page:
    """Return how much is made, and what goes in."""
    look = way.flow.look
    again = partial(way.mix, bench, back)
    number, each, need = bench.number, bench.each, bench.need
    keys: list[Block] = [
        desk_key(
            look,
            say("{n} {basis}", n=number, basis=BASES[bench.basis])
            if number is not None
            else say("How many?"),
            partial(way.number, bench, again),
            under=say("made for"),
            sign=None if number is not None else "unknown",
        ),
        desk_key(
            look,
            BASES[bench.basis],
            shown_after(way.flow, bench.turn_basis),
            under=say("counted in"),
        ),
    ]
    doses: list[Block] = [
        desk_key(
            look,
            say("{n} mL", n=each) if each is not None else say("How much?"),
            partial(way.each, bench, again),
            under=say("each"),
            sign=None if each is not None else "unknown",
        ),
        desk_key(
            look,
            say("{n} % more", n=bench.margin),
            shown_after(way.flow, bench.turn_margin),
            under=say("margin"),
        ),
    ]
    middle: list[Block] = [Row(look, keys, SPACE), Row(look, doses, SPACE)]
    if need is not None:
        middle.append(Words(look, say("{n} mL", n=rounded(need)), "figure", bold=True))
    else:
        middle.append(
            Tell(look, "unknown", say("Say how many and how much; shown as printed."), "small")
        )
    middle += _parts(way, bench, recipe)
    middle += [
        desk_key(
            look,
            say("Scales: yes") if bench.scales else say("No scales: kitchen measures"),
            shown_after(way.flow, bench.turn_scales),
            under=say("weighing is better"),
        ),
        desk_key(
            look, say("How strong, how clear, how long it keeps"), partial(way.facts, bench, again)
        ),
        desk_key(look, say("Write the batch down"), partial(way.batch, bench, again)),
    ]
    return Page(
        look,
        head=[title(look, recipe.name)],
        low_head=[Words(look, recipe.name, bold=True)],
        middle=middle,
        acts=[main_key(look, say("Step by step"), partial(way.begin, bench, again))],
        back=partial(way.recipes, back),
        name="mix",
    )


def _parts(way: BenchFlow, bench: Bench, recipe: Recipe) -> list[Block]:
    look = way.flow.look
    blocks: list[Block] = []
    for told in told_steps(bench, recipe, cups=look.speech.habits.cups):
        stops = [words for sign, words in told.findings if sign == "late"]
        blocks += [Tell(look, "late", words, "small", bold=True) for words in stops]
        if told.figure is not None:
            blocks.append(
                Words(look, say("{act}: {figure}", act=told.act, figure=told.figure), bold=True)
            )
            blocks += [Words(look, each, "small") for each in told.under]
        else:
            blocks.append(Words(look, told.act, "small"))
    return blocks


def first_page(way: BenchFlow, bench: Bench, back: Act) -> Page:
    """Return what is asked before anything is opened, each on its own."""
    look = way.flow.look
    signs: dict[str, Role] = {"yes": "done", "no": "late"}
    return Page(
        look,
        head=[title(look, say("Before you begin"))],
        low_head=[heading(look, say("Before you begin"))],
        middle=[
            Key(
                look,
                words,
                shown_after(way.flow, partial(bench.turn_check, check)),
                under=[(ANSWERS[bench.answer(check)], "body")],
                sign=signs.get(bench.answer(check), "unknown"),
                least=DESK,
                centred=False,
            )
            for check, words in CHECKS.items()
        ],
        acts=[main_key(look, say("Go on"), partial(way.step, bench, back))],
        back=back,
        name="bench first",
    )


def step_page(way: BenchFlow, bench: Bench, told: StepTold, of: int, back: Act) -> Page:
    """Return one step, its amount as large as there is type."""
    look = way.flow.look
    middle: list[Block] = [
        Tell(look, sign, words, "title" if sign == "late" else "body", bold=True)
        for sign, words in told.findings
    ]
    middle.append(Words(look, told.act, "title", bold=True))
    if told.figure is not None:
        middle.append(Words(look, told.figure, "figure", bold=True))
    middle += [Words(look, each, "title") for each in told.under]
    if told.heats:
        measure = partial(way.measure, bench, told.number, partial(way.step, bench, back))
        middle.append(Key(look, say("Measured with a thermometer"), measure))
    last = told.number + 1 == of

    def go_on() -> None:
        bench.go(0 if last else told.number + 1)
        if last:
            way.batch(bench, back)
        else:
            way.step(bench, back)

    def go_back() -> None:
        if told.number == 0:
            back()
        else:
            bench.go(told.number - 1)
            way.step(bench, back)

    return Page(
        look,
        head=[Words(look, say("Step {n} of {all}", n=told.number + 1, all=of), "body")],
        middle=middle,
        acts=[_step_act(way, bench, told, go_on, back)],
        back=go_back,
        name="step",
    )


def _step_act(way: BenchFlow, bench: Bench, told: StepTold, go_on: Act, back: Act) -> Key:
    """Return what ends a step; a stop is met with an answer of its own."""
    look = way.flow.look
    if not told.stops:
        return main_key(look, say("Done: next"), go_on)
    if told.measured:
        return Key(look, say("Off the heat, away from it"), go_on)
    return Key(look, say("Leave this step out"), partial(way.leave_out, bench, told.number, back))


def facts_page(way: BenchFlow, bench: Bench, recipe: Recipe, back: Act) -> Page:
    """Return strength, crystals and keeping, each with where it stands."""
    look = way.flow.look
    parts: list[tuple[Phrase, list[Told]]] = [
        (say("How strong"), told_strength(bench, recipe)),
        (say("How clear"), told_crystals(bench, recipe)),
        (say("How long it keeps"), told_keeping(bench, recipe)),
    ]
    middle: list[Block] = []
    for name, lines in parts:
        if lines:
            middle.append(heading(look, name))
            middle += [Tell(look, each.sign, each.words, "small") for each in lines]
    if recipe.reason.source:
        middle.append(heading(look, say("Where it stands")))
        middle.append(Words(look, recipe.reason.source, "small", "quiet"))
    return Page(
        look,
        head=[title(look, say("About this mix")), Words(look, recipe.name, "small")],
        low_head=[Words(look, say("About this mix"), bold=True)],
        middle=middle,
        back=back,
        name="facts",
    )
