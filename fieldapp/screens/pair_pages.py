"""Pairing with a server: those that are heard in this network, then the code."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.screens.block import Block, Words
from fieldapp.screens.entry import Entry
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, main_key, title
from fieldapp.screens.tell import Tell
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow
    from fieldapp.wire.announcement import Announced


def servers_page(flow: Flow) -> Page:
    """Return the servers that announce themselves, and the way to one that does not."""
    look = flow.look
    home = flow.kit.home
    scan = flow.kit.scan
    middle: list[Block] = []
    if scan.busy is not None:
        middle.append(Tell(look, "due", scan.busy, bold=True))
    if scan.told is not None:
        middle.append(Tell(look, "unknown", scan.told, "small", bold=True))
    middle += [
        desk_key(look, one.name, partial(flow.home.code, one), under=_under(one))
        for one in home.heard
    ]
    if home.listening:
        middle.append(Tell(look, "quiet", say("Listening for servers in this network"), "small"))
    elif not home.heard:
        middle += [
            Tell(look, "unknown", say("No server is heard in this network.")),
            Words(
                look,
                say(
                    "Is it running, and is this phone in the wifi at home? Some wifi keeps phones "
                    "and servers apart: then type the address that the server shows."
                ),
                "small",
            ),
        ]
    middle.append(desk_key(look, say("Type the address"), partial(flow.home.code, None)))
    if not home.listening and not home.heard:
        middle.append(desk_key(look, say("Listen again"), flow.home.pair))
    acts = []
    if scan.photos.camera.there:
        acts.append(main_key(look, say("Scan the code"), scan.take))
    else:
        middle += [
            desk_key(
                look, say("Read the code in {file}", file=each.name), partial(scan.choose, each)
            )
            for each in scan.photos.pictures()
        ]
    return Page(
        look,
        head=[
            title(look, say("Pair with a server")),
            Words(look, say("The server shows a code when it starts. Which one is it?"), "small"),
        ],
        low_head=[Words(look, say("Pair with a server"), "small", bold=True)],
        middle=middle,
        acts=acts,
        back=flow.home.page,
        name="servers",
    )


def _under(one: Announced) -> Phrase | str:
    if one.speaks:
        return one.addresses[0]
    return say(
        "{address}. Speaks another version: bring phone and server up to date.",
        address=one.addresses[0],
    )


def code_page(flow: Flow, server: Announced | None) -> Page:
    """Return the page that asks for the code of a server, and for its address where none is told.

    What a server says of itself is a hint: the code carries the beginning of its certificate.
    """
    look = flow.look
    typed = {"text": "", "address": ""}

    def pair() -> None:
        addresses = server.addresses if server is not None else (typed["address"].strip(),)
        flow.home.page()
        flow.kit.home.pair(typed["text"].strip(), addresses)

    name = say("Code: six groups of four signs")
    middle: list[Block] = [Entry(look, name, "", partial(typed.__setitem__, "text"))]
    if server is None:
        name = say("Address, as the server shows it")
        middle.append(Entry(look, name, "", partial(typed.__setitem__, "address")))
        words = say("Without an address the server is looked for.")
    else:
        words = say("The code is told to no server but the one that it is of.")
    middle.append(Words(look, words, "small"))
    return Page(
        look,
        head=[
            title(look, say("The server's code")),
            *(
                [Words(look, server.name), Words(look, server.addresses[0], "small")]
                if server
                else []
            ),
        ],
        middle=middle,
        acts=[main_key(look, say("Pair"), pair)],
        back=flow.home.servers,
        name="pair",
    )
