"""The ways through the program, each loaded when first gone: the first page must not wait."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from fieldapp.screens.applicator_flow import ApplicatorFlow
    from fieldapp.screens.bench_flow import BenchFlow
    from fieldapp.screens.count_flow import CountFlow
    from fieldapp.screens.flow import Flow
    from fieldapp.screens.happen_flow import HappenFlow
    from fieldapp.screens.harvest_flow import HarvestFlow
    from fieldapp.screens.hive_flow import HiveFlow
    from fieldapp.screens.home_flow import HomeFlow
    from fieldapp.screens.look_flow import LookFlow
    from fieldapp.screens.options_flow import OptionsFlow
    from fieldapp.screens.own_flow import OwnFlow
    from fieldapp.screens.premises_flow import PremisesFlow
    from fieldapp.screens.round_flow import RoundFlow
    from fieldapp.screens.stock_flow import StockFlow


class Ways:
    """What `Flow` has of them. Each is made with the flow that shows its pages."""

    @property
    def _flow(self) -> Flow:
        from fieldapp.screens.flow import Flow

        if not isinstance(self, Flow):
            raise TypeError("ways belong to a flow")
        return self

    @cached_property
    def rounds(self) -> RoundFlow:
        """The way to a round and through it."""
        from fieldapp.screens.round_flow import RoundFlow

        return RoundFlow(self._flow)

    @cached_property
    def hives(self) -> HiveFlow:
        """The way through hives and their history."""
        from fieldapp.screens.hive_flow import HiveFlow

        return HiveFlow(self._flow)

    @cached_property
    def home(self) -> HomeFlow:
        """The way through home."""
        from fieldapp.screens.home_flow import HomeFlow

        return HomeFlow(self._flow)

    @cached_property
    def options(self) -> OptionsFlow:
        """The way through what may be done."""
        from fieldapp.screens.options_flow import OptionsFlow

        return OptionsFlow(self._flow)

    @cached_property
    def bench(self) -> BenchFlow:
        """The way through the bench."""
        from fieldapp.screens.bench_flow import BenchFlow

        return BenchFlow(self._flow)

    @cached_property
    def applicators(self) -> ApplicatorFlow:
        """The way through applicators."""
        from fieldapp.screens.applicator_flow import ApplicatorFlow

        return ApplicatorFlow(self._flow)

    @cached_property
    def counts(self) -> CountFlow:
        """The way through a count."""
        from fieldapp.screens.count_flow import CountFlow

        return CountFlow(self._flow)

    @cached_property
    def looks(self) -> LookFlow:
        """The way through a look inside."""
        from fieldapp.screens.look_flow import LookFlow

        return LookFlow(self._flow)

    @cached_property
    def stock(self) -> StockFlow:
        """The way through the stock."""
        from fieldapp.screens.stock_flow import StockFlow

        return StockFlow(self._flow)

    @cached_property
    def own(self) -> OwnFlow:
        """The way through an own treatment."""
        from fieldapp.screens.own_flow import OwnFlow

        return OwnFlow(self._flow)

    @cached_property
    def harvests(self) -> HarvestFlow:
        """The way through honey and its lots."""
        from fieldapp.screens.harvest_flow import HarvestFlow

        return HarvestFlow(self._flow)

    @cached_property
    def happenings(self) -> HappenFlow:
        """The way through what happened to hives."""
        from fieldapp.screens.happen_flow import HappenFlow

        return HappenFlow(self._flow)

    @cached_property
    def premises(self) -> PremisesFlow:
        """The way through apiaries and their register."""
        from fieldapp.screens.premises_flow import PremisesFlow

        return PremisesFlow(self._flow)
