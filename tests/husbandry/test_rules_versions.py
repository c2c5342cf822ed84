"""Corrections side by side, the same application twice, sameness, and the edges of days."""

from datetime import date

import pytest
from rules_season import HIVE, OTHER, Season, name

from fieldapp.husbandry.honey import honey

WEEKLY = {"least": 4, "target": 5, "most": 7}
FIVE = {"least": 5, "usual": 5, "most": 5}


AT_APPLICATIONS = "off, at applications"


def closed(season: Season, hive: str = HIVE) -> list[tuple[str, str | None]]:
    """Return the closed days of a hive as texts, None for without end."""
    return [
        (
            date.fromordinal(row.first).isoformat(),
            None if row.last is None else date.fromordinal(row.last).isoformat(),
        )
        for row in season.state(hive).closed
    ]


class TestCorrections:
    """One head holds; several are united for honey until they are answered."""

    def test_a_correction_of_a_date_moves_all_that_follows(self) -> None:
        """The course's window and the closed days follow the corrected day."""
        season = Season()
        terms = season.terms(gap=WEEKLY, applications=FIVE, supers=AT_APPLICATIONS, period=3)
        root = season.apply(terms, "2026-06-01")
        season.correct(root, day="2026-06-03")
        assert season.course().last == date(2026, 6, 3).toordinal()
        assert closed(season) == [("2026-06-03", "2026-06-06")]

    def test_a_void_takes_it_out(self) -> None:
        """Nothing is left of a slip."""
        season = Season()
        root = season.apply(season.terms(supers="off"), "2026-06-01")
        season.correct(root, void=True)
        assert season.state().courses == ()
        assert closed(season) == []

    def test_two_side_by_side_unite_closed_days_and_the_latest_decides_due_days(self) -> None:
        """Until one correction names both."""
        season = Season()
        terms = season.terms(gap=WEEKLY, applications=FIVE, supers=AT_APPLICATIONS, period=3)
        root = season.apply(terms, "2026-06-01")
        one = season.correct(root, day="2026-06-10")
        two = season.correct(root, day="2026-06-20")
        assert closed(season) == [("2026-06-10", "2026-06-23")]
        assert season.course().last == date(2026, 6, 20).toordinal()
        season.correct(root, heads=(one, two), day="2026-06-10")
        assert closed(season) == [("2026-06-10", "2026-06-13")]

    def test_two_plans_side_by_side_close_as_long_as_the_longer(self) -> None:
        """One waits 2 x 7 days, the other 2 x 10; the latest decides when the next is due."""
        season = Season()
        terms = season.terms(gap=WEEKLY, applications=FIVE, supers="off", period=0)
        plan = season.plan(terms, 3, least=4, most=6)
        body = season.records[-1].body
        long = season.correct(plan, body={**body, "gap": {"least": 4, "most": 10}})
        short = season.correct(plan, body={**body, "gap": {"least": 4, "most": 7}})
        season.apply(terms, "2026-06-01", plan=plan)
        assert closed(season) == [("2026-06-01", "2026-06-21")]
        gap = season.course().gap
        assert gap is not None and gap.most == 7
        season.correct(plan, heads=(long, short), body={**body, "gap": {"least": 4, "most": 7}})
        assert closed(season) == [("2026-06-01", "2026-06-15")]

    def test_a_void_beside_a_date_keeps_the_days_closed(self) -> None:
        """The void holds for due days, the other for honey."""
        season = Season()
        terms = season.terms(gap=WEEKLY, applications=FIVE, supers=AT_APPLICATIONS, period=3)
        root = season.apply(terms, "2026-06-01")
        season.correct(root, day="2026-06-10")
        season.correct(root, void=True)
        assert closed(season) == [("2026-06-10", "2026-06-13")]
        assert season.state().courses == ()

    def test_an_out_that_one_version_lacks_leaves_the_exposure_open(self) -> None:
        """Fewest out: an end is missing if any version lacks it."""
        season = Season()
        terms = season.terms(form="pieces", supers="off", period=3)
        season.apply(terms, "2026-08-01", pieces=2)
        out = season.pieces("out", terms, "2026-09-12", 2)
        body = {"did": "out", "count": 1, "treatment": season.treatment(terms)}
        season.correct(out, body=body)
        season.correct(out, day="2026-09-13")
        assert closed(season) == [("2026-08-01", None)]

    def test_most_in_of_one_record_and_fewest_out_of_another_meet(self) -> None:
        """Each record has two versions; the worse of both together counts."""
        season = Season()
        terms = season.terms(form="pieces", supers="off")
        into = season.apply(terms, "2026-08-01", pieces=2)
        out = season.pieces("out", terms, "2026-09-12", 4)
        treatment = season.treatment(terms)
        four = {"treatment": treatment, "terms": terms, "pieces": 4}
        season.correct(into, body=four)
        season.correct(into, body={**four, "pieces": 2})
        season.correct(out, body={"did": "out", "count": 2, "treatment": treatment})
        season.correct(out, body={"did": "out", "count": 4, "treatment": treatment})
        assert closed(season) == [("2026-08-01", None)]

    def test_two_hives_in_two_versions_close_both(self) -> None:
        """Only the hive of the version that holds has the course."""
        season = Season()
        root = season.apply(season.terms(supers="off"), "2026-06-01")
        season.correct(root, hive=HIVE)
        season.correct(root, hive=OTHER)
        assert closed(season, HIVE) == closed(season, OTHER) == [("2026-06-01", "2026-06-01")]
        assert season.state(HIVE).courses == ()
        assert len(season.state(OTHER).courses) == 1

    def test_a_split_of_two_versions_closes_the_part_by_both(self) -> None:
        """Open heads go along with what they close."""
        season = Season()
        root = season.apply(season.terms(supers="off", period=20), "2026-06-01")
        season.correct(root, day="2026-06-02")
        season.correct(root, day="2026-06-03")
        season.add("split", "2026-06-05", {"to_hive": OTHER, "to_colony": OTHER}, colony=HIVE)
        assert closed(season, OTHER) == [("2026-06-02", "2026-06-23")]

    def test_more_versions_than_can_be_told_apart_close_the_hive_until_answered(self) -> None:
        """Never open for want of room."""
        season = Season()
        terms = season.terms(supers="allowed")
        for month in range(1, 8):
            root = season.apply(terms, f"2026-{month:02}-01")
            season.correct(root, day=f"2026-{month:02}-02")
            season.correct(root, day=f"2026-{month:02}-03")
        assert honey(season.state(), date(2026, 12, 1)).state == "not known"


