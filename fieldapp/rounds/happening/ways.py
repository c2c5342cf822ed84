"""What can have happened to a hive, in the order of its keys, and the form that asks of it."""

from __future__ import annotations

from collections.abc import Callable

from fieldapp.rounds.happening.colonies import Split, Swarm, Transfer, Unite
from fieldapp.rounds.happening.happening import Happening
from fieldapp.rounds.happening.lives import Died, NewColony, NewQueen, Stopped
from fieldapp.rounds.happening.moving import Gone
from fieldapp.rounds.happening.supers import Carried, CombUp
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, say

Makes = Callable[[Notebook, str], Happening]

#: Moves to another apiary and emptied supers have ways of their own.
WAYS: tuple[tuple[Phrase, Makes], ...] = (
    (say("Split"), Split),
    (say("United with another hive"), Unite),
    (say("Swarmed"), Swarm),
    (say("Queen"), NewQueen),
    (say("Supers carried to another hive"), Carried),
    (say("Comb moved up into a super"), CombUp),
    (say("Dead"), Died),
    (say("New colony"), NewColony),
    (say("Course broken off"), Stopped),
    (say("Moved to other boxes"), Transfer),
    (say("Hive gone"), Gone),
)
