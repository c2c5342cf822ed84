"""Photos beside a record or with a form: those that are there, and the ways to one more."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.photos import Photo, PhotoPlace
from fieldapp.screens.block import Block, Words
from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, main_key, title
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
    return [block for photo in flow.kit.photos.beside(beside) for block in _photo(flow, photo)]


def _photo(flow: Flow, photo: Photo) -> list[Block]:
    if photo.data is None:
        return [Tell(flow.look, "unknown", photo.words, "small")]
    # It loads Pillow, which would else be loaded with every form.
    from fieldapp.screens.picture import Picture  # noqa: PLC0415

    return [Picture(flow.look, photo.data), Words(flow.look, photo.words, "small")]


def page(flow: Flow, beside: PhotoPlace, back: Act) -> Page:
    """Return the photos, and the ways to one more that this device has."""
    look, photos = flow.look, flow.kit.photos
    middle: list[Block] = []
    if photos.busy is not None:
        middle.append(Tell(look, "due", photos.busy, bold=True))
    if photos.told is not None:
        middle.append(Tell(look, "unknown", photos.told, bold=True))
    again = partial(show, flow, beside, back)
    for photo in photos.beside(beside):
        ask = partial(flow.show_page, partial(_back_page, flow, beside, photo, again))
        middle += [*_photo(flow, photo), desk_key(look, say("Take this photo back"), ask)]
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


def _back_page(flow: Flow, beside: PhotoPlace, photo: Photo, again: Act) -> Page:
    """Return the photo once more, with what taking it back does."""
    look = flow.look
    words = say("Its picture is deleted from this phone. That it stood here stays in the history.")
    if beside.form:
        words = say("Its picture is deleted from this phone: nothing was saved of it.")

    def take_back() -> None:
        flow.kit.photos.take_back(beside, photo.digest)
        again()

    return Page(
        look,
        head=[title(look, say("Take this photo back?"))],
        low_head=[Words(look, say("Take this photo back?"), "small", bold=True)],
        middle=[Tell(look, "late", words, "small"), *_photo(flow, photo)],
        acts=[main_key(look, say("Take back"), take_back)],
        back=again,
        name="photo back",
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
