"""The number of the rules goes up with them."""

from __future__ import annotations

from rules_number import KEPT, now


def test_the_rules_are_those_of_their_number() -> None:
    """Where an answer or its words may be others now, the number has to be another too."""
    assert now() == KEPT.read_text(encoding="utf-8"), (
        "fieldapp/husbandry or fieldapp/book changed. If any answer or its words can be others "
        "than before, raise RULES in fieldapp/book/file.py; then run "
        "python tests/book/rules_number.py"
    )
