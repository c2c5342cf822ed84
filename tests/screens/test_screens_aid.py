"""First aid: one tap from every page, and back to where the keeper was."""

from __future__ import annotations


def test_the_number_of_the_country_and_the_substance_at_work_come_first(keeper):
    """In a round: emergency number with its standing, then the steps for what is given."""
    keeper.begin("Amitraz strips", days="14")
    keeper.hand.tap("First aid")
    texts = keeper.hand.all_pages()
    assert texts.index("999") < texts.index("amitraz")
    assert any("from memory" in text for text in texts)
    assert any("Eyes: rinse" in text for text in texts)


def test_it_is_one_tap_away_and_goes_back_to_the_same_page(keeper):
    """From the second page of a choice; the round and its undo stand as before."""
    keeper.hand.tap("Round at")
    keeper.hand.tap("More")
    before = keeper.hand.texts()
    keeper.hand.tap("First aid")
    assert keeper.page == "aid"
    keeper.hand.find("Back")
    keeper.hand.tap("Back")
    assert keeper.hand.texts() == before


def test_a_glove_that_lands_under_the_key_opens_it(keeper):
    """The uppermost 20 mm take the touch where no other key stands."""
    key = keeper.hand.key("First aid")
    keeper.hand.touch(key.center_x, key.top - 115)
    assert keeper.page == "aid"


def test_every_substance_says_what_to_do_or_that_it_is_not_known(keeper):
    """Each key leads to steps; none leads to an empty page."""
    keeper.hand.tap("First aid")
    for substance in ("oxalic acid", "formic acid", "thymol", "hop beta acids"):
        keeper.hand.find(substance)
        keeper.hand.tap(substance)
        assert any("rinse" in text or "Not known" in text for text in keeper.hand.all_pages())
        keeper.hand.find("Back")
        keeper.hand.tap("Back")


def test_before_the_first_start_is_done_first_aid_is_there_too(app):
    """No keeper and no country yet: it says that the number is not known."""
    app.hand.tap("First aid")
    assert app.hand.reads("not known")
    app.hand.find("Back")
    app.hand.tap("Back")
    assert app.page == "first name"
