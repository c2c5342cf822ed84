"""What the books ask of the keeper: lines of the agenda that belong to no single hive."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, timedelta
from typing import NamedTuple

from fieldapp.husbandry.answers import Line, Reason, Timing
from fieldapp.husbandry.ledger import required
from fieldapp.husbandry.ledger.books import Ledger
from fieldapp.husbandry.ledger.gear import Gear
from fieldapp.husbandry.ledger.needs import Need
from fieldapp.husbandry.ledger.shortage import shortages
from fieldapp.husbandry.ledger.stock import Lot
from fieldapp.journal.record import Record
from fieldapp.words import Phrase, count, say

#: Days ahead in which a lot or filter is *about to expire*: this product's own choice.
AHEAD = 30
#: Share of a part's hours from which on a new one is wanted: this product's own choice.
NEARLY = 0.9
#: Days back in which counts are looked at for what a law wants: this product's own choice.
COUNTED_WITHIN = 365
#: Where a law counts mites.
COUNTED = frozenset({"AU-NSW"})


class Apiary(NamedTuple):
    """An apiary as the agenda needs it: where it is, and the hives whose colonies live.

    Where a law counts mites, `counts` are the counts of the last `COUNTED_WITHIN` days as they
    hold, in order, and `treated` the last day on which each hive was treated (left out: never).
    """

    id: str
    country: str
    hives: Sequence[str]
    counts: Sequence[Record] = ()
    treated: Mapping[str, date] = {}


def agenda_lines(
    ledger: Ledger,
    day: date,
    *,
    apiaries: Sequence[Apiary] = (),
    needed: Iterable[Need] = (),
    names: Mapping[str, str] | None = None,
) -> list[Line]:
    """Return what the books ask for on `day`.

    `apiaries` are those in use; `needed` what courses still need; `names` treatments' names by
    identity. A line's apiary is None where it belongs to the whole operation.
    """
    names = names or {}
    found = [line for lot in ledger.stock.lots if (line := _lot(lot, day)) is not None]
    found += [line for thing in ledger.gear if (line := _gear(thing, day)) is not None]
    for short in shortages(ledger, needed, day):
        found.append(
            _line(
                "buy",
                None,
                _timing(short.by, short.by, day),
                day,
                short.by,
                say(
                    "Buy or mix: {name}",
                    name=names.get(short.treatment, short.treatment),
                ),
                short.reasons,
                treatment=short.treatment,
            )
        )
    found += _kept(ledger, day, [apiary.country for apiary in apiaries])
    for apiary in apiaries:
        found += _standstill(ledger, apiary, day)
        if apiary.country in COUNTED and apiary.hives:
            found += _new_south_wales(ledger, apiary, day)
    return found


def _line(
    task: str,
    apiary: str | None,
    timing: Timing,
    first: date | None,
    last: date | None,
    what: Phrase,
    reasons: Sequence[Reason],
    treatment: str | None = None,
) -> Line:
    return Line(task, apiary, treatment, timing, first, last, last, (), what, tuple(reasons))


def _timing(first: date | None, last: date | None, day: date) -> Timing:
    if last is not None and day > last:
        return "late"
    if first is not None and day < first:
        return "waiting"
    return "due"


def _lot(lot: Lot, day: date) -> Line | None:
    """Return the line of a lot that is about to expire, or has, with some of it on hand."""
    last = lot.last_day
    if last is None or not lot.left or lot.got > day:
        return None
    first = max(last - timedelta(days=AHEAD), lot.got)
    if day > last:
        what = say("Past its last day, do not use: {lot}", lot=lot.name)
        why = say("Dispose of it as label and local rules say, and write it down.")
    else:
        what = say("Use up or replace: {lot}", lot=lot.name)
        why = say("Its last day is {last}.", last=last)
    reasons = (Reason(why, (lot.id,)), Reason(lot.balance, (lot.id,)))
    return _line("expiry", None, _timing(first, last, day), first, last, what, reasons)


def _gear(thing: Gear, day: date) -> Line | None:
    """Return the line of gear that is to be changed, or a filter whose last day nobody knows."""
    if not thing.in_use or date.fromisoformat(thing.record.day) > day:
        return None
    what = say("Change: {name}", name=thing.name)
    most, hours = thing.change_after, thing.hours
    if most is not None and hours is not None and hours >= NEARLY * most:
        timing: Timing = "late" if hours >= most else "due"
        return _line("change", None, timing, None, None, what, (_why(thing, thing.running),))
    if thing.expiry is not None:
        first = thing.expiry - timedelta(days=AHEAD)
        why = say("Its last day is {last}.", last=thing.expiry)
        timing = _timing(first, thing.expiry, day)
        return _line("change", None, timing, first, thing.expiry, what, (_why(thing, why),))
    if thing.what == "filter" and most is None:
        ask = say("Until when? {name}", name=thing.name)
        if thing.opened is not None:
            why = say(
                "Opened on {day}; its last day is not known: see what its maker says.",
                day=thing.opened,
            )
        else:
            why = say("Neither its opening date nor its last day is known: see its maker's words.")
        return _line("change", None, "ask", None, None, ask, (_why(thing, why),))
    return None


def _why(thing: Gear, phrase: Phrase) -> Reason:
    return Reason(phrase, (thing.id,))


def _kept(ledger: Ledger, day: date, countries: Sequence[str]) -> list[Line]:
    """Return the one line for all that the record book lacks."""
    wanted = required.laws(countries)
    gaps = required.missing(ledger, day, wanted)
    if not gaps:
        return []
    reasons = [Reason(gap.phrase, gap.records) for gap in gaps]
    kept = say("Records of medicines are kept {n} years.", n=required.YEARS_KEPT)
    reasons += [law.reason(kept) for law in wanted]
    return [_line("records", None, "ask", None, None, say("Complete the record book"), reasons)]


def _standstill(ledger: Ledger, apiary: Apiary, day: date) -> list[Line]:
    blocked = ledger.register.blocked(apiary.id, day)
    if blocked is None:
        return []
    what = say("Standstill: move no hive, unite none, exchange no combs")
    return [_line("standstill", apiary.id, "due", blocked.since, None, what, (blocked.reason,))]


def _new_south_wales(ledger: Ledger, apiary: Apiary, day: date) -> list[Line]:
    """Return what New South Wales wants: count in time, report, treat all over the mark."""
    found = [_count_again(apiary, day), *_treat_all(apiary, day)]
    reported = {
        root for fact in ledger.facts.kind("reported") for root in fact.record.body["records"]
    }
    open_ones = tuple(each.id for each in apiary.counts if each.id not in reported)
    if open_ones:
        what = count("Report {n} count", "Report {n} counts", len(open_ones))
        why = required.NSW_REPORT.reason(say("Counts are reported in New South Wales."), open_ones)
        found.append(_line("report", apiary.id, "due", None, None, what, (why,)))
    return found


def _count_again(apiary: Apiary, day: date) -> Line:
    if not apiary.counts:
        what = say("Count mites: no count on record for a year")
        why = required.NSW_COUNT.reason(say("New South Wales wants a count every 16 weeks."))
        return _line("count_by_law", apiary.id, "due", None, None, what, (why,))
    latest = apiary.counts[-1]
    counted = date.fromisoformat(latest.day)
    last = counted + timedelta(days=required.NSW_COUNT_DAYS)
    first = last - timedelta(days=AHEAD)
    said = say("New South Wales wants a count every 16 weeks; the last was on {day}.", day=counted)
    why = required.NSW_COUNT.reason(said, (latest.id,))
    what = say("Count mites")
    return _line("count_by_law", apiary.id, _timing(first, last, day), first, last, what, (why,))


def _treat_all(apiary: Apiary, day: date) -> list[Line]:
    # The earliest wash that some hive was not treated after is the one whose days run out first.
    for wash in apiary.counts:
        body, first = wash.body, date.fromisoformat(wash.day)
        if body["way"] != "wash" or body["mites"] <= required.NSW_MITES:
            continue
        left = [hive for hive in apiary.hives if apiary.treated.get(hive, date.min) < first]
        if not left:
            continue
        last = first + timedelta(days=required.NSW_DAYS)
        what = count("Treat all hives: {n} is left", "Treat all hives: {n} are left", len(left))
        why = required.NSW_TREAT.reason(
            say(
                "{mites} mites in a wash on {day}: over {most}, all hives here are treated "
                "within {n} days.",
                mites=body["mites"],
                day=first,
                most=required.NSW_MITES,
                n=required.NSW_DAYS,
            ),
            (wash.id,),
        )
        timing = _timing(first, last, day)
        line = _line("treat_all", apiary.id, timing, first, last, what, (why,))
        return [line._replace(hives=tuple(left))]
    return []
