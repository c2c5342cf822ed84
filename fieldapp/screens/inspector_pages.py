"""The record book in an inspector's hand: read-only, gaps first, left in two steps."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.inspector import Entry, Shown
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Key
from fieldapp.screens.look import Look
from fieldapp.screens.page import Page
from fieldapp.screens.papers_pages import came
from fieldapp.screens.parts import Together, desk_key, heading, main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.words import count, say

if TYPE_CHECKING:
    from fieldapp.screens.home_flow import HomeFlow


def page(way: HomeFlow, part: int | None) -> Page:
    """Return a part of the treatments; None: what is missing, and the files."""
    look, inspector = way.flow.look, way.flow.kit.inspector
    shown = inspector.shown
    middle: list[Block] = []
    acts: list[Key] = []
    if inspector.trouble is not None:
        middle.append(Tell(look, "late", inspector.trouble, bold=True))
    elif shown is None:
        middle.append(Tell(look, "due", say("Reading the records"), bold=True))
    elif part is None:
        middle = _gaps(way, shown)
    else:
        middle = [_entry(look, each) for each in shown.part(part)]
        if shown.begins_register(part):
            # Small, or with large letters it would have a page of its own.
            begins = Words(look, say("Colonies, movements, visits"), "small", bold=True)
            begins.leads = True
            middle.insert(0, begins)
    if shown is not None and shown.parts:
        following = 0 if part is None else part + 1
        words = say("Show them") if part is None else say("Earlier")
        if following >= shown.parts:
            words, target = say("To the start"), None
        else:
            target = following
        acts.append(main_key(look, words, partial(way.inspector_part, target)))
    named = say("Record book: {place}", place=inspector.place)
    head: list[Block] = [title(look, named)]
    if shown is not None and part is not None:
        head.append(Words(look, say("part {at} of {all}", at=part + 1, all=shown.parts), "small"))
    elif shown is not None:
        head.append(Words(look, shown.tally, "small"))
    return Page(
        look,
        head=head,
        low_head=[Words(look, named, "small", bold=True)],
        middle=middle,
        acts=acts,
        back=partial(way.leave_inspector, part),
        name="inspector",
    )


def leave_page(way: HomeFlow, part: int | None) -> Page:
    """Return the second step out of it: the way back in is the large one."""
    look = way.flow.look
    stay = partial(way.inspector_part, part)
    return Page(
        look,
        head=[title(look, say("Is the phone in its keeper's hand again?"))],
        low_head=[heading(look, say("Is the phone in its keeper's hand again?"))],
        middle=[
            Key(look, say("Yes: leave the record book"), way.inspector_left, centred=False),
        ],
        acts=[main_key(look, say("No: go on showing"), stay)],
        back=stay,
        back_key=False,
        name="inspector leave",
    )


def _gaps(way: HomeFlow, shown: Shown) -> list[Block]:
    look, flow = way.flow.look, way.flow
    middle = came(flow, flow.kit.papers)
    if shown.gaps:
        words = count("{n} kind of gap", "{n} kinds of gaps", len(shown.gaps))
        middle.append(Tell(look, "unknown", words, bold=True))
    else:
        middle.append(Tell(look, "done", say("No gaps found in what the laws read so far want.")))
    middle += [Words(look, each) for each in shown.gaps]
    if not shown.entries:
        middle.append(Tell(look, "quiet", say("No treatment in these years.")))
    book = partial(flow.kit.papers.record_book, flow.kit.inspector.apiary)
    middle.append(desk_key(look, say("Make PDF and CSV"), book))
    return middle


def _entry(look: Look, entry: Entry) -> Block:
    blocks: list[Block] = [heading(look, entry.title)]
    for sign, words in entry.lines:
        blocks.append(Tell(look, sign, words) if sign else Words(look, words))
    return Together(look, blocks)
