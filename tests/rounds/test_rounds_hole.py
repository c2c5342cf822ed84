"""The hole in the course: a new one as the label plans it, one that goes on as it was given."""

from __future__ import annotations

from datetime import date

import pytest

from fieldapp.rounds.hole import Hole, has_hole
from fieldapp.rounds.options import Options
from fieldapp.words import Speech

VAPOUR = "GB/powder-886-mg-g-UK-AN-01519-2014/2015-09/oxalic-acid/sublimation"
SPONGE = "GB/AN-01911-2010/2010/thymol/sponge"
FORMIC = "GB/Vm-40476-4000/undated/formic-acid/strips"
AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
DAY = 86_400


def hole(phone, treatment, hives=None):
    options = Options(phone.notebook, phone.notebook.local.get("apiary"), hives)
    return Hole.of(phone.notebook, options, treatment)


def shares(found):
    return [Speech()(each.words) for each in found.shares]


@pytest.fixture
def one(phone):
    phone.set_up(1)
    return phone


def test_a_new_course_stands_as_its_label_plans_it(one):
    """Thymol: two applications, at most 28 days apart, from today."""
    visits = hole(one, SPONGE).visits
    assert [visit.day for visit in visits] == [0, 28]
    assert visits[0].date == date(2026, 7, 1)
    assert not any(visit.done for visit in visits)


def test_pieces_act_as_long_as_they_stay_in(one):
    """Strips that stay in longer than any cell is sealed meet every mite that leaves one."""
    assert shares(hole(one, AMITRAZ)) == ["Worker cells: 100 % met", "Drone cells: 100 % met"]


def test_a_course_that_goes_on_counts_what_was_given(one):
    """A plan of three; two given on day 0 and 6: the third is planned after them, on day 13."""
    (hive,) = one.hives()
    apiary = one.notebook.local.get("apiary")
    plan = one.write(
        "plan",
        {
            "treatment": VAPOUR,
            "number": 3,
            "gap": {"least": 5, "target": 5, "most": 7},
            "ground": "common practice",
        },
    )
    terms = one.write("terms", one.notebook.library.get(VAPOUR).terms_body())
    for wait in (0, 6):
        one.time.pass_(wait * DAY)
        body = {"treatment": VAPOUR, "terms": terms.id, "plan": plan.id, "supers": "off"}
        one.write("application", body, apiary=apiary, hive=hive)
    found = hole(one, VAPOUR, [hive])
    assert [(visit.day, visit.done) for visit in found.visits] == [
        (0, True),
        (6, True),
        (11, False),
    ]
    found.turn_late()
    assert [visit.day for visit in found.visits] == [0, 6, 13]
    assert [delay.visit for delay in found.delays] == [2]
    found.add_visits(-2)
    assert len(found.visits) == 2


def test_what_reaches_capped_cells_has_no_hole(one):
    """Its terms say that it reaches them."""
    library = one.notebook.library
    assert has_hole(library.get(VAPOUR).terms_body())
    assert not has_hole(library.get(FORMIC).terms_body())


def test_terms_that_do_not_say_how_long_it_acts_count_the_day_alone(one):
    """Nothing is assumed: an application acts on its day, and the page says why."""
    mist = "any/no-published-label/1/oxalic-acid/mist"
    found = hole(one, mist)
    assert shares(found)[0] == "Worker cells: 0 % met"
    assert any("not in the terms" in Speech()(each) for each in found.reasons)
