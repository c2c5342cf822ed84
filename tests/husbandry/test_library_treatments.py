"""The library that ships: what is in it, for whom, and what is honestly not in it."""

from __future__ import annotations

from typing import Any

import pytest

from fieldapp.assets import folder
from fieldapp.husbandry.library import Library, Treatment, load
from fieldapp.journal.kinds import KINDS

LIBRARY = load(folder("treatments"))
COUNTRIES = ["GB", "GB-NIR", "DE", "AT", "HU", "FR", "CA", "US", "US-NY", "AU-NSW", "JP"]
SPONGE = "GB/AN-01911-2010/2010/thymol/sponge"
AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
COUMAPHOS = "CA/registrant-s-directions/undated/coumaphos/strips"
MIST = "any/no-published-label/1/oxalic-acid/mist"
GROUNDS = {"read", "computed", "label in hand"}


def get(identity: str) -> Treatment:
    treatment = LIBRARY.get(identity)
    assert treatment is not None, identity
    return treatment


def value(identity: str, key: str) -> Any:
    return get(identity).values[key].value


@pytest.mark.parametrize("treatment", list(LIBRARY), ids=lambda each: each.identity)
def test_every_treatment_makes_terms(treatment: Treatment) -> None:
    """Each terms body passes the journal's own check, and names only sources that it carries."""
    body = treatment.terms_body()
    assert KINDS["terms", 1].check(body) is None
    assert {each["source"] for each in body["values"].values()} == set(body["sources"])


@pytest.mark.parametrize("treatment", list(LIBRARY), ids=lambda each: each.identity)
def test_every_substance_comes_with_caution_gear_and_first_aid(treatment: Treatment) -> None:
    """Where something is put into a hive, what can hurt is said."""
    if treatment.active != "none":
        assert {"cautions", "protective", "first_aid", "class"} <= set(treatment.values)


@pytest.mark.parametrize("country", COUNTRIES)
def test_names_tell_a_countrys_treatments_apart(country: str) -> None:
    """What a keeper picks from has no two entries of one name, and comes in their order."""
    names = [each.name for each in LIBRARY.treatments(country)]
    assert len(set(names)) == len(names)
    assert names == sorted(names)


def test_each_country_is_offered_its_own_labels_only() -> None:
    """A country sees its own, EU texts in the EU, and methods without a label; no others."""
    for country, own in {
        "GB": {"GB"},
        "GB-NIR": {"GB-NIR"},
        "DE": {"DE", "EU"},
        "AT": {"AT", "EU"},
        "FR": {"EU"},
        "CA": {"CA"},
        "US": {"US"},
        "US-NY": {"US", "US-NY"},
        "AU-NSW": {"AU"},
        "JP": set(),
    }.items():
        assert {each.country for each in LIBRARY.treatments(country)} == own | {None}, country


def test_great_britain_and_northern_ireland_are_apart() -> None:
    """Neither shows the other's entries, even where the texts are still the same."""
    britain = {each.identity for each in LIBRARY.treatments("GB") if each.country}
    ireland = {each.identity for each in LIBRARY.treatments("GB-NIR") if each.country}
    assert britain and ireland and not britain & ireland


def test_every_way_of_treating_is_there() -> None:
    """The substances and methods that the library promises, each in some country."""
    assert {(each.active, each.method) for each in LIBRARY} == {
        ("oxalic acid", "trickle"),
        ("oxalic acid", "sublimation"),
        ("oxalic acid", "glycerol pads"),
        ("oxalic acid", "glycerol strips"),
        ("oxalic acid", "mist"),
        ("formic acid", "strips"),
        ("formic acid", "two strips at once"),
        ("formic acid", "one strip after the other"),
        ("formic acid", "evaporator"),
        ("thymol", "gel"),
        ("thymol", "sponge"),
        ("thymol", "blend tablet"),
        ("amitraz", "strips"),
        ("tau-fluvalinate", "strips"),
        ("flumethrin", "strips between combs"),
        ("coumaphos", "strips"),
        ("lactic acid", "spray"),
        ("hop beta acids", "strips"),
        ("none", "queen caged and released"),
        ("none", "queen caged before oxalic acid"),
        ("none", "drone comb cut out"),
        ("none", "all brood removed"),
    }


