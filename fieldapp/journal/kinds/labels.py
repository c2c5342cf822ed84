"""The kinds of what labels, veterinarians and plans say of a treatment, and the values of terms."""

from __future__ import annotations

from fieldapp.journal.fields import (
    Check,
    choice,
    day,
    many,
    may,
    need,
    number,
    shape,
    table,
    text,
    whole,
    yes_no,
)
from fieldapp.journal.kinds.kind import Kind

IDENTITY = text(160)
STANDING = choice("read", "computed", "label in hand", "reported", "from memory", "common practice")
DOSE_OF = choice(
    "product", "dihydrate", "anhydrous", "solution", "active", "bees", "piece", "nothing"
)
DOSE_PER = choice(
    "colony", "brood chamber", "box", "seam", "frame of bees", "comb side", "strip", "hive"
)

_gap = shape(
    {
        "least": may(whole(0, 3660), "days"),
        "target": may(whole(0, 3660), "days"),
        "most": may(whole(0, 3660), "days"),
    }
)
_applications = shape(
    {
        "least": may(whole(1, 99), "applications"),
        "usual": may(whole(1, 99), "applications"),
        "most": may(whole(1, 99), "applications; left out: the range has no upper end"),
    }
)
PERIOD = shape(
    {
        "form": need(
            choice("days", "next season's supers"),
            "days after the end of exposure, or until next season's supers go on",
        ),
        "days": may(whole(0, 3660), "for form days; 0 is a published zero"),
        "honey_only": may(yes_no, "true: a period on honey alone; it exposes no super"),
    }
)
_temperature = shape(
    {
        "what": need(
            choice("maximum", "mean", "minimum", "average", "any"), "which temperature of the days"
        ),
        "from_day": may(whole(0, 366), "first day counted from the application, 0 the day itself"),
        "to_day": may(whole(0, 366), "last day"),
        "low": may(number(-60, 80), "degC, included"),
        "high": may(number(-60, 80), "degC, included"),
        "weight": need(choice("must", "ideal", "danger outside"), "how the label means it"),
    }
)
_stay = shape(
    {
        "when": need(choice("any", "no or hardly any brood", "brood"), "the condition"),
        "least": may(whole(0, 3660), "days"),
        "most": may(whole(0, 3660), "days"),
    }
)
_dose = shape(
    {
        "when": may(text(120), "for which colony or season"),
        "least": may(number(0, 1e6), "amount"),
        "amount": may(number(0, 1e6), "the amount itself, or the usual of a range"),
        "most": may(number(0, 1e6), "amount"),
        "unit": need(choice("g", "mL", "mg", "piece", "tray", "tablet"), "unit of the amount"),
        "of": need(DOSE_OF, "of what"),
        "per": need(DOSE_PER, "per what"),
        "cap": may(number(0, 1e6), "most for one colony, same unit"),
    }
)
_limit = shape(
    {
        "number": need(whole(1, 99), "how many"),
        "counts": need(choice("courses", "applications"), "of what"),
        "per": need(choice("year"), "calendar year"),
    }
)
_size = shape(
    {
        "least": may(number(0, 1e6), "at least"),
        "most": may(number(0, 1e6), "at most"),
        "unit": need(choice("frames of brood", "frames of bees", "seams", "boxes", "bees"), "unit"),
    }
)
_lines = many(text(300), 1, 20)

#: What a treatment's terms may say, by key: the value of each entry of ``terms.values``.
VALUES: dict[str, tuple[Check, str]] = {
    "applications": (_applications, "how many applications make a course"),
    "gap": (_gap, "days between applications of a course"),
    "stay": (many(_stay, 1, 4), "how long pieces stay in, by condition; days"),
    "rest": (
        shape({"days": may(whole(0, 3660), "days"), "months": may(whole(0, 60), "months")}),
        "between courses",
    ),
    "limit": (_limit, "how many a year"),
    "supers": (
        choice("off", "off, whole course", "off, at applications", "allowed"),
        "honey supers during treatment",
    ),
    "combs_exposed": (yes_no, "true: honey combs present are not extracted for people later"),
    "period": (PERIOD, "withdrawal period for honey"),
    "dose": (many(_dose, 1, 8), "dose, of what and per what"),
    "temperature": (many(_temperature, 1, 6), "as the label means it; degC"),
    "brood": (choice("none", "none or hardly any", "must be present", "any"), "what it needs"),
    "queen": (choice("present"), "what it needs: a queen in the hive"),
    "colony_size": (_size, "what it needs"),
    "reaches_capped": (yes_no, "true: reaches mites under cappings"),
    "prescription": (yes_no, "true: on prescription only"),
    "class": (text(80), "class of the active substance"),
    "whole_apiary": (yes_no, "true: all colonies of the apiary at the same time"),
    "flow": (choice("not during flow"), "nectar flow"),
    "after_last_harvest": (yes_no, "true: only after the year's last harvest"),
    "look_queen": (whole(1, 60), "look for the queen so many days after"),
    "residual": (number(0, 60), "days over which one application goes on acting"),
    "cautions": (_lines, "what can hurt, in the order to say it"),
    "protective": (_lines, "what the person wears"),
    "first_aid": (_lines, "first aid"),
    "hive_set_up": (_lines, "entrance, floor, feeding, placing"),
}


