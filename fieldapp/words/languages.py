"""The languages that the program speaks, and their gettext catalogues."""

from __future__ import annotations

import gettext
import logging
from collections.abc import Iterable

from fieldapp.assets import folder

log = logging.getLogger(__name__)

DOMAIN = "apiary"
#: The language of the literal texts themselves, which needs no catalogue.
SOURCE = "en"
#: Each language by its own name, as its speakers look for it.
LANGUAGES = {SOURCE: "English", "de": "Deutsch"}


def fitting(tags: Iterable[str]) -> str:
    """Return the first language that is spoken here of `tags` (BCP 47, as ``de-AT``)."""
    spoken = (tag.replace("_", "-").partition("-")[0].lower() for tag in tags)
    return next((language for language in spoken if language in LANGUAGES), SOURCE)


def region(tag: str) -> str | None:
    """Return the country that a tag names (ISO 3166), None where it names none."""
    parts = tag.replace("_", "-").split("-")[1:]
    return next((part.upper() for part in parts if len(part) == 2 and part.isalpha()), None)


def catalogue(language: str) -> gettext.NullTranslations:
    """Return the catalogue of a language; where it cannot be read, the texts stay English."""
    if language == SOURCE:
        return gettext.NullTranslations()
    try:
        return gettext.translation(DOMAIN, folder("words"), [language])
    except (OSError, ValueError) as error:
        log.warning("no words in %s: %s", language, error)
        return gettext.NullTranslations()
