"""An own treatment by touch: from its label to a round, kept through a kill."""

from __future__ import annotations

from tour_of_own_treatments import about, tapped_exactly, values
from walking import Walk

TODAY = "1 Jul 2026"


def test_an_own_treatment_from_label_to_round(keeper):
    """Entered from the choice of a treatment, it is used at once; no period is asked again."""
    tapped_exactly(keeper)
    walk = Walk(keeper, lambda _: None)
    walk.go("Round at")
    walk.go("Not here: enter it from its label")
    about(walk, TODAY)
    keeper.reopen()
    walk.go("Round at", "Not here: enter it from its label")
    assert keeper.hand.reads("How many applications")
    values(walk)
    assert keeper.kinds().count("terms") == 0
    walk.go("Write it down")
    assert keeper.page == "amount"  # the label has two doses
    walk.go("2 pieces")
    assert keeper.page == "start"
    walk.go("As shown: begin")
    keeper.hand.tap("1")
    (terms,) = (record for record in keeper.records if record.kind == "terms")
    applications = [record for record in keeper.records if record.kind == "application"]
    assert [each.body["terms"] for each in applications] == [terms.id]
    assert terms.body["values"]["period"]["value"] == {"form": "days", "days": 14}
    assert terms.body["values"]["temperature"]["value"][0]["high"] == 30
    assert applications[0].body["pieces"] == 2
    assert terms.body["values"]["first_aid"]["value"] == ["rinse", "call"]
