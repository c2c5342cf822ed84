"""Stock without a face: bought, used, disposed of, counted, put right; balances add up."""

from __future__ import annotations

import tempfile
from datetime import date, timedelta
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from rounds_phone import Phone

from fieldapp.bootstrap import close
from fieldapp.rounds.buying import Purchase
from fieldapp.rounds.desk_form import lacking
from fieldapp.rounds.leaving import BatchRight, Counting, Disposal
from fieldapp.rounds.stock import Stock
from fieldapp.rounds.terms import terms_body
from fieldapp.rounds.use import Use
from fieldapp.words import Speech

SPEAK = Speech()
STRIPS = "GB/AN-00561-2015/2015/amitraz/strips"
POWDER = "GB/powder-886-mg-g-UK-AN-01519-2014/2015-09/oxalic-acid/trickle"


@pytest.fixture
def shop(phone):
    phone.set_up(6)
    return phone


def fill(form, **answers):
    """Give answers to a form; `of_` stands before a name that Python keeps for itself."""
    for name, value in answers.items():
        form.take(name, value)
    assert lacking(form) == [], [question.name for question in lacking(form)]
    return SPEAK(form.save())


def buy(phone, amount=20, unit="strip", **more):
    fill(Purchase(phone.notebook), **{"product": "strips", "amount": amount, "unit": unit} | more)
    return Stock(phone.notebook).lot(phone.records("bought")[-1].id)


def lot(phone, root):
    return Stock(phone.notebook).lot(root)


def balance(phone, root):
    return SPEAK(Stock(phone.notebook).line(lot(phone, root)).balance)


def test_a_purchase_says_what_was_said_and_nothing_else(shop):
    """What nobody said is left out: not known, never nought."""
    bought = buy(shop, lot="22", expiry="2027-03-31")
    assert bought.record.body == {
        "product": "strips",
        "amount": 20,
        "unit": "strip",
        "lot": "22",
        "expiry": "2027-03-31",
    }
    assert bought.record.day == "2026-07-01"


def test_a_treatment_names_its_product_and_a_supplier_its_address(shop):
    """What follows from an answer is filled in where nothing else was said."""
    buy(shop, supplier="a dealer", address="a street")
    form = Purchase(shop.notebook)
    form.take("treatment", STRIPS)
    form.take("supplier", "a dealer")
    form.take("price", 31.5)
    assert form.values["product"] == "Amitraz strips"
    assert form.values["address"] == "a street"
    assert form.values["currency"] == "GBP"


def test_former_answers_are_offered_the_latest_first(shop):
    """Two suppliers: both to tap, none taken."""
    buy(shop, supplier="an older dealer")
    shop.time.pass_(60)
    buy(shop, supplier="a dealer")
    form = Purchase(shop.notebook)
    asked = next(q for q in form.questions if q.name == "supplier")
    assert asked.offered == ("a dealer", "an older dealer")
    assert "supplier" not in form.values


def test_what_a_law_wants_is_marked_in_the_form(shop):
    """Great Britain: lot, supplier, address (VMD texts on keeping records, row F5)."""
    form = Purchase(shop.notebook)
    names = [question.name for question in form.questions]
    assert [name for name in names if name in form.wanted] == ["lot", "supplier", "address"]
    bought = buy(shop)
    form = Disposal(shop.notebook, bought)
    names = [question.name for question in form.questions]
    assert [name for name in names if name in form.wanted] == ["how", "where"]


def test_without_its_last_day_the_form_says_what_that_means(shop):
    """Nobody can warn; once it is said, nothing is told."""
    form = Purchase(shop.notebook)
    assert [SPEAK(each.words) for each in form.remarks] == [
        "Without its last day nobody can warn you before it is over"
    ]
    form.take("expiry", "2027-03-31")
    assert form.remarks == ()


def test_a_draft_survives_the_program_and_is_gone_once_saved(shop):
    """Half a purchase is still there when the form is opened again."""
    Purchase(shop.notebook).take("product", "strips")
    form = Purchase(shop.notebook)
    assert form.values == {"product": "strips"}
    assert form.begun
    fill(form, amount=2, unit="strip")
    assert Purchase(shop.notebook).values == {}


def test_bought_on_another_day(shop):
    """The civil day is the one that was said; the balance begins there."""
    bought = buy(shop, day="2026-06-20")
    assert (bought.record.day, bought.got) == ("2026-06-20", date(2026, 6, 20))
    assert bought.record.happened == "2026-06-20T09:00:00+01:00[Europe/London]"