class TestTwice:
    """Two records of one treatment, hive and civil date."""

    def two(self, **says: object) -> tuple[Season, str, str]:
        """Return a season with the same application from two phones."""
        season = Season()
        says = {"gap": WEEKLY, "applications": FIVE, "supers": "off", "period": 3, **says}
        terms = season.terms(**says)
        first = season.apply(terms, "2026-06-01", at="09:00:00")
        return season, first, season.apply(terms, "2026-06-01", at="15:00:00")

    def test_until_answered_it_is_one_in_the_course(self) -> None:
        """1 of 5, and asked once with both ids."""
        season, first, second = self.two()
        assert season.course().k == 1
        asked = season.state().questions[0]
        assert (asked.what, asked.records) == ("twice", (first, second))

    def test_until_answered_it_is_two_for_limits_and_pieces(self) -> None:
        """The second counts against a limit of one, and its pieces are in."""
        limit = {"number": 1, "counts": "applications", "per": "year"}
        season, _, _ = self.two(limit=limit)
        assert "over limit" in [flag.word for flag in season.course().flags]
        season = Season()
        terms = season.terms(form="pieces")
        season.apply(terms, "2026-08-01", at="09:00:00", pieces=2)
        season.apply(terms, "2026-08-01", at="15:00:00", pieces=2)
        assert [each.remaining for each in season.state().exposures] == [2, 2]

    def test_until_answered_the_later_end_counts_for_honey(self) -> None:
        """The second names terms with a longer period."""
        season = Season()
        short = season.terms(supers="off", period=3)
        long = season.terms(supers="off", period=9)
        season.apply(short, "2026-06-01", at="09:00:00")
        season.apply(long, "2026-06-01", at="15:00:00")
        assert closed(season) == [("2026-06-01", "2026-06-10")]

    def test_answered_as_one_it_is_one(self) -> None:
        """The earliest of a part holds."""
        season, first, second = self.two()
        season.add("answer_twice", "2026-06-02", {"parts": [[first, second]]}, hive=None)
        assert season.course().k == 1
        assert season.state().questions == ()

    def test_answered_as_two_it_is_two(self) -> None:
        """The second is early, on the same day."""
        season, first, second = self.two()
        season.add("answer_twice", "2026-06-02", {"parts": [[first], [second]]}, hive=None)
        course = season.course()
        assert course.k == 2
        assert course.doses[1].flags[0][:2] == ("early", 4)

    def test_a_further_arrival_reopens_the_question(self) -> None:
        """An answer holds while it names every id under the key."""
        season, first, second = self.two()
        season.add("answer_twice", "2026-06-02", {"parts": [[first], [second]]}, hive=None)
        terms = season.records[4].id
        third = season.apply(terms, "2026-06-01", at="18:00:00")
        assert season.state().questions[0].records == (first, second, third)
        assert season.course().k == 1

    def test_records_that_name_another_of_the_part_name_the_one_that_holds(self) -> None:
        """Pieces out of the second are out of the first."""
        season = Season()
        terms = season.terms(form="pieces")
        first = season.apply(terms, "2026-08-01", at="09:00:00", pieces=2)
        second = season.apply(terms, "2026-08-01", at="15:00:00", pieces=2)
        season.add("answer_twice", "2026-08-02", {"parts": [[first, second]]}, hive=None)
        season.pieces("out", terms, "2026-09-20", 2, application=second)
        assert not season.exposure().open


