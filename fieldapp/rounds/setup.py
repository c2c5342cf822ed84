"""Who keeps the records, in which country, and which hives stand where: at first, and later."""

from __future__ import annotations

from typing import NamedTuple

from fieldapp.journal.corrections import versions
from fieldapp.journal.record import Draft
from fieldapp.rounds.notebook import Notebook
from fieldapp.words import Phrase, Speech, say


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
    """The answers of the first start, or about one more apiary. `finish` writes them."""

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

    @property
    def default_name(self) -> Phrase:
        """What the apiary is called where nobody names it."""
        places = self._notebook.book.apiaries(self._notebook.today())
        return say("Apiary {n}", n=len(places) + 1)

    def finish(self, lat: float | None = None, lon: float | None = None) -> None:
        """Write the apiary and its hives 1 to n in one transaction; at the first start the keeper.

        Names default plainly.
        """
        notebook = self._notebook
        keeper, apiary = notebook.keeper or notebook.new_id(), notebook.new_id()
        moment = notebook.moment()
        place: dict[str, object] = {
            "name": self.apiary or Speech()(self.default_name),
            "zone": notebook.zone,
        }
        if self.country is not None:
            place["country"] = self.country.code
        if lat is not None and lon is not None:
            place |= {"lat": lat, "lon": lon}
        drafts = [Draft("apiary", moment, keeper, place, apiary=apiary)]
        if self.needed:
            body = {"name": self.name or "Keeper", "role": "keeper"}
            drafts.insert(0, Draft("keeper", moment, keeper, body))
        drafts += _hives(notebook, keeper, apiary, range(1, self.hives + 1), 1)
        notebook.write(drafts)
        notebook.keeper = keeper
        notebook.local.put("apiary", apiary)


def add_hives(notebook: Notebook, apiary: str, number: int) -> None:
    """Write so many hives more to an apiary: numbers and stands go on after the last."""
    first, stand = next_number(notebook, apiary), next_stand(notebook, apiary)
    numbers = range(first, first + number)
    notebook.write(_hives(notebook, notebook.keeper or "", apiary, numbers, stand))


def next_number(notebook: Notebook, apiary: str) -> int:
    """Return the number of the next hive at an apiary: it goes on after the highest."""
    stops = notebook.book.walk(apiary, notebook.today(apiary))
    return 1 + max((int(stop.number) for stop in stops if stop.number.isdecimal()), default=0)


def next_stand(notebook: Notebook, apiary: str) -> int:
    """Return the place of the next hive in the walk of an apiary: it goes on after the last."""
    stops = notebook.book.walk(apiary, notebook.today(apiary))
    return 1 + int(max([len(stops), *(stop.stand for stop in stops if stop.stand is not None)]))


def hive_draft(notebook: Notebook, apiary: str, hive: str) -> Draft:
    """Return what makes a hive of this id at an apiary, with the next number and stand."""
    body = {
        "number": str(next_number(notebook, apiary)),
        "stand": next_stand(notebook, apiary),
    }
    keeper = notebook.keeper or ""
    return Draft("hive", notebook.moment(apiary), keeper, body, apiary=apiary, hive=hive)


def _hives(notebook: Notebook, keeper: str, apiary: str, numbers: range, stand: int) -> list[Draft]:
    return [
        Draft(
            "hive",
            notebook.moment(apiary),
            keeper,
            {"number": str(number), "stand": stand + place},
            apiary=apiary,
            hive=notebook.new_id(),
        )
        for place, number in enumerate(numbers)
    ]
