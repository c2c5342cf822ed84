"""In which language a page speaks: the browser's, in the habits of the operation's country."""

from __future__ import annotations

from datetime import date
from functools import lru_cache
from typing import Annotated

from fastapi import Depends, Request

from fieldapp.book.book import Book
from fieldapp.words import Speech, catalogue, fitting, habits_of, region


def speech_of(request: Request) -> Speech:
    """Return how to speak to a browser, by its Accept-Language (RFC 9110, 12.5.4)."""
    wanted = _wanted(request.headers.get("accept-language", ""))
    language = fitting(wanted)
    countries = (region(tag) for tag in wanted if fitting([tag]) == language)
    return _speech(language, next((country for country in countries if country), None))


SpeechHere = Annotated[Speech, Depends(speech_of)]


def at_home(speech: Speech, book: Book, day: date) -> Speech:
    """Return the same language in the habits of the country where the operation's hives stand."""
    country = next((place.country for place in book.apiaries(day) if place.country), None)
    return _speech(speech.language, country) if country else speech


@lru_cache(maxsize=32)
def _speech(language: str, country: str | None) -> Speech:
    return Speech(catalogue(language), habits_of(country))


def _wanted(header: str) -> list[str]:
    """Return the tags of an Accept-Language header, the dearest first; without those refused."""
    ranked = []
    for part in header.split(","):
        tag, _, quality = part.partition(";")
        try:
            weight = float(quality.strip().removeprefix("q=") or 1)
        except ValueError:
            weight = 0.0
        if weight > 0:
            ranked.append((weight, tag.strip()))
    return [tag for _, tag in sorted(ranked, key=lambda each: -each[0])]
