"""The pages that a keeper sits down to, on the demo's today: each way is a leg of the tour."""

from __future__ import annotations

from walking import Walk

from fieldapp.journal import chain, refusals
from fieldapp.journal.batches import Batch
from fieldapp.journal.errors import Full
from fieldapp.journal.receiving import receive
from fieldapp.journal.record import Draft
from fieldapp.rounds.clock_question import ClockQuestion
from fieldapp.rounds.errors import NotSaved

FERRY = "Ferry Lane"


def options(walk: Walk) -> None:
    """What may be done, the weather asked for, and the hole in a course."""
    walk.tap("Hives", "Ferry Lane")
    walk.go("What may I do here?")
    walk.go("Weather")
    walk.go("20 Sep 2026")
    walk.go("+ 1")
    walk.go("Save")
    walk.go("Back", "Also asked")
    walk.go("Nectar flow", "Back")
    walk.go("Oxalic acid powder, sublimed")
    walk.go("The hole in the course")
    walk.go("1 visit more", "Look at a late visit")
    walk.back_to("hives")
    walk.exactly("3")
    walk.go("What may I do here?")


def bench(walk: Walk) -> None:
    """Recipes, scaling, what comes first, the steps, and the batch with its bottle."""
    walk.tap("Home")
    walk.go("The bench")
    walk.go("Dilute an acid")
    for asked, number in (("by its bottle", "60"), ("is it to be", "15"), ("is wanted", "200")):
        walk.tap(asked)
        walk.digits(number)
    walk.go("Its density")
    walk.digits("1.14")
    walk.here()
    walk.go("Back")
    walk.go("3.2 % trickle")
    walk.tap("How many?")
    walk.digits("6")
    walk.go("How much?")
    walk.digits("50")
    walk.go("Scales: yes")
    walk.go("How strong")
    walk.go("Back")
    walk.go("Step by step")
    walk.go("Goggles", "Go on")
    for _ in range(7):
        if walk.app.page != "step":
            break
        walk.go("Done: next")
    walk.go("Write it down")


def own_recipe(walk: Walk) -> None:
    """A recipe of one's own."""
    walk.tap("Home", "The bench")
    walk.go("Own recipe")
    for part, amount in (("water", "200"), ("oxalic acid dihydrate", "60"), ("glycerol", "80")):
        walk.go("Put in")
        walk.exactly(part)
        walk.exactly("g")
        walk.digits(amount)
    walk.tap("Heat to")
    walk.digits("80")
    walk.go("Put in", "water")
    walk.exactly("g")
    walk.digits("9")
    walk.here()
    walk.go("Off the heat")


def applicators(walk: Walk) -> None:
    """What was measured of an applicator, and what its strokes give."""
    _mixed(walk.app.kit.notebook)
    walk.tap("Home")
    walk.go("Applicators")
    walk.go("hand mister")
    for far, degrees, spat in (("5", "88", "Liquid spat"), ("10", "66", "No liquid")):
        walk.go("Temperature at a distance")
        walk.go("fast")
        walk.digits(far)
        walk.digits(degrees)
        walk.go(spat)
    walk.go("Strokes into a measure")
    walk.digits("10")
    walk.go("In mL")
    walk.digits("40")
    walk.go("Your own limit")
    walk.digits("77")
    walk.here()
    walk.go("What strokes give")
    walk.go("Which batch")
    walk.go("+")
    walk.go("A veterinarian wrote")


def stock(walk: Walk) -> None:
    """Buy, use, dispose, count; what wears."""
    walk.tap("Home")
    walk.go("Stock")
    walk.go("Write a purchase down")
    walk.go("For which treatment")
    walk.go("Amitraz strips")
    walk.tap("Product")
    walk.go("Take this", "How much")
    walk.digits("20")
    walk.go("Kept in")
    walk.go("strip", "Last day")
    walk.go("2027")
    walk.go("March")
    walk.go("No day on it", "Bought on")
    walk.back_to("stock")
    walk.go("Used up")
    walk.go("Back", "oxalic acid powder")
    walk.go("Dispose of it")
    walk.go("Back", "Used outside a round")
    walk.back_to("stock")
    walk.go("Wear parts and filters")
    walk.go("respirator")
    walk.go("Changed for a new one")


def honey(walk: Walk) -> None:
    """Lots, exposed supers, what is taken, and what is not fine."""
    walk.tap("Home")
    walk.go("Honey")
    walk.go("Exposed supers")
    walk.go("Super")
    walk.back_to("honey")
    walk.go("QT-2026-1")
    walk.back_to("honey")
    _super_on(walk.app.kit.notebook)
    walk.go("Take honey")
    walk.go("Ferry Lane")
    walk.go("super A")
    walk.back_to("due")
    walk.tap("Hives", "Ferry Lane")
    walk.exactly("7")
    walk.go("Honey lots")


