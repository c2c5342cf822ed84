"""Where hives stand, who lives in them, and how colonies come, part and go."""

from __future__ import annotations

from fieldapp.journal.fields import choice, many, may, need, number, ref, text, whole, yes_no
from fieldapp.journal.kinds.kind import Kind

KINDS = (
    Kind(
        "apiary",
        "The attributes of an apiary from this moment on; the latest by date holds.",
        {
            "name": need(text(60), "what the keeper calls it"),
            "country": may(text(6), "ISO 3166-1, or -2 where labels differ: GB, GB-NIR, AU-NSW"),
            "zone": may(text(60), "IANA time zone, Europe/London"),
            "lat": may(number(-90, 90), "degrees north, WGS 84"),
            "lon": may(number(-180, 180), "degrees east, WGS 84"),
            "registration": may(text(60), "the registration number where the law wants one"),
            "given_up": may(yes_no, "true: no hives are kept here any more"),
        },
        needs=("apiary",),
    ),
    Kind(
        "hive",
        "Number, apiary (envelope) and stand of a hive from this moment on. Another apiary "
        "than before is a movement.",
        {
            "number": need(text(8), "as painted on the hive; used again after a hive is gone"),
            "stand": may(number(0, 10000), "place in the order of the walk"),
            "boxes": may(whole(0, 12), "brood boxes"),
            "type": may(text(40), "the pattern of hive"),
            "ended": may(
                choice("sold", "given away", "broken up", "lost", "burnt"), "why it is gone"
            ),
            "to_whom": may(text(200), "who has it now, where it was sold or given away"),
        },
        needs=("apiary", "hive"),
    ),
    Kind(
        "keeper",
        "A person of the operation; the envelope's keeper is the person.",
        {
            "name": need(text(60), "as the record book shall show it"),
            "role": may(text(40), "keeper, helper"),
            "beard": may(yes_no, "true: a tight mask has no seal on this face"),
        },
    ),
    Kind(
        "colony",
        "A colony comes to live in a hive. A hive whose first colony nobody recorded has one "
        "all the same, with the hive's own id.",
        {
            "origin": need(
                choice("bought", "swarm", "nucleus", "given", "was there"), "where from"
            ),
            "supplier": may(text(200), "from whom"),
        },
        needs=("hive", "colony"),
    ),
    Kind(
        "split",
        "Part of the colony (envelope: hive and colony it came from) goes to another hive.",
        {
            "to_hive": need(ref, "the hive of the part"),
            "to_colony": need(ref, "the part's id as a colony"),
            "pieces_along": may(whole(0, 99), "pieces that went along; left out: not asked yet"),
            "supers_along": may(many(text(20), 0, 9), "marks of supers that went along"),
        },
        needs=("hive", "colony"),
    ),
    Kind(
        "unite",
        "The colony of another hive joins this one (envelope: hive and colony that go on).",
        {
            "from_hive": need(ref, "the hive whose boxes and bees came"),
            "from_colony": need(ref, "the colony that ends in this one"),
        },
        needs=("hive", "colony"),
    ),
    Kind(
        "swarm",
        "A swarm left (envelope: the hive and colony that it left).",
        {
            "new_colony": need(ref, "the swarm's id as a colony"),
            "to_hive": may(ref, "the hive in which it was put; left out: it is gone"),
        },
        needs=("hive", "colony"),
    ),
    Kind(
        "transfer",
        "The whole colony moved to another hive's boxes.",
        {
            "to_hive": need(ref, "where it lives now"),
            "combs": need(choice("with combs", "bees only", "not known"), "what came along"),
        },
        needs=("hive", "colony"),
    ),
    Kind(
        "death",
        "The colony of this hive is dead or gone.",
        {"cause": may(text(200), "what was found")},
        needs=("hive",),
    ),
)
