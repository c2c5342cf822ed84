"""What colony and supers say to a treatment: brood, queen, supers, size, nectar, harvest."""

from __future__ import annotations

from fieldapp.husbandry.choosing.label import Finding, Label, Says, plain
from fieldapp.husbandry.choosing.situation import Situation
from fieldapp.husbandry.vocabulary import word
from fieldapp.words import Phrase, say

_BROOD_FITS = {
    "none": frozenset({"none"}),
    "none or hardly any": frozenset({"none", "hardly any"}),
    "must be present": frozenset({"hardly any", "yes"}),
    "any": frozenset({"none", "hardly any", "yes", "not known"}),
}


def brood(label: Label, hive: Situation) -> list[Finding]:
    """Return what the brood says, and whether mites under cappings stay out of reach."""
    records, found = hive.grounds.get("brood", ()), []
    wants = label.value("brood")
    if wants is None and label.form == "act":
        text = say("brood and season: no condition on record, the keeper's judgement")
        found.append(plain("brood", "remark", text, records))
    elif wants is None:
        found.append(label.missing("brood"))
    else:
        says: Says = "suits" if hive.brood in _BROOD_FITS[wants] else "does not suit"
        if hive.brood == "not known" and wants != "any":
            says = "not known"
        phrase = say(
            "brood by the label: {wants}; in the hive: {seen}",
            wants=word(wants),
            seen=word(hive.brood),
        )
        if label.form == "act":
            phrase = say(
                "brood: {wants}; in the hive: {seen}", wants=word(wants), seen=word(hive.brood)
            )
        found.append(label.found("brood", "brood", says, phrase, records))
    if hive.brood != "none" and label.value("reaches_capped") is not True and label.form != "act":
        text = say("not known to reach mites under cappings: see the hole in the course")
        found.append(plain("brood", "remark", text, records))
    return found


def queen(label: Label, hive: Situation) -> list[Finding]:
    """Return whether the colony has a queen, where the treatment needs one."""
    if label.value("queen") is None:
        return []
    seen: dict[str, tuple[Says, Phrase]] = {
        "present": ("suits", say("it needs a queen, and there is one")),
        "absent": ("does not suit", say("it needs a queen, and there is none")),
        "not known": ("not known", say("it needs a queen; whether there is one is not known")),
    }
    says, text = seen[hive.queen]
    return [label.found("queen", "queen", says, text, hive.grounds.get("queen", ()))]


def supers(label: Label, hive: Situation) -> list[Finding]:
    """Return what honey supers say. Terms that do not say are read as if they must be off."""
    if label.form == "act" and label.value("supers") is None:
        return []
    records = hive.grounds.get("supers", ())
    wants = label.value("supers")
    if hive.supers == "off":
        return [plain("supers", "suits", say("supers are off"), records)]
    if wants == "allowed":
        text = say("supers may stay on")
        return [label.found("supers", "supers", "suits", text, records)]
    if hive.supers == "not known":
        text = say("supers have to be off; whether they are is not known")
        return [label.found("supers", "supers", "not known", text, records)]
    if wants is None:
        text = say("supers are on, and whether they may be is not known: as if they must be off")
    else:
        text = say("supers are on and have to be off")
    return [label.found("supers", "supers", "does not suit", text, records)]


def size(label: Label, hive: Situation) -> list[Finding]:
    """Return whether the colony has the size that the label wants, if it names one."""
    wants = label.value("colony_size")
    if wants is None:
        return []
    number = hive.sizes.get(wants["unit"])
    least, most = wants.get("least", 0), wants.get("most", float("inf"))
    records = hive.grounds.get("size", ())
    if number is None:
        text = say("colony size: count the {unit}", unit=word(wants["unit"]))
        return [label.found("colony size", "colony_size", "not known", text, records)]
    says: Says = "suits" if least <= number <= most else "does not suit"
    text = say("colony size: {n} {unit}", n=number, unit=word(wants["unit"]))
    if "least" in wants:
        text = say("{size}, at least {least} wanted", size=text, least=least)
    if "most" in wants:
        text = say("{size}, at most {most} wanted", size=text, most=most)
    return [label.found("colony size", "colony_size", says, text, records)]


def season(label: Label, hive: Situation) -> list[Finding]:
    """Return what nectar flow and the year's last harvest say, where the label names them."""
    found = []
    if label.value("flow") is not None:
        flow: dict[bool | None, tuple[Says, Phrase]] = {
            None: ("not known", say("not during a nectar flow; whether there is one is not known")),
            True: ("does not suit", say("not during a nectar flow, and there is one")),
            False: ("suits", say("no nectar flow")),
        }
        says, text = flow[hive.flow]
        found.append(_season(label, hive, "flow", says, text))
    if label.value("after_last_harvest"):
        taken: dict[bool | None, tuple[Says, Phrase]] = {
            None: ("not known", say("only after the year's last harvest; is it taken?")),
            True: ("suits", say("the year's last harvest is taken")),
            False: ("does not suit", say("only after the year's last harvest")),
        }
        says, text = taken[hive.last_harvest_taken]
        found.append(_season(label, hive, "after_last_harvest", says, text))
    return found


def _season(label: Label, hive: Situation, key: str, says: Says, text: Phrase) -> Finding:
    return label.found("season", key, says, text, hive.grounds.get("season", ()))
