"""The questions of each kind of record, in the order of the work: for entry and correction."""

from __future__ import annotations

from fieldapp.husbandry.vocabulary import ENDS, MITES, WHY_BROKEN_OFF, WHY_DEAD
from fieldapp.rounds.look_form import Choice, Number, Question
from fieldapp.words import say

BROOD = Choice(
    "brood",
    say("Sealed brood"),
    (
        ("none", say("none")),
        ("hardly any", say("hardly any")),
        ("yes", say("yes")),
        ("not seen", say("not seen")),
    ),
)
QUEEN_SEEN = Choice(
    "queen",
    say("Queen"),
    (
        ("seen", say("seen")),
        ("not seen", say("not seen")),
        ("cells", say("queen cells")),
        ("queenless", say("queenless")),
    ),
)
EGGS = Choice(
    "eggs",
    say("Eggs"),
    (("yes", say("yes")), ("none", say("none")), ("not seen", say("not seen"))),
)
LOOK: tuple[Question, ...] = (
    BROOD,
    QUEEN_SEEN,
    EGGS,
    Number("brood_frames", say("Brood frames"), 20, 2),
    Number("seams", say("Seams of bees"), 20, 4),
    Number("frames_of_bees", say("Frames of bees"), 20, 4),
    Choice(
        "stores",
        say("Stores"),
        (("short", say("short")), ("enough", say("enough")), ("plenty", say("plenty"))),
    ),
    Choice(
        "temper",
        say("Temper"),
        (("calm", say("calm")), ("lively", say("lively")), ("stinging", say("stinging"))),
    ),
    Number("boxes", say("Brood boxes"), 4),
)

_DEAD = (
    ("0-20", say("0 to 20")),
    ("21-100", say("21 to 100")),
    ("101-500", say("101 to 500")),
    ("over 500", say("over 500")),
    ("not known", say("not known")),
)
DAY_AFTER: tuple[Question, ...] = (
    Choice("entrance", say("Dead at the entrance"), _DEAD),
    Choice("board", say("Dead on the board"), _DEAD),
    Choice(
        "behaviour",
        say("The bees"),
        (
            ("as usual", say("as usual")),
            ("restless", say("restless")),
            ("hanging outside", say("hanging outside")),
            ("silent", say("silent")),
        ),
    ),
)

QUEEN_DID = (
    ("caged", say("caged")),
    ("released", say("released")),
    ("removed", say("removed")),
    ("introduced", say("introduced")),
    ("died", say("died")),
)
FEED_WHAT = (
    ("syrup", say("syrup")),
    ("fondant", say("fondant")),
    ("combs", say("combs")),
    ("pollen", say("pollen")),
)
#: The unit in which each feed is given.
FEED_UNIT = {"syrup": "L", "fondant": "kg", "combs": "combs", "pollen": "kg"}
BOARD_DID = (("in", say("in")), ("out", say("out")))
SEEN = Choice(
    "seen",
    say("Lost: how do you know?"),
    (
        ("outside the hive", say("seen outside the hive")),
        ("every box searched", say("every box searched, frame by frame")),
        ("not found", say("not found, may be inside")),
    ),
)
_SUPERS = (("off", say("off")), ("on", say("on")), ("not known", say("not known")))

COMBS = Choice(
    "combs",
    say("The combs"),
    (
        ("with combs", say("with combs")),
        ("bees only", say("bees only")),
        ("not known", say("not known")),
    ),
    needed=True,
)
ORIGIN = Choice(
    "origin",
    say("Where from"),
    (
        ("bought", say("bought")),
        ("swarm", say("a swarm")),
        ("nucleus", say("a nucleus")),
        ("given", say("given")),
    ),
    needed=True,
)
CAUSE = Choice("cause", say("What was found"), tuple(WHY_DEAD.items()))
WHY_STOPPED = Choice("reason", say("Why"), tuple(WHY_BROKEN_OFF.items()))
ENDED = Choice(
    "ended",
    say("Why it is gone"),
    tuple(ENDS.items()),
    needed=True,
)

#: What can be put right in a record, by its kind; day and hive can be in every one.
OF_KIND: dict[str, tuple[Question, ...]] = {
    "look": LOOK,
    "day_after": DAY_AFTER,
    "queen": (Choice("did", say("Queen"), QUEEN_DID, needed=True),),
    "feed": (
        Choice("what", say("Feed"), FEED_WHAT, needed=True),
        Number("amount", say("How much"), 20, 2),
    ),
    "board": (Choice("did", say("Bottom board"), BOARD_DID, needed=True),),
    "count": (Number("mites", say("Mites"), 3660, needed=True, unit=MITES),),
    "pieces": (
        Choice(
            "did",
            say("What was done"),
            (
                ("moved", say("moved")),
                ("out", say("out")),
                ("lost", say("lost")),
                ("found", say("found")),
                ("replaced", say("replaced")),
            ),
            needed=True,
        ),
        Number("count", say("Pieces"), 12, least=1, needed=True),
        SEEN,
    ),
    "application": (
        Number("pieces", say("Pieces put in"), 12),
        Number("seams", say("Seams of bees"), 20, 4),
        Choice("supers", say("Supers"), _SUPERS),
    ),
    "split": (Number("pieces_along", say("Pieces that went along"), 20),),
    "transfer": (COMBS,),
    "colony": (ORIGIN,),
    "death": (CAUSE,),
    "course_stop": (WHY_STOPPED,),
}
