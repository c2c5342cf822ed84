"""Files from this phone: the record book for an inspector, the calendar, backup and restore."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.papers_out import Papers
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, title
from fieldapp.screens.tell import Tell
from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


#: So many days are offered to the phone's own calendar one by one; the file has all.
_NEXT = 3


def page(flow: Flow, back: Act) -> Page:
    """Return what can be made into a file here, and what came of it."""
    look, papers = flow.look, flow.kit.papers
    middle = came(flow, papers)
    middle += [
        heading(look, say("Show the inspector")),
        desk_key(look, say("All apiaries"), partial(flow.home.inspector, None)),
        *(
            desk_key(look, place.name, partial(flow.home.inspector, place.id))
            for place in flow.kit.notebook.book.apiaries(flow.kit.notebook.today())
        ),
        heading(look, say("Calendar")),
        desk_key(look, say("Due dates as a calendar file"), papers.calendar),
        *_days(flow),
        heading(look, say("Backup")),
        desk_key(look, say("Make a backup"), papers.backup),
    ]
    found = papers.backups()
    if papers.picking.there:
        middle.append(desk_key(look, say("Bring back from a file"), papers.pick))
    elif not found:
        words = say("To bring a backup back, put its file into {folder}.", folder=papers.place)
        middle.append(Words(look, words, "small"))
    middle += [
        desk_key(look, say("Bring back {file}", file=each.name), partial(papers.restore, each))
        for each in found
    ]
    return Page(look, head=[title(look, say("Files"))], middle=middle, back=back, name="papers")


def came(flow: Flow, papers: Papers) -> list[Block]:
    """Return what came of the last file, or that one is being made."""
    look = flow.look
    if papers.busy is not None:
        return [Tell(look, "due", papers.busy, bold=True)]
    if papers.out is None:
        return []
    out = papers.out
    return [
        Tell(look, "done" if out.ok else "late", out.words, bold=True),
        *(
            Words(look, say("{file} in {folder}", file=file.name, folder=papers.place), "small")
            for file in out.files
            if not papers.sharing.there
        ),
        *(
            desk_key(look, say("Send {file}", file=file.name), partial(papers.send, file))
            for file in out.files
            if papers.sharing.there
        ),
    ]


def _days(flow: Flow) -> list[Block]:
    """Return a key for each of the next days that the phone's own calendar may keep."""
    if not flow.kit.papers.sharing.there:
        return []
    return [
        desk_key(
            flow.look,
            say("{what}, {day}: into the calendar", what=each.title, day=each.at.date()),
            partial(flow.kit.papers.to_calendar, each),
        )
        for each in flow.kit.alarms.coming()[:_NEXT]
    ]
