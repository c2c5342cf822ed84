"""A batch as it is written down, and the label for its bottle."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.bench import Bench
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, main_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.bench_flow import BenchFlow


def batch_page(way: BenchFlow, bench: Bench, back: Act) -> Page:
    """Return what is written down of the batch: lots, how long to keep it, and the label."""
    look = way.flow.look
    middle: list[Block] = [heading(look, say("Which lots went in?"))]
    lots = bench.lots()
    if not lots:
        middle.append(
            Tell(look, "unknown", say("No lot of acid in the books: the label says not known."))
        )
    middle += [
        desk_key(
            look,
            lot.name,
            shown_after(way.flow, partial(bench.turn_lot, lot.id)),
            under=say("went in") if lot.id in bench.chosen_lots else say("did not go in"),
            sign="done" if lot.id in bench.chosen_lots else "quiet",
        )
        for lot in lots
    ]
    kept = bench.keep_until
    middle.append(
        desk_key(
            look,
            say("Keep until {day}", day=kept) if kept is not None else say("Keep until: not set"),
            shown_after(way.flow, bench.turn_weeks),
            under=say("your own decision: no days are published"),
            sign="quiet" if kept is not None else "unknown",
        )
    )
    batch = bench.batch()
    if batch is not None:
        middle.append(heading(look, say("Label for the bottle")))
        middle += [Words(look, each, "small") for each in bench.label(batch)]
    return Page(
        look,
        head=[title(look, say("The batch"))],
        low_head=[heading(look, say("The batch"))],
        middle=middle,
        acts=[main_key(look, say("Write it down"), partial(way.save, bench))],
        back=back,
        name="batch",
    )


def label_page(way: BenchFlow, lines: tuple[Phrase, ...], back: Act) -> Page:
    """Return the label of a batch that is written down, to be copied onto the bottle."""
    look = way.flow.look
    return Page(
        look,
        head=[title(look, say("Write this on the bottle"))],
        low_head=[heading(look, say("Write this on the bottle"))],
        middle=[Words(look, each) for each in lines],
        acts=[main_key(look, say("It stands on the bottle"), back)],
        back=back,
        back_key=False,
        name="bottle",
    )
