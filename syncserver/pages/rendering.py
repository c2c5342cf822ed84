"""Makes pages from templates. What they show is text: nothing in a record is ever markup."""

from __future__ import annotations

from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

from fieldapp.words import Phrase, Speech
from syncserver.pages.language import speech_of

_templates = Environment(
    loader=PackageLoader("syncserver.pages"),
    autoescape=select_autoescape(default=True),
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)


def page(template: str, speech: Speech, status: int = 200, **values: Any) -> HTMLResponse:
    """Return a page; `operation`, where it is given, is the one that is logged in."""
    return HTMLResponse(_rendered(template, speech, values), status)


def wrong_page(request: Request, what: Phrase | str, do: Phrase | str) -> str:
    """Return the page that says what went wrong and what to do."""
    speech = speech_of(request)
    return _rendered("wrong.html", speech, {"what": speech(what), "do": speech(do)})


def _rendered(template: str, speech: Speech, values: dict[str, Any]) -> str:
    """Return a page in words; a template's ``say`` speaks at once."""
    given = {
        "language": speech.language,
        "say": lambda text, **args: speech(Phrase(text, tuple(args.items()))),
        "operation": None,
    }
    return _templates.get_template(template).render(given | values)
