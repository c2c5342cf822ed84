"""What the phone keeps for itself survives, and its loss costs taps, not records."""

from __future__ import annotations

from fieldapp.rounds.local import Local


def test_values_are_there_after_a_restart(tmp_path):
    """Put, close, open, get."""
    local = Local.open(tmp_path / "phone.db")
    local.put("theme", "dark")
    local.put("list", [1, 2.5, None])
    local.close()
    again = Local.open(tmp_path / "phone.db")
    assert again.get("theme") == "dark"
    assert again.get("list") == [1, 2.5, None]
    assert again.get("nothing", "default") == "default"


def test_none_forgets(tmp_path):
    """A forgotten name has its default again."""
    local = Local.open(tmp_path / "phone.db")
    local.put("round", "id")
    local.put("round", None)
    assert local.get("round") is None


def test_a_damaged_file_is_set_aside_and_begun_anew(tmp_path):
    """The program opens all the same; the damaged file stays to be looked at."""
    file = tmp_path / "phone.db"
    file.write_bytes(b"not a database at all" * 100)
    local = Local.open(file)
    assert local.get("theme") is None
    assert (tmp_path / "phone.damaged").exists()
