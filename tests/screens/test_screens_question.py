"""Questions that only the keeper can answer: found at home, answered in taps."""

from __future__ import annotations

import pytest

from fieldapp.journal.record import Draft


def treat(app):
    """Treat hive 1, then log it once more the same day, as from another phone's paper note."""
    app.begin("Amitraz strips", days="14")
    app.hand.tap("Hive 1")
    app.wait(60)
    app.hand.tap("End round")
    app.hand.tap("End round")
    app.hand.tap("What is due")
    notebook = app.kit.notebook
    first = next(record for record in app.records if record.kind == "application")
    notebook.write(
        [
            Draft(
                "application",
                notebook.moment(),
                notebook.keeper,
                first.body,
                apiary=first.apiary,
                hive=first.hive,
                colony=first.colony,
            )
        ]
    )


def questions(app):
    app.hand.tap("Home")
    app.hand.find("to answer")
    app.hand.tap("to answer")


@pytest.mark.parametrize(
    ("answer", "parts"), [("It was one application", 1), ("Each was given", 2)]
)
def test_the_same_application_twice_is_asked_once(keeper, answer, parts):
    """Two taps; the question is gone, and the record says which are one."""
    treat(keeper)
    questions(keeper)
    keeper.hand.tap("Is it one application?")
    keeper.hand.tap(answer)
    assert keeper.hand.reads("No questions")
    [written] = [record for record in keeper.records if record.kind == "answer_twice"]
    assert len(written.body["parts"]) == parts


def test_corrections_side_by_side_are_settled_by_naming_both(keeper):
    """Neither had seen the other; the one tapped holds, and nothing is asked any more."""
    notebook = keeper.kit.notebook
    root = next(record for record in keeper.records if record.kind == "apiary")
    for name in ("Ferry Lane, top", "Ferry Lane, foot"):
        body = {**root.body, "name": name}
        notebook.write(
            [
                Draft(
                    "apiary", root.happened, root.keeper, body, apiary=root.apiary, corrects=root.id
                )
            ]
        )
    questions(keeper)
    keeper.hand.tap("Which holds?")
    keeper.hand.tap("Ferry Lane, top")
    assert keeper.hand.reads("No questions")
    assert notebook.place_name(root.apiary) == "Ferry Lane, top"


def test_an_answer_given_elsewhere_meanwhile_is_not_written_twice(keeper):
    """The page was open while a sync brought the answer."""
    treat(keeper)
    questions(keeper)
    keeper.hand.tap("Is it one application?")
    asked = keeper.kit.notebook.book.questions()[0]
    notebook = keeper.kit.notebook
    body = {"parts": [list(asked.records)]}
    notebook.write([Draft("answer_twice", notebook.moment(), notebook.keeper, body)])
    keeper.hand.tap("Each was given")
    assert keeper.hand.reads("answered already")
    assert keeper.kinds().count("answer_twice") == 1
