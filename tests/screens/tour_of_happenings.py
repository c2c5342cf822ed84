"""What happened to hives, and an apiary's register, on the demo's today: legs of the tour."""

from __future__ import annotations

from walking import Walk


def split(walk: Walk) -> None:
    """A split with strips in: where to, how many went along, what follows, written and undone."""
    walk.tap("Hives", "Quarry Top")
    walk.exactly("23")
    walk.go("What happened")
    walk.go("Split")
    walk.go("a new hive")
    walk.go("all of them")
    walk.go("Day")
    walk.go("An earlier day")
    walk.back_to("form")
    walk.go("What follows")
    walk.go("Write it down")
    walk.go("Undo")


def united(walk: Walk) -> None:
    """Two colonies become one, and a course broken off."""
    walk.tap("Hives", "Quarry Top")
    walk.exactly("23")
    walk.tap("What happened")
    walk.go("United with another hive")
    walk.exactly("24")
    walk.go("in hive 24")
    walk.go("What follows")
    walk.back_to("happened")
    walk.go("Course broken off")
    walk.go("Amitraz strips")
    walk.go("Why")
    walk.go("queen lost")
    walk.go("What follows")


def lives(walk: Walk) -> None:
    """Bees that die, swarm, come, and hives that are gone."""
    walk.tap("Hives", "Ferry Lane")
    walk.exactly("7")
    walk.tap("What happened")
    walk.go("Dead")
    walk.go("What was found")
    walk.go("starved")
    walk.go("What follows")
    walk.back_to("happened")
    walk.go("Swarmed")
    walk.go("flown")
    walk.back_to("happened")
    walk.go("New colony")
    walk.go("bought")
    walk.go("From whom")
    walk.back_to("happened")
    walk.go("Hive gone")
    walk.go("sold")


def carried(walk: Walk) -> None:
    """Supers carried, a comb moved up, exposed supers of one hive."""
    walk.tap("Hives", "Ferry Lane")
    walk.exactly("7")
    walk.tap("What happened")
    walk.go("Supers carried")
    walk.back_to("happened")
    walk.go("Comb moved up")
    walk.go("What follows")
    walk.back_to("happened")
    walk.go("Supers emptied")


def premises(walk: Walk) -> None:
    """An apiary: its register, a count, a visit with a standstill, and what that blocks."""
    walk.tap("Home", "Apiaries")
    walk.here()
    walk.go("Ferry Lane")
    walk.go("Movements, visits")
    walk.back_to("premises")
    walk.go("Colony count")
    walk.go("Reported to")
    walk.back_to("premises")
    walk.go("Name and number")
    walk.back_to("premises")
    walk.go("Write a report down")
    walk.back_to("premises")
    walk.go("Inspector's visit")
    walk.go("Who came or wrote")
    walk.go("bee inspector")
    walk.go("Standstill")
    walk.go("set: from this day on")
    walk.go("Write it down")
    walk.go("Move hives")
    walk.go("It was done all the same")
    walk.go("All")
    walk.go("Go on")
    walk.go("Quarry Top")
    walk.go("What follows")
