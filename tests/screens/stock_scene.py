"""An apiary with something of everything: lots, filters, supers that are fine and that are not."""

from __future__ import annotations

from fieldapp.journal.record import Draft
from fieldapp.rounds.terms import terms_body

STRIPS = "GB/AN-00561-2015/2015/amitraz/strips"
MIST = "any/no-published-label/1/oxalic-acid/mist"


class Scene:
    """Writes records as phones would have, on days that are over."""

    def __init__(self, app) -> None:
        self.notebook = app.kit.notebook
        self.apiary = self.notebook.local.get("apiary")
        walk = self.notebook.book.walk(self.apiary, self.notebook.today())
        self.hives = {stop.number: stop.hive for stop in walk}

    def write(self, kind: str, body: dict, day: str = "2026-06-01", hive: str = "") -> str:
        hive_id = self.hives.get(hive)
        moment = f"{day}T09:00:00+01:00[Europe/London]"
        apiary = self.apiary if hive else None
        draft = Draft(kind, moment, self.notebook.keeper, body, apiary=apiary, hive=hive_id)
        return self.notebook.write([draft])[0].id

    def stock(self) -> None:
        """Five lots, one a batch, of which one is past its day and one does not add up."""
        strips = {"product": "Amitraz strips", "treatment": STRIPS, "unit": "strip"}
        self.lot = self.write(
            "bought", strips | {"lot": "22", "amount": 20, "expiry": "2027-03-31"}
        )
        terms = self.write("terms", terms_body(self.notebook, STRIPS), "2026-06-02")
        body = {"treatment": STRIPS, "terms": terms, "pieces": 2, "supers": "off"}
        drawn = [{"lot": self.lot, "amount": 2, "unit": "strip"}]
        for number in ("7", "8"):
            self.write("application", body | {"drawn": drawn}, "2026-06-02", number)
        old = self.write(
            "bought", strips | {"lot": "19", "amount": 4, "expiry": "2026-05-31"}, "2025-06-01"
        )
        self.write("on_hand", {"lot": old, "amount": 3, "unit": "strip"}, "2026-06-03")
        acid = {"product": "oxalic acid powder for bees", "lot": "204", "unit": "g", "amount": 35}
        powder = self.write("bought", acid | {"expiry": "2026-07-20", "supplier": "a dealer"})
        batch = {"recipe": "Winter mix (1)", "amount": 250, "unit": "mL", "strength": 3.5}
        batch |= {"strength_of": "dihydrate", "strength_as": "w/v"}
        batch |= {"drawn": [{"lot": powder, "amount": 9, "unit": "g"}]}
        self.write("batch", batch, "2026-06-20")
        used = self.write("bought", strips | {"lot": "17", "amount": 2}, "2025-05-01")
        self.write("disposed", {"lot": used, "amount": 2, "unit": "strip"}, "2025-09-01")

    def gear(self) -> None:
        """A filter that is nearly over, one of which nothing is known, a nozzle nearly worn."""
        old = {"what": "filter", "name": "A2P3", "opened": "2026-01-10", "expiry": "2026-07-10"}
        self.filter = self.write("gear", old)
        self.write("gear", {"what": "filter", "name": "ABEK-P3, the helper's"})
        mister = self.write("gear", {"what": "applicator", "name": "hand mister", "hours": 3})
        nozzle = {"what": "part", "name": "nozzle 0.5", "of": mister}
        self.write("gear", nozzle | {"hours": 37, "change_after_hours": 40})

    def supers(self) -> None:
        """Hives 1 and 2 fine, 3 closed, 4 not known, 5 exposed; a lot of 1, one of 5 to hold."""
        for number in "12345":
            self.write("super_on", {"mark": f"S{number}"}, "2026-05-01", number)
        self.write("super_on", {"count": 2}, "2026-05-02", "6")
        strips = self.write("terms", terms_body(self.notebook, STRIPS), "2026-06-02")
        body = {"treatment": STRIPS, "terms": strips, "pieces": 2, "supers": "off"}
        self.write("application", body, "2026-06-02", "3")
        mist = self.write("terms", terms_body(self.notebook, MIST), "2026-05-20")
        body = {"treatment": MIST, "terms": mist, "supers": "off"}
        self.write("application", body, "2026-05-20", "4")
        for day, number, lot in (("2026-06-10", "1", "2026-1"), ("2026-06-11", "5", "2026-2")):
            take = {"hive": self.hives[number], "mark": f"S{number}"}
            harvest = {"lot": lot, "takes": [take], "amount": 12.5, "unit": "kg"}
            self.write("harvest", harvest | {"jars": "25 jars"}, day, number)
        self.write("comb_up", {"mark": "S5"}, "2026-06-01", "5")
