"""The first start, in four short questions."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.husbandry.vocabulary import HIVES
from fieldapp.rounds.setup import COUNTRIES, Country, Setup
from fieldapp.screens import number_page
from fieldapp.screens.block import Words
from fieldapp.screens.entry import Entry
from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow

#: What keeper and apiary are called where nothing was entered.
_KEEPER = say("Keeper")


def who_page(flow: Flow, setup: Setup) -> Page:
    """Return the choice between the keepers whom the server's records know."""
    look = flow.look

    def chosen(keeper: str) -> None:
        setup.be(keeper)
        flow.start_up()

    return Page(
        look,
        head=[title(look, say("Whose phone is this?"))],
        middle=[
            *(desk_key(look, name, partial(chosen, keeper)) for keeper, name in setup.keepers()),
            desk_key(look, say("Somebody else's"), lambda: flow.home.ask_name(setup)),
        ],
        name="first who",
    )


def name_page(flow: Flow, setup: Setup) -> Page:
    """Return the first page of all: whose records these are."""
    look = flow.look

    def go_on() -> None:
        setup.name = setup.name or look.say(_KEEPER)
        if setup.has_apiaries:
            setup.join()
            flow.start_up()
        else:
            flow.show_page(lambda: country_page(flow, setup))

    return Page(
        look,
        head=[title(look, say("Who keeps these records?"))],
        middle=[
            Entry(
                look,
                say("Your name, as the record book shall show it"),
                setup.name,
                lambda text: setattr(setup, "name", text.strip()),
            ),
            desk_key(look, say("There is a server already: pair"), flow.home.pair),
            Tell(
                look,
                "quiet",
                say(
                    "A log book and a calculator. The product's label, local rules and a "
                    "veterinarian decide."
                ),
                "small",
            ),
        ],
        acts=[main_key(look, say("Go on"), go_on)],
        name="first name",
    )


def country_page(flow: Flow, setup: Setup, back: Act | None = None) -> Page:
    """Return the choice of the country whose labels hold; `back` as at the first start."""
    look = flow.look

    def chosen(country: Country) -> None:
        setup.country = country
        flow.show_page(lambda: apiary_page(flow, setup, back))

    return Page(
        look,
        head=[
            title(look, say("Which country?")),
            Words(look, say("It decides which labels are offered."), "small"),
        ],
        middle=[desk_key(look, country.name, partial(chosen, country)) for country in COUNTRIES],
        back=back or partial(flow.home.first_start, setup),
        name="first country",
    )


def apiary_page(flow: Flow, setup: Setup, back: Act | None = None) -> Page:
    """Return the question for the apiary's name."""
    look = flow.look
    named = say("The first apiary") if setup.needed else say("One more apiary")

    return Page(
        look,
        head=[title(look, named)],
        middle=[
            Entry(
                look,
                say("Its name (left empty: {name})", name=setup.default_name),
                setup.apiary,
                lambda text: setattr(setup, "apiary", text.strip()),
            ),
        ],
        acts=[
            main_key(
                look,
                say("Go on"),
                lambda: flow.show_page(lambda: _hives_page(flow, setup, back)),
            ),
        ],
        back=lambda: flow.show_page(lambda: country_page(flow, setup, back)),
        name="first apiary",
    )


def _hives_page(flow: Flow, setup: Setup, back: Act | None) -> Page:
    def take(number: int) -> None:
        setup.hives = number
        fix = flow.kit.positions.latest
        setup.apiary = setup.apiary or flow.look.say(setup.default_name)
        setup.finish(fix.lat if fix else None, fix.lon if fix else None)
        flow.start_up()

    return number_page.page(
        flow,
        say("How many hives?"),
        HIVES,
        take,
        back=lambda: flow.show_page(lambda: apiary_page(flow, setup, back)),
    )
