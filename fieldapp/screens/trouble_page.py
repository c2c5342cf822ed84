"""What went wrong, what to do, and that nothing saved before is lost."""

from __future__ import annotations

from typing import TYPE_CHECKING

from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.screens.parts import title
from fieldapp.screens.tell import Tell
from fieldapp.words import Phrase, say

if TYPE_CHECKING:
    from fieldapp.screens.flow import Flow


def page(flow: Flow, wrong: Phrase, back: Act) -> Page:
    """Return the page that says so and goes back."""
    return Page(
        flow.look,
        head=[title(flow.look, say("That did not work"))],
        middle=[Tell(flow.look, "late", wrong)],
        back=back,
        name="trouble",
    )