def test_bought_20_used_16_disposed_2_on_hand_2(shop):
    """The sentence of the books: eight hives got two strips each, two went to waste."""
    bought = buy(shop, treatment=STRIPS)
    hives = shop.hives()
    for some in (hives, hives[:2]):
        fill(Use(shop.notebook, lot(shop, bought.id)), hives=some, each=2.0, supers="off")
    form = Disposal(shop.notebook, lot(shop, bought.id))
    fill(form, amount=2.0, how="collection of hazardous waste", why="left over")
    assert balance(shop, bought.id) == "2 strips on hand: bought 20, used 16, disposed 2"
    assert lot(shop, bought.id).gaps == ()


def test_a_disposal_keeps_its_reason_as_words_beside_it(shop):
    """How and where stand in the record, why in a note that adds to it."""
    bought = buy(shop)
    fill(Disposal(shop.notebook, bought), amount=20.0, how="spilt", where="shed", why="spoilt")
    [disposed] = shop.records("disposed")
    assert disposed.body == {
        "lot": bought.id,
        "amount": 20.0,
        "unit": "strip",
        "how": "spilt",
        "where": "shed",
    }
    [note] = shop.records("note")
    assert (note.adds_to, note.body) == (disposed.id, {"words": "spoilt"})


def test_a_count_that_differs_is_a_gap_with_a_name(shop):
    """Counted 15 where the books say 20: five are missing, and it stays told."""
    bought = buy(shop)
    form = Counting(shop.notebook, bought)
    form.take("amount", 15.0)
    assert "The difference gets a name and stays in the books" in [
        SPEAK(each.words) for each in form.remarks
    ]
    fill(form)
    line = Stock(shop.notebook).line(lot(shop, bought.id))
    assert line.sign == "unknown"
    assert "counted 15, the books say 20 (strips): 5 missing" in [
        SPEAK(told.words) for told in line.first
    ]


@pytest.mark.parametrize(
    ("expiry", "sign", "words"),
    [
        ("2026-06-30", "late", "past its last day, 30 Jun 2026: do not use"),
        ("2026-07-01", "due", "use up by 1 Jul 2026"),
        ("2026-07-31", "due", "use up by 31 Jul 2026"),
        ("2026-08-01", "done", "use up by 1 Aug 2026"),
        (None, "unknown", "last day not known"),
    ],
)
def test_the_last_day_of_a_lot(shop, expiry, sign, words):
    """On its last day it may still be used; without one nobody knows."""
    bought = buy(shop, **({"expiry": expiry} if expiry else {}))
    line = Stock(shop.notebook).line(bought)
    assert (line.sign, SPEAK(line.first[0].words)) == (sign, words)


def test_what_is_urgent_stands_first_and_what_is_used_up_apart(shop):
    """Past its day, soon past it, fine; an empty lot is on its own page."""
    for name, expiry in (("fine", "2028-01-31"), ("past", "2026-05-31"), ("soon", "2026-07-10")):
        buy(shop, product=name, expiry=expiry)
    empty = buy(shop, product="empty", expiry="2028-01-31")
    fill(Disposal(shop.notebook, empty), amount=20.0)
    stock = Stock(shop.notebook)
    assert [SPEAK(line.name).split(",")[0] for line in stock.on_hand()] == ["past", "soon", "fine"]
    assert [SPEAK(line.name).split(",")[0] for line in stock.over()] == ["empty"]


def test_more_used_than_there_was_stays_in_sight(shop):
    """A lot under nought is no empty lot."""
    bought = buy(shop, amount=2)
    fill(Disposal(shop.notebook, bought), amount=3.0)
    [line] = Stock(shop.notebook).on_hand()
    assert "more was taken than there was" in [SPEAK(told.words) for told in line.first]


def test_put_right_is_a_correction_with_its_reason(shop):
    """Six instead of nine: the first version stays, the balance follows the second."""
    bought = buy(shop, amount=9, lot="22")
    form = Purchase(shop.notebook, shop.book.entry(bought.id))
    form.take("amount", 6.0)
    form.take("lot", None)
    form.why = "misread"
    assert SPEAK(form.save()) == "Put right"
    entry = shop.book.entry(bought.id)
    assert entry.root.body["amount"] == 9
    assert entry.holds.body == {"product": "strips", "amount": 6.0, "unit": "strip"}
    assert [note.body["words"] for note in entry.annexes] == ["misread"]
    assert lot(shop, bought.id).on_hand == 6


