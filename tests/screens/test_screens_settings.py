"""Settings by touch: each holds at once and after a restart."""

from __future__ import annotations

import pytest
from eyes import troubles
from walking import PHONES, Walk


def settings(app, look) -> None:
    """Every setting, each answered once."""
    walk = Walk(app, look)
    walk.go("Home", "Settings")
    walk.go("Language", "as this phone")
    walk.go("Country: Ferry Lane", "Germany")
    walk.go("Units", "US cups")
    walk.go("Colours", "dark")
    walk.go("Spoken answers", "on")
    walk.go("Volume key", "off")
    walk.go("Reminders in the morning", "6:00")
    walk.go("No reminders from", "22:00")
    walk.go("No reminders until", "8:00")
    walk.go("Name of this device")
    walk.go("Take this", "Back")


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
    settings(keeper, lambda _: None)
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


@pytest.mark.parametrize("language", ["en", "de-DE"])
@pytest.mark.parametrize("phone", PHONES[:2], ids=lambda p: f"{p.width}x{p.height}@{p.font}")
def test_settings_suit_glove_and_eye(open_app, phone, language):
    """On the smallest screen, at both font sizes, in both languages."""
    app = open_app(phone, language=language)
    app.set_up("Ferry Lane", 2)
    found, seen = set(), set()

    def look(page):
        seen.add(page)
        found.update(troubles(app.hand, page))

    settings(app, look)
    assert not found, "\n".join(sorted(found))
    assert seen >= {"settings", "desk question", "home"}
