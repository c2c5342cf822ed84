"""Settings: each as it holds, a tap away from another."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from fieldapp.rounds.look_form import answer_words
from fieldapp.rounds.settings import Settings
from fieldapp.screens.keys import Act
from fieldapp.screens.page import Page
from fieldapp.screens.parts import desk_key, heading, title
from fieldapp.words import say

if TYPE_CHECKING:
    from fieldapp.screens.home_flow import HomeFlow


def page(way: HomeFlow, settings: Settings, back: Act) -> Page:
    """Return all settings."""
    look, values = way.flow.look, settings.values
    return Page(
        look,
        head=[title(look, say("Settings"))],
        low_head=[heading(look, say("Settings"))],
        middle=[
            desk_key(
                look,
                question.words,
                partial(way.ask_setting, settings, question.name, back),
                under=answer_words(question, values),
            )
            for question in settings.questions
        ],
        back=back,
        name="settings",
    )
