"""Photos beside a record or with a form: those that are there, and the ways to one more."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.photos import PhotoPlace
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, main_key, shown_after, title
from fieldapp.screens.tell import Tell
from fieldapp.screens.theme import Role
from fieldapp.words import Phrase, count, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


def show(flow: Flow, beside: PhotoPlace, back: Act) -> None:
    """Show the page of photos."""
    flow.kit.photos.told = None
    flow.show_page(partial(page, flow, beside, back))


def under(flow: Flow, beside: PhotoPlace) -> tuple[Phrase, Role | None]:
    """Return what a key to the page says of the photos, and its sign where there are any."""
    found = len(flow.kit.photos.beside(beside))
    if not found:
        return say("none yet"), None
    return count("{n} photo", "{n} photos", found), "done"


def shown(flow: Flow, beside: PhotoPlace) -> list[Block]:
    """Return the photos, each with its day; of one that is not here why."""
    blocks: list[Block] = []
    # It loads Pillow, which would else be loaded with every form.
    from fieldapp.screens.picture import Picture  # noqa: PLC0415

    for photo in flow.kit.photos.beside(beside):
        if photo.data is None:
            blocks.append(Tell(flow.look, "unknown", photo.words, "small"))
        else:
            blocks += [Picture(flow.look, photo.data), Words(flow.look, photo.words, "small")]
    return blocks


def page(flow: Flow, beside: PhotoPlace, back: Act) -> Page:
    """Return the photos, and the ways to one more that this device has."""
    look, photos = flow.look, flow.kit.photos
    middle: list[Block] = []
    if photos.busy is not None:
        middle.append(Tell(look, "due", photos.busy, bold=True))
    if photos.told is not None:
        middle.append(Tell(look, "unknown", photos.told, bold=True))
    there = shown(flow, beside)
    middle += there
    if beside.form and there:
        drop = shown_after(flow, partial(photos.take_back, beside))
        middle.append(desk_key(look, say("Leave the last photo out"), drop))
    acts = []
    if photos.camera.there:
        acts.append(main_key(look, say("Take a photo"), partial(photos.take, beside)))
    else:
        words = say("This device has no camera that this program can open.")
        middle.append(Tell(look, "unknown", words, "small"))
    middle += _choices(flow, beside)
    return Page(
        look,
        head=[title(look, say("Photos"))],
        low_head=[Words(look, say("Photos"), "small", bold=True)],
        middle=middle,
        acts=acts,
        back=back,
        name="photos",
    )


def _choices(flow: Flow, beside: PhotoPlace) -> list[Block]:
    look, photos = flow.look, flow.kit.photos
    if photos.picking.there:
        return [desk_key(look, say("Choose a picture"), partial(photos.pick, beside))]
    found = photos.pictures()
    if not found:
        place = f"{photos.folder.parent.name}/{photos.folder.name}"
        words = say("A picture put into {folder} can be chosen here.", folder=place)
        return [Words(look, words, "small")]
    return [
        desk_key(look, say("Take {file}", file=each.name), partial(photos.choose, beside, each))
        for each in found
    ]
