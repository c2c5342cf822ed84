"""The pages that a keeper holds in a glove, on the demo's today: each way is a leg of the tour."""

from __future__ import annotations

from walking import Walk

from fieldapp.screens.picture import Picture

VAPOUR = "Oxalic acid powder, sublimed"


def first_start(walk: Walk) -> None:
    """From nothing to the first agenda."""
    walk.here()
    walk.hand.tap_entry()
    walk.hand.type("Keeper")
    walk.go("Go on")
    walk.go("Great Britain")
    walk.hand.tap_entry()
    walk.hand.type("Ferry Lane, upper field")
    walk.go("Go on")
    walk.hand.tap("1", exactly=True)
    walk.exactly("2")
    walk.go("Take this")


def whose(walk: Walk) -> None:
    """A phone that was paired before anybody said whose it is."""
    walk.app.kit.notebook.local.put("keeper", None)
    walk.app.reopen()
    walk.here()


def due(walk: Walk) -> None:
    """What is due, what stands behind a line, and first aid."""
    walk.here()
    walk.go("Amitraz strips: 1 piece not found")
    walk.go("Back")
    walk.go("Other apiary")
    walk.go("Back", "First aid")
    walk.go("thymol")


def vapour(walk: Walk) -> None:
    """A round with an own plan and a time a hive, by label, plan, round and summary."""
    walk.go("Round at Ferry Lane")
    walk.go(VAPOUR)
    walk.go("Time a hive")
    walk.tap("Runs: 10 s more", "Closed: 1 min more")
    walk.go("Take this")
    walk.go("As shown")
    walk.go("Hive 1")
    walk.go("Hive 2")
    walk.go("Not like that")
    walk.go("Not done")
    walk.go("too weak")
    walk.wait(20)
    walk.go("Other hive")
    walk.go("Pass over hive")
    walk.go("queenless")
    walk.wait(400)
    walk.go("End round")
    walk.go("over label")
    walk.go("too many mites")
    walk.go("End round")


def by_seams(walk: Walk) -> None:
    """A dose by seams of bees, with what the label says asked first."""
    walk.go("Round at Ferry Lane")
    walk.go("Oxalic acid 39.4 mg/mL")
    walk.go("Enter the days")
    walk.back_to("label")
    walk.go("Not on the label")
    walk.go("5 mL a seam")
    walk.go("Own plan")
    walk.go("Take this plan")
    walk.go("As shown")
    walk.go("Hive 1")
    walk.exactly("5")
    walk.go("Not like that")
    walk.go("Other amount")


def strips(walk: Walk) -> None:
    """Pieces put in, counted, moved, taken out, one of them lost; then boards."""
    walk.go("Other apiary", "Quarry Top")
    walk.go("Amitraz strips")
    walk.go("As shown")
    walk.go("Hive 21")
    walk.go("Not like that")
    walk.go("Other amount")
    walk.exactly("3")
    walk.wait(60)
    walk.go("End round")
    walk.go("End round", "What is due")
    walk.go("Other apiary", "Quarry Top", "Another round")
    walk.go("Pieces out")
    walk.go("As shown")
    walk.go("Hive 21")
    walk.go("Not like that")
    walk.go("Lost")
    walk.exactly("1")
    walk.go("every box")


def mist(walk: Walk) -> None:
    """Strokes by place, from a batch that was looked at."""
    walk.go("Round at Ferry Lane")
    walk.go("as a mist")
    walk.go("As shown")
    walk.go("Hive 1")
    walk.go("Not like that")
    walk.go("Other strokes")
    walk.go("one more", "So it was")


def hive(walk: Walk) -> None:
    """A hive, its records, and how one is put right."""
    walk.go("Hives")
    walk.go("Ferry Lane")
    walk.exactly("7")
    walk.go("Why, with sources")
    walk.go("Back", "Pieces")
    walk.go("Back", "History")
    walk.go("Count")
    walk.go("Add words")
    walk.go("Back", "Put right")
    walk.go("Mites")
    walk.exactly("4")
    walk.go("Take this")
    walk.go("Go on")
    walk.go("wrong number")
    walk.go("Take back")


def look(walk: Walk) -> None:
    """A look inside, the day after, and a round of looks."""
    walk.tap("Hives", "Ferry Lane")
    walk.exactly("7")
    walk.go("Look inside")
    walk.go("Seams of bees")
    walk.go("a quarter more")
    walk.exactly("2 ¼")
    walk.go("Done with the queen")
    walk.go("introduced")
    walk.go("Feed given")
    walk.go("combs")
    walk.go("Save")
    walk.go("The day after")
    walk.go("Dead at the entrance")
    walk.go("101 to 500")
    walk.tap("Photos", "Take a photo")
    walk.until(lambda: any(isinstance(w, Picture) for w in walk.hand.widgets()))
    walk.go("Take this photo back")
    walk.tap("Back")
    walk.go("Back", "Save")
    walk.back_to("due")
    walk.go("Round at Ferry Lane", "Another round")
    walk.go("Look")
    walk.go("Other hive")
    walk.go("Pass over hive")


def dispenser(walk: Walk) -> None:
    """A dish of formic acid, and what it lost by weight."""
    walk.tap("Hives", "Hinterfeld")
    walk.exactly("1")
    walk.go("Weigh")
    walk.go("Weigh it now")
    walk.digits("190")
    walk.here()


def count(walk: Walk) -> None:
    """A wash with its shake and its tally, a board, and the year's counts."""
    walk.tap("Hives", "Ferry Lane")
    walk.exactly("7")
    walk.go("All counts")
    walk.go("Back", "Count mites")
    walk.go("Wash in soapy water")
    walk.go("Shake")
    walk.exactly("Count")
    for _ in range(6):
        walk.hand.touch(200, 400)
        walk.hand.hands.pass_(0.5)
    walk.here()
    walk.go("All counted")
    walk.go("half a US cup")
    walk.go("Save")
    walk.go("Count mites", "Mites on the board")
    walk.exactly("Count")
    walk.go("All counted")
    walk.go("a third of it")
    walk.exactly("3")
    walk.go("Save")