class TestSameAs:
    """Two ids that are one hive."""

    def test_their_records_are_one_hives(self) -> None:
        """The smallest id stands; a void parts them again."""
        season = Season()
        terms = season.terms(gap=WEEKLY, applications=FIVE)
        season.apply(terms, "2026-06-01")
        season.apply(terms, "2026-06-06", hive=OTHER)
        assert season.course(HIVE).k == 1
        same = season.add("same_as", "2026-06-07", {"what": "hive", "ids": [HIVE, OTHER]}, None)
        assert season.course(HIVE).k == 2
        assert season.state(OTHER) == season.state(HIVE)
        season.correct(same, void=True)
        assert (season.course(HIVE).k, season.course(OTHER).k) == (1, 1)


class TestDays:
    """The civil date that stands in the record, whatever clocks did."""

    def test_a_minute_before_midnight_is_the_day_before(self) -> None:
        """23:59 on 4 June and 00:01 on 5 June are a day apart."""
        season = Season()
        terms = season.terms(gap={"least": 1, "most": 1}, applications=FIVE)
        season.apply(terms, "2026-06-04", at="23:59:00")
        season.apply(terms, "2026-06-05", at="00:01:00")
        assert not any(flag.word == "early" for flag in season.course().doses[1].flags)

    @pytest.mark.parametrize(
        ("first", "second"), [("2026-03-28", "2026-03-29"), ("2026-10-24", "2026-10-25")]
    )
    def test_the_days_of_summer_times_beginning_and_end_are_days(
        self, first: str, second: str
    ) -> None:
        """23 or 25 hours, but one day."""
        season = Season()
        terms = season.terms(gap={"least": 1, "most": 1}, applications=FIVE)
        season.apply(terms, first, at="00:30:00")
        season.apply(terms, second, at="23:30:00")
        words = [flag.word for flag in season.course().doses[1].flags]
        assert "late" not in words
        assert "early" not in words

    def test_29_february_is_a_day(self) -> None:
        """Two days from 28 February to 1 March 2028."""
        season = Season()
        terms = season.terms(supers="off", period=2)
        season.apply(terms, "2028-02-28")
        assert closed(season) == [("2028-02-28", "2028-03-01")]

    def test_a_phone_in_another_zone_orders_by_the_civil_date_first(self) -> None:
        """09:00 in Sydney is before 08:00 in London on the same date, by the instant."""
        season = Season()
        terms = season.terms(supers="off")
        season.add("super_on", "2026-05-01", {"mark": "S1"})
        body = {"treatment": season.treatment(terms), "terms": terms}
        season.add("application", "2026-06-02", body, at="08:00:00")
        season.add(
            "super_off", "2026-06-02", {"mark": "S1"}, at="09:00:00", zone="Australia/Sydney"
        )
        assert not season.state().supers[0].exposed

    def test_the_hour_that_comes_twice_is_ordered_by_the_offset(self) -> None:
        """01:30 summer time is before 01:10 winter time."""
        season = Season()
        terms = season.terms(form="pieces", supers="off")
        treatment = season.treatment(terms)
        season.apply(terms, "2026-10-25", at="01:30:00", pieces=1)
        summer = season.records[-1]
        assert "+01:00" in summer.happened
        season.pieces("out", terms, "2026-10-25", 1, at="01:10:00")
        out = season.records[-1]
        winter = out.happened.replace("+01:00", "+00:00")
        season.records[-1] = out._replace(happened=winter)
        assert not season.exposure().open
        assert season.exposure().treatment == treatment


def test_an_id_that_no_record_knows_is_an_empty_hive() -> None:
    """No error, no courses, open honey."""
    assert Season().state(name(0xFFF)).courses == ()
