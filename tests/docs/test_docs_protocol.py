"""docs/protocol.md says what the server does: its routes, fields, errors, bounds."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from fieldapp.journal.files import MOST
from fieldapp.wire import invitation, limits
from syncserver.api import files, models, pairing, sync
from syncserver.pairing.desk import _CODE_WORDS, CODE_SECONDS, GUESSES

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "docs" / "protocol.md").read_text(encoding="utf-8")


def test_every_route_is_described():
    """And no route that is not there."""
    routers = (pairing.router, sync.router, files.router)
    routes = {
        (method, route.path)
        for router in routers
        for route in router.routes
        for method in route.methods
    }
    described = set(re.findall(rf"`(POST|GET|PUT) /api/{limits.PROTOCOL}(/[\w/{{}}]+)", PAGE))
    assert described == routes


@pytest.mark.parametrize(
    "model",
    [
        models.PairQuestion,
        models.PairAnswer,
        models.OperationAnswer,
        models.StatusQuestion,
        models.StatusAnswer,
        models.OfferQuestion,
        models.OfferAnswer,
        models.HoldsQuestion,
        models.HoldsAnswer,
        models.DigestsQuestion,
        models.DigestsAnswer,
        models.PushAnswer,
        models.ReceiptForm,
        models.RefusalForm,
        models.PlaceForm,
        models.PullHeading,
        models.FilesQuestion,
        models.FilesAnswer,
        models.FileForm,
    ],
)
def test_every_question_and_answer_is_described(model):
    """With exactly its fields, in their order."""
    fields = ", ".join(f'"{name}"' for name in model.model_fields)
    assert f"{{{fields}}}" in " ".join(PAGE.split())


def test_every_error_is_described():
    """The codes that the server's source answers with are the codes of the table."""
    source = "".join(path.read_text() for path in (ROOT / "syncserver").rglob("*.py"))
    answered = set(re.findall(r'HTTPStatus\.\w+,\s*"(\w+)"', source))
    answered |= {f"code_{why}" for why in _CODE_WORDS}
    answered |= set(re.findall(r'"(server_\w+)"', source))
    # A page has no code, and these two are named by the web framework.
    answered = answered - {"foreign_form"} | {"not_found", "method_not_allowed"}
    table = PAGE.partition("## Errors")[2].partition("## Cuts")[0].partition("| status")[2]
    assert set(re.findall(r"`(\w+)`", table)) == answered


def test_the_bounds_are_those_of_the_code():
    """Sizes, times and lengths are quoted as they are."""
    assert f"`{limits.BATCHES}`" in PAGE
    assert f"at\nmost {limits.JSON_BYTES >> 20} MiB" in PAGE
    assert f"at\nmost {limits.BATCH_BYTES >> 20} MiB" in PAGE
    assert f"`{limits.PIECE}` of at most {limits.PIECE_BYTES >> 10} KiB" in PAGE
    assert f"most\n  {MOST >> 20} MiB" in PAGE
    assert f"code of {invitation.CODE_SYMBOLS} signs" in PAGE
    assert f"within {CODE_SECONDS // 60} minutes" in PAGE
    assert {10: "ten"}[GUESSES] + " wrong guesses" in PAGE