def papers(walk: Walk) -> None:
    """What an inspector is shown, and the files."""
    walk.tap("Home")
    walk.go("Record book")
    walk.tap("Ferry Lane")
    walk.until(lambda: walk.app.kit.inspector.shown is not None)
    walk.go("Show them")
    walk.go("Earlier")
    walk.app.app.flow.stage.back()  # on the smallest screen it stands many parts on
    walk.hand.frames(2)
    walk.here()
    walk.go("Yes: leave")


def home(walk: Walk) -> None:
    """Home, pairing, questions and what was not understood."""
    _brought_by_a_sync(walk.app.kit)
    walk.go("Home")
    walk.go("Look at these records")
    walk.go("Back", "questions to answer")
    walk.go("This phone's clock")
    walk.go("Back", "are they one apiary")
    walk.go("Back")
    walk.back_to("home")
    walk.tap("Pair with a server")
    walk.until(lambda: not walk.app.kit.home.listening)
    walk.tap("Scan the code")
    walk.until(lambda: walk.app.kit.scan.told is not None)
    walk.go("Type the address")


def settings(walk: Walk) -> None:
    """Every setting, each answered once."""
    walk.go("Home", "Settings")
    walk.go("Language", "as this phone")
    walk.go("Country: Ferry Lane", "Germany")
    walk.go("Units", "US cups")
    walk.go("Colours", "dark")
    walk.go("Spoken answers", "on")
    walk.go("Volume key", "off")
    walk.go("Reminders in the morning", "6:00")
    walk.go("No reminders from", "22:00")
    walk.go("No reminders until", "8:00")
    walk.go("Name of this device")
    walk.go("Take this", "Back")


def empty(walk: Walk) -> None:
    """Every list of a program in which nothing was written down but one apiary's name."""
    walk.here()
    walk.go("Hives")
    walk.go("Ferry Lane")
    walk.go("Back", "Home", "Apiaries")
    walk.go("Ferry Lane")
    walk.go("Movements, visits")
    walk.go("Back", "Move hives")
    walk.go("Back", "Back")
    walk.go("Back")
    for name in ("The bench", "Applicators", "Stock", "Honey", "Own treatments"):
        walk.go(name)
        walk.go("Back")
    for name in ("Wear parts", "Used up"):
        walk.go("Stock", name)
        walk.go("Back", "Back")
    walk.go("Back")


def nothing_yet(walk: Walk) -> None:
    """The empty lists, after a first start without a hive."""
    walk.app.set_up("Ferry Lane", 0)
    empty(walk)


def _super_on(notebook) -> None:
    """A super on a hive whose honey is closed."""
    apiary = next(each for each in notebook.book.apiaries(notebook.today()) if each.name == FERRY)
    hive = notebook.book.walk(apiary.id, notebook.today())[0].hive
    body = {"mark": "A"}
    notebook.write([Draft("super_on", notebook.moment(), notebook.keeper, body, hive=hive)])


def _mixed(notebook) -> None:
    """A batch strong enough for a mist."""
    batch = {"recipe": "Winter mix (1)", "amount": 250, "unit": "mL", "strength": 20}
    batch |= {"strength_of": "dihydrate", "strength_as": "w/v"}
    notebook.write([Draft("batch", notebook.moment(), notebook.keeper, batch)])


def _brought_by_a_sync(kit) -> None:
    """A newer program's record, a refused one, a twin of an apiary, a clock that differs."""
    notebook = kit.notebook
    writer, raw = (
        bytes(range(16)),
        b'{"id":"01980000-0000-7000-8000-000000000001","kind":"from the future","v":9}',
    )
    before = chain.start(writer)
    receive(notebook.journal, [Batch(writer, 1, before, chain.link(before, raw), (raw,))])
    refusals.keep(notebook.journal, "us", [refusals.Refusal(writer, 7, "digest before", 70_000)])
    twin = {"name": FERRY.upper()}
    notebook.write(
        [Draft("apiary", notebook.moment(), notebook.keeper, twin, apiary=notebook.new_id())]
    )
    ClockQuestion(notebook).heard(3 * 3_600_000)


def trouble(walk: Walk) -> None:
    """What is said where something could not be done, and where the program itself failed."""
    walk.app.app.flow.trouble(NotSaved(Full().phrase))
    walk.hand.frames(2)
    walk.here()
    walk.app.kit.faults.write(ValueError("a value that cannot be"))
    walk.app.app.flow.fault()
    walk.hand.frames(2)
    walk.here()