def test_a_correction_begun_is_forgotten_when_another_came_between(shop):
    """What somebody else put right meanwhile is not put wrong again."""
    bought = buy(shop, lot="22")
    Purchase(shop.notebook, shop.book.entry(bought.id)).take("lot", "half typed")
    body = dict(bought.record.body, lot="23")
    shop.write("bought", body, corrects=bought.id, heads=(), void=False)
    assert Purchase(shop.notebook, shop.book.entry(bought.id)).values["lot"] == "23"


def test_what_a_correction_leaves_open_stays_open_when_the_phone_died(shop):
    """Half a correction is kept as it was, not filled up again from the record."""
    bought = buy(shop, lot="22")
    Purchase(shop.notebook, shop.book.entry(bought.id)).take("lot", None)
    assert "lot" not in Purchase(shop.notebook, shop.book.entry(bought.id)).values


def test_a_batch_gets_its_last_day(shop):
    """The keeper's own decision, put in afterwards."""
    batch = shop.write("batch", {"recipe": "mix", "amount": 300, "unit": "mL"})
    form = BatchRight(shop.notebook, shop.book.entry(batch.id))
    form.take("keep_until", "2026-07-15")
    form.save()
    assert lot(shop, batch.id).last_day == date(2026, 7, 15)
    assert lot(shop, batch.id).record.body["recipe"] == "mix"


def test_a_use_outside_a_round_is_an_application_like_any_other(shop):
    """First use: terms and the line of the label; then dose, pieces and lot on each hive."""
    bought = buy(shop, treatment=STRIPS)
    form = Use(shop.notebook, bought)
    assert [q.name for q in form.questions] == ["hives", "each", "day", "supers", "label"]
    some = shop.hives()[:2]
    fill(form, hives=some, each=2.0, supers="off", day="2026-06-28", label=0)
    [terms] = shop.records("terms")
    [period] = shop.records("period")
    assert period.body["given_by"]["who"] == "label in hand"
    found = shop.records("application")
    assert [record.hive for record in found] == some
    assert {record.day for record in found} == {"2026-06-28"}
    assert found[0].body == {
        "treatment": STRIPS,
        "terms": terms.id,
        "supers": "off",
        "dose": {"amount": 2.0, "unit": "piece", "of": "piece", "per": "colony"},
        "pieces": 2,
        "drawn": [{"lot": bought.id, "amount": 2.0, "unit": "strip"}],
    }
    state = shop.book.hive(some[0])
    assert [exposure.remaining for exposure in state.exposures] == [2]


def test_a_use_of_powder_says_no_dose_that_nobody_measured(shop):
    """Grams of a product are no millilitres of a solution: only what left the lot is said."""
    bought = buy(shop, amount=35, unit="g", treatment=POWDER)
    fill(Use(shop.notebook, bought), hives=shop.hives()[:1], each=2.5, supers="not known")
    [application] = shop.records("application")
    assert "dose" not in application.body
    assert application.body["drawn"] == [{"lot": bought.id, "amount": 2.5, "unit": "g"}]
    assert application.body["supers"] == "not known"
    assert lot(shop, bought.id).on_hand == 32.5


def test_a_use_of_a_batch_is_said_by_its_dose(shop):
    """50 mL of 300: the books count it once."""
    batch = shop.write("batch", {"recipe": "mix", "amount": 300, "unit": "mL"})
    form = Use(shop.notebook, lot(shop, batch.id))
    assert form.questions[0].name == "treatment"
    fill(form, treatment=POWDER, hives=shop.hives()[:3], each=50.0, supers="off")
    assert {tuple(sorted(r.body["dose"].items())) for r in shop.records("application")} == {
        (("amount", 50.0), ("of", "solution"), ("per", "colony"), ("unit", "mL"))
    }
    assert balance(shop, batch.id) == "150 mL on hand: mixed 300, used 150, disposed 0"


def test_a_use_after_the_last_day_is_said_before_and_stays_a_gap(shop):
    """It is written down as it was."""
    bought = buy(shop, treatment=STRIPS, expiry="2026-06-30", day="2026-01-10")
    form = Use(shop.notebook, bought)
    told = [SPEAK(each.words) for each in form.remarks]
    assert "Its last day was 30 Jun 2026: it is written down as used after it" in told
    fill(form, hives=shop.hives()[:1], each=2.0, supers="off")
    assert [gap.what for gap in lot(shop, bought.id).gaps] == ["expired"]