_values = shape(
    {
        key: may(
            shape(
                {
                    "value": need(check, means),
                    "standing": need(STANDING, "how the value is known"),
                    "source": need(text(40), "key in sources"),
                    "row": may(text(80), "row id in docs/sources.md"),
                }
            ),
            means,
        )
        for key, (check, means) in VALUES.items()
    }
)


_source = shape(
    {
        "title": need(text(300), "title"),
        "issuer": may(text(200), "who issued it"),
        "year": may(whole(1800, 2200), "year"),
        "section": may(text(120), "where in it"),
        "country": may(text(6), "ISO 3166"),
        "note": may(text(300), "read in part, hosted copy"),
    }
)

_given_by = shape(
    {
        "who": need(choice("label in hand", "veterinarian", "authority", "keeper"), "who says so"),
        "name": may(text(120), "name of the product on the label, the veterinarian, the authority"),
        "day": may(day, "date of the document"),
        "document": may(text(200), "label line, letter, reference"),
    }
)
_dose_written = shape(
    {
        "amount": need(number(0, 1e6), "how much"),
        "unit": need(choice("g", "mg", "mL"), "unit"),
        "of": need(DOSE_OF, "of what"),
        "per": need(DOSE_PER, "per what"),
    }
)
_written_by = shape(
    {
        "who": need(choice("veterinarian"), "who says so"),
        "name": need(text(120), "the veterinarian"),
        "day": need(day, "date of the document"),
        "document": need(text(200), "letter, prescription, reference"),
    }
)
KINDS = (
    Kind(
        "terms",
        "The values of a treatment's label that rules read, fixed when it is first used.",
        {
            "treatment": need(IDENTITY, "identity: country/label/version/active/method or own/id"),
            "name": need(text(80), "active substance and method in the trade's words"),
            "active": need(text(80), "active substance, or none"),
            "method": need(text(80), "how it is given"),
            "country": may(text(6), "ISO 3166; left out for methods without a label"),
            "label": may(text(120), "authorisation and version"),
            "form": need(choice("dose", "pieces", "act"), "given at once, stays in, or done"),
            "published": need(yes_no, "false: no published label known for it"),
            "library": may(text(40), "version of the library that it came from"),
            "values": need(_values, "each with standing and source; a missing one is not known"),
            "sources": need(table(text(40), _source, 40), "title, issuer, year by key"),
        },
    ),
    Kind(
        "period",
        "A withdrawal period and who gave it, for one treatment (for one hive, if named).",
        {
            "treatment": need(IDENTITY, "identity"),
            "period": need(PERIOD, "the period"),
            "given_by": need(_given_by, "who"),
        },
    ),
    Kind(
        "written_dose",
        "A dose that a veterinarian wrote down for a treatment in a country; of several the "
        "latest holds.",
        {
            "treatment": need(IDENTITY, "the treatment it is for"),
            "country": need(text(6), "ISO 3166-1, or -2 where labels differ: where it holds"),
            "dose": need(_dose_written, "the dose"),
            "given_by": need(_written_by, "who"),
        },
    ),
    Kind(
        "plan",
        "The keeper's own plan for courses whose applications name it.",
        {
            "treatment": need(IDENTITY, "identity"),
            "number": need(whole(1, 99), "planned applications"),
            "gap": need(_gap, "days between"),
            "ground": need(choice("label in hand", "common practice"), "where it comes from"),
            "document": may(text(200), "label line"),
        },
    ),
)
