"""The words that terms and tables use, as phrases, so that answers can be spoken in any language.

Terms and tables hold the trade's words in English (*brood chamber*, *none or hardly any*);
wherever one of them goes into a sentence it goes through `word`.
"""

from __future__ import annotations

from fieldapp.words import Phrase, count, say

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
        count("colony", "colonies", 1),
        count("brood chamber", "brood chambers", 1),
        count("box", "boxes", 1),
        count("seam", "seams", 1),
        count("frame of bees", "frames of bees", 1),
        count("comb side", "comb sides", 1),
        count("strip", "strips", 1),
        count("hive", "hives", 1),
        # what a dose is of, and units that are words
        say("product"),
        say("dihydrate"),
        say("anhydrous"),
        say("solution"),
        say("active"),
        count("piece", "pieces", 1),
        say("nothing"),
        count("tray", "trays", 1),
        count("tablet", "tablets", 1),
        count("pad", "pads", 1),
        # what is mixed
        say("water"),
        say("sucrose"),
        say("glycerol"),
        say("syrup 1:1"),
        say("oxalic acid dihydrate"),
        say("oxalic acid anhydrous"),
        count("US cup", "US cups", 1),
        count("US tablespoon", "US tablespoons", 1),
        count("US teaspoon", "US teaspoons", 1),
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
        say("with brood, as a web page has it"),
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

#: Units that are asked for and stand in no record under their name.
DAYS = count("day", "days", 2)
WEEKS = count("week", "weeks", 2)
MONTHS = count("month", "months", 2)
PIECES = count("piece", "pieces", 2)
BEES = count("bee", "bees", 2)
MITES = count("mite", "mites", 2)
COLONIES = count("colony", "colonies", 2)
STROKES = count("stroke", "strokes", 2)
HIVES = count("hive", "hives", 2)
INCHES = count("inch", "inches", 2)
APPLICATIONS = count("application", "applications", 2)
COURSES = count("course", "courses", 2)

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

#: What was found where a colony died, as its record has it.
WHY_DEAD: dict[str, Phrase] = {
    phrase.text: phrase
    for phrase in (
        say("starved"),
        say("many mites"),
        say("no queen"),
        say("robbed out"),
        say("mice or wasps"),
        say("flood or storm"),
        say("poisoned"),
        say("boxes empty, bees gone"),
        say("too weak for the winter"),
        say("something else"),
    )
}

#: Why a course was broken off, as its record has it.
WHY_BROKEN_OFF: dict[str, Phrase] = {
    phrase.text: phrase
    for phrase in (
        say("more dead bees than usual"),
        say("queen lost"),
        say("too hot"),
        say("too cold"),
        say("nectar flow began"),
        say("few mites left"),
        say("ran out"),
        say("a vet said so"),
        say("something else"),
    )
}

#: Why a hive is gone, and where a colony came from, as records have it.
ENDS: dict[str, Phrase] = {
    phrase.text: phrase
    for phrase in (
        say("sold"),
        say("given away"),
        say("broken up"),
        say("lost"),
        say("burnt"),
    )
}
#: What an inspector finds as a rule, as a visit's record has it where it was tapped.
HEALTHY = "all hives seen, brood healthy"
_FOUND = say("all hives seen, brood healthy")
_ORIGINS = (say("bought"), say("swarm"), say("nucleus"), say("given"), say("was there"))
_RECORDED = {**WHY_DEAD, **WHY_BROKEN_OFF, **ENDS, **{e.text: e for e in (*_ORIGINS, _FOUND)}}


def word(text: str) -> Phrase | str:
    """Return the phrase for a word of terms or tables; a word not known here stays as it is."""
    return _WORDS.get(text, _RECORDED.get(text, text))