def test_what_went_out_is_told_lately_first(shop):
    """Each with its day, and with the hive that got it."""
    bought = buy(shop, treatment=STRIPS, day="2026-06-01")
    fill(
        Use(shop.notebook, bought), hives=shop.hives()[:1], each=2.0, supers="off", day="2026-06-02"
    )
    fill(Counting(shop.notebook, lot(shop, bought.id)), amount=18.0, day="2026-06-03")
    stock = Stock(shop.notebook)
    assert [SPEAK(gone.words) for gone in stock.gone(stock.lot(bought.id))] == [
        "3 Jun 2026: counted 18 strips",
        "2 Jun 2026: 2 strips, hive 1",
    ]


def test_what_is_to_be_bought_stands_with_its_reasons(shop):
    """A course of three, one given with 2 strips, 3 left: buy, and why."""
    bought = buy(shop, amount=5, treatment=STRIPS)
    plan = {"treatment": STRIPS, "number": 3, "gap": {"least": 4, "target": 5, "most": 7}}
    plan = shop.write(
        "plan", plan | {"ground": "common practice"}, apiary=shop.notebook.local.get("apiary")
    )
    terms = shop.write("terms", terms_body(shop.notebook, STRIPS))
    body = {"treatment": STRIPS, "terms": terms.id, "plan": plan.id, "pieces": 2, "supers": "off"}
    drawn = [{"lot": bought.id, "amount": 2, "unit": "strip"}]
    hive = shop.hives()[0]
    shop.write("application", body | {"drawn": drawn}, hive=hive)
    told = {
        SPEAK(each.words): [SPEAK(why) for why in each.why] for each in Stock(shop.notebook).asked()
    }
    assert "planned applications need 4 strips, 3 on hand" in told["Buy or mix: Amitraz strips"]


STEPS = st.lists(
    st.tuples(
        st.sampled_from(["use", "dispose", "count", "right"]),
        st.integers(0, 40),
        st.integers(1, 3),
    ),
    max_size=8,
)


@given(first=st.integers(1, 60), steps=STEPS)
@settings(max_examples=25, deadline=None)
def test_the_balance_is_what_was_entered_whatever_was_entered(first, steps):
    """Kept by hand beside the forms: bought, less used and disposed of, from the last count on."""
    with tempfile.TemporaryDirectory() as folder:
        phone = Phone(Path(folder))
        try:
            phone.set_up(3)
            root = buy(phone, amount=first, treatment=STRIPS).id
            start, since, used, disposed, counted = first, [], 0, 0, None
            for step, number, hives in steps:
                phone.time.pass_(60)
                now = lot(phone, root)
                if step == "use":
                    each, some = number // 4, phone.hives()[:hives]
                    fill(Use(phone.notebook, now), hives=some, each=float(each), supers="off")
                    used += each * hives
                    since.append(each * hives)
                elif step == "dispose":
                    fill(Disposal(phone.notebook, now), amount=float(number))
                    disposed += number
                    since.append(number)
                elif step == "count":
                    fill(Counting(phone.notebook, now), amount=float(number))
                    counted, since = number, []
                else:
                    form = Purchase(phone.notebook, phone.book.entry(root))
                    fill(form, amount=float(number))
                    start = number
            found = lot(phone, root)
            left = (start if counted is None else counted) - sum(since)
            assert (found.used, found.disposed, found.on_hand) == (used, disposed, left)
            strips = "strip" if left == 1 else "strips"
            assert balance(phone, root) == (
                f"{left} {strips} on hand: bought {start}, used {used}, disposed {disposed}"
            )
            named = {gap.what for gap in found.gaps}
            assert ("over" in named) == (min_left(start, steps) < 0)
        finally:
            close(phone.kit)


def min_left(start, steps):
    """The lowest that the account ever stood."""
    left = lowest = start
    for step, number, hives in steps:
        if step == "count":
            left = number
        elif step == "use":
            left -= number // 4 * hives
        elif step == "dispose":
            left -= number
        lowest = min(lowest, left)
    return lowest


def test_days_offered_are_today_and_the_two_before(shop):
    """A day that is over is one tap where it was lately."""
    asked = next(q for q in Purchase(shop.notebook).questions if q.name == "day")
    today = date(2026, 7, 1)
    assert asked.offered == tuple(today - timedelta(days=n) for n in range(3))
    assert asked.left == today
