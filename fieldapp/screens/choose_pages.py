"""Choosing where, with what, and how much."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.amounts import Amount
from fieldapp.rounds.apiaries import Place, places
from fieldapp.rounds.choosing import TreatmentChoice, treatments
from fieldapp.rounds.options import Method
from fieldapp.rounds.starting import Start
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act, Key
from fieldapp.screens.page import Page
from fieldapp.screens.parts import title
from fieldapp.screens.tell import Tell
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.round_flow import RoundFlow


def apiary_page(way: RoundFlow) -> Page:
    """Return the choice of an apiary for a round."""
    return _apiaries(way, way.round_at)


def hives_page(way: RoundFlow) -> Page:
    """Return the choice of an apiary whose hives to look at."""
    return _apiaries(way, way.flow.hives.at)


def honey_page(way: RoundFlow, chosen: Callable[[str], None], back: Act) -> Page:
    """Return the choice of an apiary of which honey is taken."""
    return _apiaries(way, chosen, back)


def _apiaries(way: RoundFlow, chosen: Callable[[str], None], back: Act | None = None) -> Page:
    look = way.flow.look
    found = places(way.flow.kit.notebook, way.flow.kit.positions.latest)
    middle: list[Block] = [_place(way, place, chosen) for place in found]
    if not found:
        words = say("No apiary yet. Add one here, or pair with your server at home and sync.")
        middle.append(Tell(look, "unknown", words))
        add = partial(way.flow.hives.add_apiary, way.flow.hives.choose)
        middle.append(Key(look, say("Add an apiary"), add, centred=False))
    return Page(
        look,
        head=[title(look, say("Which apiary?"))],
        middle=middle,
        back=back or way.flow.due,
        name="apiary",
    )


def _place(way: RoundFlow, place: Place, chosen: Callable[[str], None]) -> Key:
    return Key(
        way.flow.look,
        place.name,
        lambda: chosen(place.id),
        under=[(place.words, "small")],
        centred=False,
    )


def treatment_page(way: RoundFlow, start: Start) -> Page:
    """Return the choice of a treatment: those of the apiary's country, used ones first."""
    look = way.flow.look
    notebook = way.flow.kit.notebook
    place = next((each for each in places(notebook, None) if each.id == start.apiary), None)
    country = place.country if place else None
    choices = treatments(notebook, country)
    methods = {each.treatment: each for each in start.options.methods()}
    middle: list[Block] = [
        _treatment(way, start, choice, methods.get(choice.identity)) for choice in choices
    ]
    own = Key(
        look,
        say("Not here: enter it from its label"),
        partial(way.own, start),
        sign="unknown",
        centred=False,
    )
    middle.append(own)
    if country is None:
        middle.insert(
            0,
            Tell(look, "unknown", say("The country of this apiary is not known, so no label is.")),
        )
    return Page(
        look,
        head=[
            title(look, say("Which treatment?")),
            Words(look, place.name if place else "", "small"),
        ],
        low_head=[Words(look, say("Which treatment?"), bold=True)],
        middle=middle,
        acts=[Key(look, say("Another round"), lambda: way.others(start.apiary))],
        back=way.flow.due,
        name="treatment",
    )


def _treatment(way: RoundFlow, start: Start, choice: TreatmentChoice, method: Method | None) -> Key:
    def chosen() -> None:
        start.treatment = choice.identity
        way.prepare(start)

    under: list[Phrase | str] = []
    if method is not None:
        under += [method.words, *([method.first] if method.first is not None else [])]
    if choice.published:
        under.append(choice.label)
    elif method is None or method.first is None:
        under.append(say("no published label known"))
    return Key(
        way.flow.look,
        choice.name,
        chosen,
        under=[(each, "small") for each in under],
        sign=method.sign if method is not None else "unknown",
        centred=False,
    )


def label_page(way: RoundFlow, start: Start) -> Page:
    """Return the question of a first use: what the label in hand says about honey."""
    look = way.flow.look
    library = start.library_days
    middle: list[Block] = [
        Tell(look, "unknown", say("The label in your hand comes before this library."))
    ]
    if library is not None:
        days, standing = library
        middle.append(
            Tell(
                look,
                "quiet",
                say("The library has {days} days ({standing}).", days=days, standing=standing),
                "small",
            )
        )
    else:
        middle.append(Tell(look, "unknown", say("The library has no period for honey."), "small"))

    def not_known() -> None:
        start.label_says(None)
        way.prepare(start)

    middle += [
        Key(look, say("Enter the days on the label"), lambda: way.ask_days(start), centred=False),
        Key(
            look,
            say("Not on the label, or not known"),
            not_known,
            under=[(say("honey stays closed until a period is known"), "small")]
            if library is None
            else (),
            centred=False,
        ),
    ]
    return Page(
        look,
        head=[
            title(look, say("Honey: days to wait?")),
            Words(look, start.body["name"], "small"),
        ],
        low_head=[Words(look, say("Honey: days to wait?"), bold=True)],
        middle=middle,
        back=lambda: way.round_at(start.apiary),
        name="label",
    )


def amount_page(way: RoundFlow, start: Start) -> Page:
    """Return the choice between the amounts that the label gives."""
    look = way.flow.look

    def key(amount: Amount) -> Key:
        def chosen() -> None:
            start.take_amount(amount)
            way.prepare(start)

        return Key(
            look,
            amount.phrase(),
            chosen,
            under=[(amount.when, "small")] if amount.when else (),
            centred=False,
        )

    return Page(
        look,
        head=[title(look, say("How much a hive?")), Words(look, start.body["name"], "small")],
        middle=[*(key(amount) for amount in start.amounts), _not_said(way, start)],
        back=way.flow.due,
        name="amount",
    )


def _not_said(way: RoundFlow, start: Start) -> Key:
    def chosen() -> None:
        start.take_amount(None)
        way.prepare(start)

    return Key(
        way.flow.look,
        say("As the label says"),
        chosen,
        under=[(say("the amount is not recorded"), "small")],
        centred=False,
    )
