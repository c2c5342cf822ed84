"""What lies round the hive: other colonies, standstill, stock, prescription, label, honey."""

from __future__ import annotations

from fieldapp.husbandry.choosing.label import Finding, Label, Says, plain
from fieldapp.husbandry.choosing.situation import Situation
from fieldapp.words import Phrase, say


def published(label: Label) -> list[Finding]:
    """Return what it means that no label is published for a method: it never *suits*."""
    if label.published:
        return []
    text = say("no published label known for this method: ask the authority or a veterinarian")
    return [plain("label", "not known", text)]


def honey(label: Label) -> list[Finding]:
    """Return a remark where the period for honey is not known: honey stays closed."""
    if label.form == "act" or label.grounds("period"):
        return []
    text = say("the period for honey is not known: honey stays closed until one is entered")
    return [label.found("honey", "period", "remark", text)]


def others(label: Label, hive: Situation) -> list[Finding]:
    """Return what colonies of the apiary that are left untreated mean."""
    records = hive.grounds.get("others", ())
    if label.value("whole_apiary"):
        if hive.others_untreated is None:
            text = say("all colonies of the apiary at once; whether they are is not known")
            return [label.found("other colonies", "whole_apiary", "not known", text, records)]
        if hive.others_untreated:
            text = say("all colonies of the apiary at once, and others are left out")
            return [label.found("other colonies", "whole_apiary", "does not suit", text, records)]
        text = say("all colonies of the apiary at once")
        return [label.found("other colonies", "whole_apiary", "suits", text, records)]
    if hive.others_untreated:
        text = say("other colonies of the apiary are left untreated: mites come back from them")
        return [plain("other colonies", "remark", text, records)]
    return []


def standstill(label: Label, hive: Situation) -> list[Finding]:
    """Return what a standstill means: no combs or colonies are moved or exchanged."""
    if not hive.standstill:
        return []
    records = hive.grounds.get("standstill", ())
    text = say("a standstill is set: ask the authority before combs or colonies are moved")
    return [plain("standstill", "not known" if label.form == "act" else "remark", text, records)]


def stock(label: Label, hive: Situation) -> list[Finding]:
    """Return whether enough is on hand: on this day what is known to lack speaks against it.

    None on record is a remark, for nobody has to keep books to treat.
    """
    if label.form == "act":
        return []
    records = hive.grounds.get("stock", ())
    amount = hive.stock.get(label.treatment)
    needed = hive.needed.get(label.treatment)
    if amount is None:
        return [plain("stock", "remark", say("stock: none on record"), records)]
    if amount <= 0 or (needed is not None and amount < needed):
        return [plain("stock", "does not suit", say("stock: not enough, buy first"), records)]
    return [plain("stock", "remark", say("stock: {amount} on hand", amount=amount), records)]


def prescription(label: Label, hive: Situation) -> list[Finding]:
    """Return whether a prescription is there where the label wants one."""
    if not label.value("prescription"):
        return []
    records = hive.grounds.get("prescription", ())
    there: dict[bool | None, tuple[Says, Phrase]] = {
        None: ("not known", say("on prescription only; whether there is one is not known")),
        True: ("suits", say("on prescription, and there is one")),
        False: ("does not suit", say("on prescription only, and there is none")),
    }
    says, text = there[hive.prescribed.get(label.treatment)]
    return [label.found("prescription", "prescription", says, text, records)]
