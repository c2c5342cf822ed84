"""The first start: who keeps the records, in which country, and which hives stand where."""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.journal.corrections import versions
from fieldapp.journal.record import Draft
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, say


class Country(NamedTuple):
    """A country whose labels the library may hold, and the zone of a phone that knows none."""

    code: str
    name: Phrase
    zone: str


#: Countries to choose from; the code decides which labels are offered.
COUNTRIES = (
    Country("GB", say("Great Britain"), "Europe/London"),
    Country("GB-NIR", say("Northern Ireland"), "Europe/London"),
    Country("IE", say("Ireland"), "Europe/Dublin"),
    Country("DE", say("Germany"), "Europe/Berlin"),
    Country("AT", say("Austria"), "Europe/Vienna"),
    Country("CH", say("Switzerland"), "Europe/Zurich"),
    Country("FR", say("France"), "Europe/Paris"),
    Country("US", say("United States"), "America/New_York"),
    Country("CA", say("Canada"), "America/Toronto"),
    Country("AU-NSW", say("Australia, New South Wales"), "Australia/Sydney"),
    Country("AU", say("Australia, elsewhere"), "Australia/Sydney"),
    Country("NZ", say("New Zealand"), "Pacific/Auckland"),
)


class Setup:
    """The answers of the first start. Nothing is written before `finish`."""

    def __init__(self, notebook: Notebook) -> None:
        self._notebook = notebook
        self.name = ""
        self.country: Country | None = None
        self.apiary = ""
        self.hives = 0

    @property
    def needed(self) -> bool:
        """Whether this phone still has no keeper."""
        return self._notebook.keeper is None

    def keepers(self) -> list[tuple[str, str]]:
        """Return the keepers that a sync brought to this phone, as id and name."""
        notebook = self._notebook
        records = [record for _, record in notebook.journal.arrivals() if record.kind == "keeper"]
        found = [
            (each.holds.keeper, str(each.holds.body["name"]))
            for each in versions(records).values()
            if not each.void
        ]
        return sorted(dict(found).items(), key=lambda keeper: keeper[1])

    @property
    def has_apiaries(self) -> bool:
        """Whether a sync brought apiaries: then only a keeper is still needed."""
        return bool(self._notebook.book.apiaries(self._notebook.today()))

    def be(self, keeper: str) -> None:
        """Be a keeper whom the records know."""
        self._notebook.keeper = keeper

    def join(self) -> None:
        """Be one more keeper of what a sync brought."""
        notebook = self._notebook
        keeper = notebook.new_id()
        notebook.write(
            [Draft("keeper", notebook.moment(), keeper, {"name": self.name or "Keeper"})]
        )
        notebook.keeper = keeper

    def finish(self, lat: float | None = None, lon: float | None = None) -> None:
        """Write keeper, apiary and hives 1 to n in one transaction; names default plainly."""
        notebook = self._notebook
        keeper, apiary = notebook.new_id(), notebook.new_id()
        moment = notebook.moment()
        place: dict[str, object] = {"name": self.apiary or "Apiary 1", "zone": notebook.zone}
        if self.country is not None:
            place["country"] = self.country.code
        if lat is not None and lon is not None:
            place |= {"lat": lat, "lon": lon}
        drafts = [
            Draft("keeper", moment, keeper, {"name": self.name or "Keeper", "role": "keeper"}),
            Draft("apiary", moment, keeper, place, apiary=apiary),
        ]
        drafts += [
            Draft(
                "hive",
                moment,
                keeper,
                {"number": str(number), "stand": number},
                apiary=apiary,
                hive=notebook.new_id(),
            )
            for number in range(1, self.hives + 1)
        ]
        notebook.write(drafts)
        notebook.keeper = keeper
        notebook.local.put("apiary", apiary)
