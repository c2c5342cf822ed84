"""One hive in one look."""

from __future__ import annotations

from fieldapp.rounds.hive import hive_view
from fieldapp.rounds.hive_words import fields_of
from fieldapp.rounds.otherwise import Otherwise
from fieldapp.words import Speech, habits_of

AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
MIST = "any/no-published-label/1/oxalic-acid/mist"
SPEAK = Speech()


def said(lines):
    return [SPEAK(told.words) for told in lines]


def test_a_hive_that_nobody_treated_is_open(phone):
    """Open with nothing to close it, no course, and the record that it stands here."""
    phone.set_up(1)
    view = hive_view(phone.notebook, phone.hives()[0])
    assert view.honey[0].sign == "done"
    assert view.courses == ()
    assert said(view.history) == ["1 Jul 2026: Number and place"]


def test_a_method_without_a_published_period_is_never_shown_as_open(phone):
    """Its honey is closed or not known, and who can say is named."""
    phone.set_up(1)
    phone.start(MIST).begin().tap(phone.hives()[0])
    view = hive_view(phone.notebook, phone.hives()[0])
    assert view.honey[0].sign in ("closed", "unknown")
    assert "done" not in [told.sign for told in view.honey]
    assert any("veterinarian" in SPEAK(why) for told in view.honey for why in told.why)


def test_a_temperature_is_said_in_the_keepers_degrees(phone):
    """25 degC at an application: 77 °F to a keeper in the United States."""
    phone.set_up(1)
    (hive,) = phone.hives()
    terms = phone.write("terms", phone.notebook.library.get(MIST).terms_body())
    body = {"treatment": MIST, "terms": terms.id, "temperature": 25}
    record = phone.write("application", body, hive=hive)
    said = fields_of(phone.notebook, record)["temperature"]
    assert SPEAK(said) == "Temperature: 25 °C"
    assert Speech(habits=habits_of("US"))(said) == "Temperature: 77 °F"


def test_the_history_shows_corrections_as_corrections_and_slips_as_taken_back(phone):
    """Newest first; nothing that was written is out of sight."""
    phone.set_up(1)
    (hive,) = phone.hives()
    round_ = phone.start(AMITRAZ).begin()
    round_.tap(hive)
    round_.undo()
    phone.time.pass_(60)
    round_.tap(hive)
    Otherwise(round_, hive).part_dose()
    newest, slip, place = said(hive_view(phone.notebook, hive).history)
    assert newest == "1 Jul 2026: Treated, Amitraz strips: 2 pieces (corrected)"
    assert slip == "1 Jul 2026: Treated, Amitraz strips: 2 pieces (taken back)"
    assert place == "1 Jul 2026: Number and place"


def test_counts_and_pieces_are_said_in_numbers(phone):
    """One mite is one mite."""
    phone.set_up(1)
    (hive,) = phone.hives()
    phone.write("count", {"way": "wash", "mites": 1, "bees": 300}, hive=hive)
    phone.write("pieces", {"did": "found", "count": 2, "treatment": AMITRAZ}, hive=hive)
    found = said(hive_view(phone.notebook, hive).history)
    assert "1 Jul 2026: Count, 1 mite" in found
    assert "1 Jul 2026: Pieces, 2 found" in found
