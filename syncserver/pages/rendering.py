"""Makes pages from templates. What they show is text: nothing in a record is ever markup."""

from __future__ import annotations

from typing import Any

from fastapi.responses import HTMLResponse
from jinja2 import Environment, PackageLoader, StrictUndefined, select_autoescape

from fieldapp.words.speech import Speech

_templates = Environment(
    loader=PackageLoader("syncserver.pages"),
    autoescape=select_autoescape(default=True),
    undefined=StrictUndefined,
    trim_blocks=True,
    lstrip_blocks=True,
)

speech = Speech()
"""How the pages speak."""


def page(template: str, status: int = 200, **values: Any) -> HTMLResponse:
    """Return a page; `operation`, where it is given, is the one that is logged in."""
    return HTMLResponse(_rendered(template, values), status)


def wrong_page(title: str, what: str, do: str) -> str:
    """Return the page that says what went wrong and what to do."""
    return _rendered("wrong.html", {"title": title, "what": what, "do": do})


def _rendered(template: str, values: dict[str, Any]) -> str:
    return _templates.get_template(template).render({"operation": None} | values)
