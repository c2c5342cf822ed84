"""The way through the bench: recipe, amounts, steps, batch; and one's own recipe."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from fieldapp.husbandry.mixing.recipe import Recipe
from fieldapp.rounds.bench import BASES, Bench
from fieldapp.rounds.bench_told import told_steps
from fieldapp.rounds.diluting import Diluting
from fieldapp.rounds.recipes import UNITS, OwnRecipe
from fieldapp.screens import (
    batch_pages,
    bench_pages,
    dilution_page,
    number_page,
    recipe_pages,
)
from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


class BenchFlow:
    """Shows these pages; `flow` shows all others."""

    def __init__(self, flow: Flow) -> None:
        self.flow = flow

    # -- a mix

    def recipes(self, back: Act) -> None:
        """Show the recipes."""
        bench = Bench(self.flow.kit.notebook)
        self.flow.show_page(lambda: bench_pages.recipes_page(self, bench, back))

    def mix(self, bench: Bench, back: Act) -> None:
        """Show the mix under way."""
        self._of_recipe(bench, back, lambda made: bench_pages.mix_page(self, bench, made, back))

    def number(self, bench: Bench, back: Act) -> None:
        """Ask how many hives, seams or boxes."""

        def take(number: int) -> None:
            bench.take_number(number)
            back()

        self.flow.show_page(
            lambda: number_page.page(
                self.flow, say("For how many?"), BASES[bench.basis], take, back=back
            )
        )

    def each(self, bench: Bench, back: Act) -> None:
        """Ask how much for each."""

        def take(millilitres: float) -> None:
            bench.take_each(millilitres)
            back()

        self.flow.show_page(
            lambda: number_page.decimal_page(
                self.flow, say("How much for each?"), say("mL"), take, back=back
            )
        )

    def facts(self, bench: Bench, back: Act) -> None:
        """Show strength, crystals, keeping."""
        self._of_recipe(bench, back, lambda made: bench_pages.facts_page(self, bench, made, back))

    def begin(self, bench: Bench, back: Act) -> None:
        """Say what must be so first; a mix begun goes on at its step."""
        if bench.at:
            self.step(bench, back)
        else:
            self.flow.show_page(lambda: bench_pages.first_page(self, bench, back))

    def leave_out(self, bench: Bench, step: int, back: Act) -> None:
        """Leave a step out, and show the next."""
        bench.leave_out(step)
        self.step(bench, back)

    def step(self, bench: Bench, back: Act) -> None:
        """Show the step at which the keeper stands."""

        def shows(made: Recipe) -> Page:
            told = told_steps(bench, made, cups=self.flow.look.speech.habits.cups)
            at = min(bench.at, len(told) - 1)
            return bench_pages.step_page(self, bench, told[at], len(told), back)

        self._of_recipe(bench, back, shows)

    def measure(self, bench: Bench, step: int, back: Act) -> None:
        """Ask for a temperature read in a step."""

        def take(celsius: float) -> None:
            bench.measure(step, celsius)
            back()

        self.flow.show_page(
            lambda: number_page.degrees_page(self.flow, take, back=back, gloves=True)
        )

    def batch(self, bench: Bench, back: Act) -> None:
        """Show what is written down of the batch."""
        self.flow.show_page(lambda: batch_pages.batch_page(self, bench, back))

    def save(self, bench: Bench) -> None:
        """Write the batch down and show its label."""
        lines = tuple(bench.save())
        self.flow.show_page(lambda: batch_pages.label_page(self, lines, self.flow.home.page))

    def dilution(self, back: Act) -> None:
        """Show an acid being diluted."""
        diluting = Diluting(self.flow.kit.notebook)
        self.flow.show_page(lambda: dilution_page.page(self, diluting, back))

    # -- one's own recipe

    def own(self, bench: Bench, back: Act) -> None:
        """Begin a recipe of one's own."""
        self.own_steps(bench, OwnRecipe(self.flow.kit.notebook), back)

    def own_steps(self, bench: Bench, own: OwnRecipe, back: Act) -> None:
        """Show its steps so far."""
        self.flow.show_page(lambda: recipe_pages.own_page(self, bench, own, back))

    def own_part(self, own: OwnRecipe, back: Act) -> None:
        """Ask what goes in."""
        self.flow.show_page(lambda: recipe_pages.part_page(self, own, back))

    def own_unit(self, own: OwnRecipe, what: str, back: Act) -> None:
        """Ask how it is measured."""
        self.flow.show_page(lambda: recipe_pages.unit_page(self, own, what, back))

    def own_amount(self, own: OwnRecipe, what: str, unit: str, back: Act) -> None:
        """Ask how much; and with a hot pot, whether it stands on the heat meanwhile."""

        def put(amount: float, off_heat: bool) -> None:
            own.add(what, amount, unit, off_heat=off_heat)
            back()

        def take(amount: float) -> None:
            if own.on_heat:
                asked = partial(put, amount)
                self.flow.show_page(lambda: recipe_pages.off_heat_page(self, asked, back))
            else:
                put(amount, False)

        self.flow.show_page(
            lambda: number_page.decimal_page(
                self.flow, say("How much?"), UNITS[unit], take, back=back
            )
        )

    def own_heat(self, own: OwnRecipe, back: Act) -> None:
        """Ask to what temperature it is heated."""

        def take(celsius: float) -> None:
            own.heat(celsius)
            back()

        self.flow.show_page(lambda: number_page.degrees_page(self.flow, take, back=back))

    # -- shared

    def _of_recipe(self, bench: Bench, back: Act, shows: Callable[[Recipe], Page]) -> None:
        """Show a page about the mix under way, or the recipes while there is none."""

        def page() -> Page:
            recipe = bench.recipe
            if recipe is None:
                return bench_pages.recipes_page(self, bench, back)
            return shows(recipe)

        self.flow.show_page(page)
