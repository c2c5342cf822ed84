"""The way through the applicators: which, measuring strokes and degrees, what strokes give."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.husbandry.vocabulary import INCHES, STROKES
from fieldapp.rounds.applicator import PACES, Applicator, add_applicator, applicators
from fieldapp.rounds.vets_dose import VetsDose
from fieldapp.screens import applicator_pages, number_page, vets_dose_page
from fieldapp.screens.keys import Act
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


class ApplicatorFlow:
    """Shows these pages; `flow` shows all others."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow

    def all(self, back: Act) -> None:
        """Show the applicators."""
        notebook = self.flow.kit.notebook
        self.flow.show_page(
            lambda: applicator_pages.list_page(
                self, [Applicator(notebook, each.id) for each in applicators(notebook)], back
            )
        )

    def new(self, name: str, back: Act) -> None:
        """Write a new one down and show it."""
        notebook = self.flow.kit.notebook
        self.one(Applicator(notebook, add_applicator(notebook, name)), back)

    def open(self, gear: str, back: Act) -> None:
        """Show one applicator by its record."""
        self.one(Applicator(self.flow.kit.notebook, gear), back)

    def one(self, one: Applicator, back: Act) -> None:
        """Show one applicator."""
        self.flow.show_page(lambda: applicator_pages.one_page(self, one, back))

    def gives(self, one: Applicator, back: Act) -> None:
        """Show what its strokes give."""
        self.flow.show_page(lambda: applicator_pages.gives_page(self, one, back))

    # -- a dose written down

    def new_dose(self, back: Act) -> None:
        """Begin to enter a veterinarian's document."""
        self.vets_dose(VetsDose(self.flow.kit.notebook), back)

    def vets_dose(self, dose: VetsDose, back: Act, wrong: Phrase | None = None) -> None:
        """Show a veterinarian's document being entered."""
        self.flow.show_page(lambda: vets_dose_page.page(self, dose, wrong, back))

    def vets_grams(self, dose: VetsDose, back: Act) -> None:
        """Ask for the dose."""

        def take(grams: float) -> None:
            dose.grams = grams
            self.vets_dose(dose, back)

        asked = say("How much for one colony?")
        again = partial(self.vets_dose, dose, back)
        self.flow.show_page(
            lambda: number_page.decimal_page(self.flow, asked, say("g"), take, back=again)
        )

    # -- strokes into a measure

    def strokes(self, one: Applicator, back: Act) -> None:
        """Ask how many strokes, in what it was measured, how much came out."""
        self._whole(say("How many strokes?"), STROKES, partial(self._unit, one, back), back)

    def _unit(self, one: Applicator, back: Act, strokes: int) -> None:
        if strokes < 1:
            back()
            return
        keys = [
            (say("In mL, read off"), partial(self._amount, one, back, strokes, "mL")),
            (say("In g, weighed"), partial(self._amount, one, back, strokes, "g")),
        ]
        self._choose(say("What came out?"), keys, back)

    def _amount(self, one: Applicator, back: Act, strokes: int, unit: str) -> None:
        def take(amount: float) -> None:
            one.add_strokes(strokes, amount, unit)
            back()

        words = say("mL") if unit == "mL" else say("g")
        self._decimal(say("What came out?"), words, take, back)

    # -- temperature at a distance

    def heat(self, one: Applicator, back: Act) -> None:
        """Ask for pace, distance, temperature, and whether liquid spat."""
        keys = [(words, partial(self._far, one, back, pace)) for pace, words in PACES.items()]
        self._choose(say("How fast?"), keys, back)

    def _far(self, one: Applicator, back: Act, pace: str) -> None:
        inches = one.inches

        def take(distance: float) -> None:
            self._hot(one, back, pace, distance * 2.54 if inches else distance)

        self._decimal(say("How far from the nozzle?"), INCHES if inches else say("cm"), take, back)

    def _hot(self, one: Applicator, back: Act, pace: str, distance: float) -> None:
        take = partial(self._spat, one, back, pace, distance)
        self.flow.show_page(
            lambda: number_page.degrees_page(self.flow, take, back=back, gloves=True)
        )

    def _spat(self, one: Applicator, back: Act, pace: str, distance: float, celsius: float) -> None:
        def take(spat: bool) -> None:
            one.add_heat(pace, distance, celsius, spat=spat)
            back()

        keys = [(say("Liquid spat"), partial(take, True)), (say("No liquid"), partial(take, False))]
        self._choose(say("Did liquid spit?"), keys, back)

    def limit(self, one: Applicator, back: Act) -> None:
        """Ask for the keeper's own limit."""

        def take(celsius: float) -> None:
            one.take_limit(celsius)
            back()

        self.flow.show_page(lambda: number_page.degrees_page(self.flow, take, back=back))

    # -- shared, and met with gloves on: acid is in the applicator

    def _choose(self, asked: Phrase, keys: Sequence[tuple[Phrase, Act]], back: Act) -> None:
        self.flow.show_page(lambda: applicator_pages.choice_page(self, asked, keys, back))

    def _whole(self, asked: Phrase, unit: Phrase, take: Callable[[int], None], back: Act) -> None:
        self.flow.show_page(
            lambda: number_page.page(self.flow, asked, unit, take, back=back, gloves=True)
        )

    def _decimal(
        self, asked: Phrase, unit: Phrase, take: Callable[[float], None], back: Act
    ) -> None:
        self.flow.show_page(
            lambda: number_page.decimal_page(self.flow, asked, unit, take, back=back, gloves=True)
        )
