"""Settings by touch: each holds at once and after a restart."""

from __future__ import annotations

from tour_at_the_desk import settings
from walking import Walk


def test_a_language_is_spoken_from_the_next_page_on(keeper):
    """On the same page of the settings, in German; back in English."""
    hand = keeper.hand
    for words in ("Home", "Settings", "Language", "Deutsch"):
        hand.find(words)
        hand.tap(words)
    assert keeper.page == "settings"
    assert hand.reads("Einstellungen")
    keeper.reopen()
    assert keeper.kit.speech.language == "de"


def test_what_was_set_is_there_after_a_restart(keeper):
    """Theme, voice, hours, country and name."""
    settings(Walk(keeper, lambda _: None))
    keeper.reopen()
    assert keeper.app.flow.look.theme.name == "dark"
    assert keeper.app.flow.speaks
    assert not keeper.app.flow.by_volume
    assert keeper.kit.notebook.country == "DE"
    assert keeper.kit.speech.habits.degrees == "F"
    for words in ("Home", "Settings"):
        keeper.hand.find(words)
        keeper.hand.tap(words)
    read = keeper.hand.all_pages()
    assert {"22:00", "8:00", "6:00", "Germany"} <= set(read)
