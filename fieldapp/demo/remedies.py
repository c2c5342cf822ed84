"""Treatments in use: their terms and the line of the label in hand, written at first use."""

from __future__ import annotations

from datetime import datetime
from typing import Any, NamedTuple

from fieldapp.demo.scene import Person, Scene
from fieldapp.husbandry.library import Library

TRICKLE = "GB/powder-886-mg-g-UK-AN-01519-2014/2015-09/oxalic-acid/trickle"
VAPOUR = "GB/powder-886-mg-g-UK-AN-01519-2014/2015-09/oxalic-acid/sublimation"
MIST = "any/no-published-label/1/oxalic-acid/mist"
FLUVALINATE = "GB/AN-00674-2014/2014/tau-fluvalinate/strips"
AMITRAZ = "GB/AN-00561-2015/2015/amitraz/strips"
SPONGE = "GB/AN-01911-2010/2010/thymol/sponge"
GERMAN_TRICKLE = "DE/standard-authorisation-3-5/2006/oxalic-acid/trickle"
GERMAN_FORMIC = "DE/standard-authorisation-60/2018-12/formic-acid/evaporator"
US_VAPOUR = "US/EPA-073291-00002/2025-06-24/oxalic-acid/sublimation"
US_AMITRAZ = "US/emergency-exemption-South-Dakota/2012/amitraz/strips"

INVENTED = "invented for the demo season: no real label"


class Remedy(NamedTuple):
    """A treatment whose terms stand in the journal: what applications name."""

    identity: str
    terms: str


class NotInLibrary(LookupError):
    """The plan names a treatment that the library does not have."""


def named(library: Library, identity: str) -> dict[str, Any]:
    """Return the terms of the library's treatment of this identity.

    :raises NotInLibrary: where the library has none.
    """
    treatment = library.get(identity)
    if treatment is None:
        raise NotInLibrary(f"The treatment library has no {identity}.")
    return treatment.terms_body()


def first_use(
    scene: Scene, who: Person, when: datetime, terms_body: dict[str, Any], label_days: int | None
) -> Remedy:
    """Write the terms of a treatment and, where a label is in hand, its line for honey.

    `label_days` None: no label with a period is in hand, so none is entered. The label lines of
    the demo are invented, and each says so.
    """
    terms = scene.write(who, when, "terms", terms_body)
    identity = str(terms_body["treatment"])
    if label_days is not None:
        body = {
            "treatment": identity,
            "period": {"form": "days", "days": label_days},
            "given_by": {
                "who": "label in hand",
                "name": terms_body["name"],
                "document": INVENTED,
            },
        }
        scene.write(who, when, "period", body)
    return Remedy(identity, terms)