def test_two_labelled_applications_with_days_between() -> None:
    """Thymol sponge strips, UK label AN 01911/2010: two, the second after 3 to 4 weeks."""
    assert value(SPONGE, "applications") == {"least": 2, "usual": 2, "most": 2}
    assert value(SPONGE, "gap") == {"least": 21, "most": 28}


def test_strips_stay_by_brood() -> None:
    """Amitraz strips, UK label AN 00561/2015: 6 weeks, 10 with brood; a published zero."""
    stays = {each["when"]: each["least"] for each in value(AMITRAZ, "stay")}
    assert stays == {"no or hardly any brood": 42, "brood": 70}
    assert value(AMITRAZ, "period") == {"form": "days", "days": 0}
    assert get(AMITRAZ).values["period"].standing == "read"


def test_an_undated_page_is_only_reported() -> None:
    """Coumaphos strips, Canada: 14 days, from a page without a year, so no ground."""
    period = get(COUMAPHOS).values["period"]
    assert (period.value["days"], period.standing) == (14, "reported")


def test_a_period_until_next_season() -> None:
    """60 % formic acid, German leaflet of December 2018: after the last harvest only."""
    sixty = "DE/standard-authorisation-60/2018-12/formic-acid/evaporator"
    assert value(sixty, "period") == {"form": "next season's supers"}
    assert value(sixty, "after_last_harvest") is True


def test_a_method_without_a_label_says_nothing_that_only_a_label_can() -> None:
    """An oxalic acid mist: no dose, number, days or period; only what can hurt."""
    mist = get(MIST)
    assert not mist.published
    assert set(mist.values) == {"cautions", "class", "first_aid", "protective"}


def test_only_what_puts_in_a_substance_needs_a_published_label() -> None:
    """Methods without chemicals are published with a computed zero; the mist alone is not."""
    assert [each.identity for each in LIBRARY if not each.published] == [MIST]
    for each in LIBRARY:
        if each.active == "none":
            assert each.form == "act"
            assert each.values["period"].value == {"form": "days", "days": 0}
            assert each.values["period"].standing == "computed"


def test_what_is_not_known_stays_missing() -> None:
    """The Australian permit: its gear was read; dose, supers and period were not."""
    (permit,) = [each for each in LIBRARY.treatments("AU-NSW") if each.country]
    assert permit.values["protective"].standing == "read"
    assert not {"dose", "supers", "period", "applications"} & set(permit.values)


def test_pyrethroids_are_one_class() -> None:
    """Changing from tau-fluvalinate to flumethrin is no change of class; to amitraz it is."""
    classes: dict[str, set[str]] = {}
    for each in LIBRARY:
        if "class" in each.values:
            classes.setdefault(each.active, set()).add(each.values["class"].value)
    assert all(len(found) == 1 for found in classes.values())
    assert classes["tau-fluvalinate"] == classes["flumethrin"]
    others = {active: found for active, found in classes.items() if active != "flumethrin"}
    assert len({min(found) for found in others.values()}) == len(others)


def test_a_period_from_memory_is_marked() -> None:
    """Every period that was not read in a dated text is marked so that rules cannot clear by it."""
    grounded = {each.identity for each in LIBRARY if _grounded(each)}
    assert grounded == {
        AMITRAZ,
        AMITRAZ.replace("GB", "GB-NIR", 1),
        "DE/standard-authorisation-60/2018-12/formic-acid/evaporator",
        *(each.identity for each in LIBRARY if each.active == "none"),
    }


def _grounded(treatment: Treatment) -> bool:
    period = treatment.values.get("period")
    return period is not None and period.standing in GROUNDS


def test_a_country_unknown_to_the_library_gets_no_ones_label() -> None:
    """Elsewhere only methods without a label are offered: nothing is borrowed."""
    assert all(each.country is None for each in LIBRARY.treatments("JP"))


def test_the_library_has_a_version() -> None:
    """Terms name the library's version, so that a newer one can ask."""
    assert isinstance(LIBRARY, Library)
    assert {each.library for each in LIBRARY} == {LIBRARY.version}
