"""The words that terms and tables use, as phrases, so that answers can be spoken in any language.

Terms and tables hold the trade's words in English (*brood chamber*, *none or hardly any*);
wherever one of them goes into a sentence it goes through `word`.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import reduce

from fieldapp.words import Phrase, say

#: Units, and what a dose is of and per what, as records name them: spoken wherever a record is.
RECORDED = (
    *("strip", "tray", "tablet", "pad", "piece", "product", "solution", "dihydrate", "anhydrous"),
    *("active", "colony", "hive", "box", "brood chamber", "seam", "frame of bees", "comb side"),
)

_WORDS: dict[str, Phrase] = {
    phrase.text: phrase
    for phrase in (
        # seasons of a daily dose
        say("summer after extraction"),
        say("late summer and autumn before the brood break"),
        # brood
        say("none"),
        say("hardly any"),
        say("yes"),
        say("not known"),
        say("none or hardly any"),
        say("must be present"),
        say("any"),
        # sizes and bases of a dose
        say("frames of brood"),
        say("frames of bees"),
        say("seams"),
        say("boxes"),
        say("bees"),
        say("colony"),
        say("brood chamber"),
        say("box"),
        say("seam"),
        say("frame of bees"),
        say("comb side"),
        say("strip"),
        say("hive"),
        # what a dose is of, and units that are words
        say("product"),
        say("dihydrate"),
        say("anhydrous"),
        say("solution"),
        say("active"),
        say("piece"),
        say("nothing"),
        say("tray"),
        say("tablet"),
        # what is mixed
        say("water"),
        say("sucrose"),
        say("glycerol"),
        say("syrup 1:1"),
        say("oxalic acid dihydrate"),
        say("oxalic acid anhydrous"),
        say("US cup"),
        say("US tablespoon"),
        say("US teaspoon"),
        # thresholds
        say("mites per 100 bees"),
        say("mites per day"),
        say("mites in a wash"),
        say("% of drone cells"),
        say("treat"),
        say("treat soon"),
        say("danger"),
        say("severe risk"),
        say("act"),
        say("act by the next band"),
        say("the law: treat all hives of the premises within 14 days"),
        # measures for bees, factors of a board
        say("half a US cup"),
        say("100 mL"),
        say("with brood, by a page"),
        say("broodless autumn"),
        say("November to February"),
        say("May to August"),
        say("March, April, September, October"),
        # brood cells
        say("worker"),
        say("drone"),
        # aspects
        say("brood"),
        say("temperature"),
        # how stock leaves the shelf
        say("given back to the supplier"),
        say("collection of hazardous waste"),
        say("pharmacy or veterinarian"),
        say("as its label says"),
        say("spilt"),
        say("given to another keeper"),
        # how a super is emptied, and not for people
        say("fed back to bees"),
        say("melted"),
        say("burnt"),
        # places for strokes
        say("left"),
        say("middle"),
        say("right"),
        say("entrance"),
        # how strong
        say("w/v"),
        say("w/w"),
    )
}

#: Why an application was otherwise than its label has it, as a note beside it says.
WHY_OTHERWISE: dict[str, Phrase] = {
    phrase.text: phrase
    for phrase in (
        say("the weather was right"),
        say("too many mites to wait"),
        say("done with the other hives"),
        say("could not come before"),
        say("ran short"),
        say("a vet said so"),
        say("by mistake"),
        say("other, in words at home"),
    )
}


def word(text: str) -> Phrase | str:
    """Return the phrase for a word of terms or tables; a word not known here stays as it is."""
    return _WORDS.get(text, text)


def listed(words: Iterable[Phrase | str]) -> Phrase | str:
    """Return one or more words after each other: *left 4, right 3*."""
    return reduce(lambda some, more: say("{some}, {more}", some=some, more=more), words)
