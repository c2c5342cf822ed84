"""Whatever is sent to the routes, they answer, in a form that the OpenAPI description names."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from schemathesis.checks import content_type_conformance, not_a_server_error
from schemathesis.checks import response_schema_conformance as schema_conformance

from fieldapp.wire import limits
from fieldapp.wire.packing import pack
from syncserver.app import API, create_app
from syncserver.bootstrap import bootstrap

#: Every route of the protocol; `test_every_route_is_asked` holds this to the description.
ROUTES = (
    ("GET", "/operation"),
    *(("POST", f"/{name}") for name in ("pair", "status", "offer", "holds", "digests")),
    ("POST", "/push"),
    ("POST", "/pull"),
    ("POST", "/files"),
    ("PUT", "/files/{digest}"),
    ("GET", "/files/{digest}"),
)


@schemathesis.serializer(limits.BATCHES)
def packed(context: object, value: object) -> bytes:
    """Give bytes on as they are or well packed, so that both packing and batches are tried."""
    data = getattr(value, "data", value)
    data = data if isinstance(data, bytes) else str(data).encode()
    return pack(data) if len(data) % 2 else data


class Served:
    """The description of a server, and the token of a phone paired with it."""

    def __init__(self, folder: Path) -> None:
        self.parts = bootstrap(folder)
        operation = self.parts.store.operations()[0].id
        desk = self.parts.desk
        self.token = desk.pair(desk.new_code(operation, "device"), "phone").token
        app = create_app(self.parts)
        self.schema = schemathesis.openapi.from_asgi(f"{API}/openapi.json", app)

    def cases(self, method: str, path: str) -> st.SearchStrategy[schemathesis.Case]:
        """Return questions for a route, that fit its description and that do not."""
        return self.schema[f"{API}{path}"][method].as_strategy()


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    made = Served(tmp_path_factory.mktemp("openapi"))
    yield made
    made.parts.close()


def bounded(long: bool) -> settings:
    return settings(
        max_examples=300 if long else 15,
        deadline=None,
        suppress_health_check=list(HealthCheck),
    )


def test_every_route_is_asked(served: Served):
    """None of the description is left out below."""
    described = {
        (method.upper(), path.removeprefix(API))
        for path, methods in served.schema.raw_schema["paths"].items()
        for method in methods
    }
    assert described == set(ROUTES)


@pytest.mark.parametrize(("method", "path"), ROUTES)
def test_no_question_of_a_paired_phone_breaks_the_server(
    served: Served, method: str, path: str, long: bool
):
    """No fault of the server's own, and no answer in a form that is not described."""
    token = {"Authorization": f"Bearer {served.token}"}

    @bounded(long)
    @given(served.cases(method, path))
    def ask(case: schemathesis.Case) -> None:
        case.call_and_validate(
            headers=token,
            checks=[not_a_server_error, schema_conformance, content_type_conformance],
        )

    ask()


@pytest.mark.parametrize(("method", "path"), [one for one in ROUTES if one[1] != "/pair"])
def test_no_stranger_is_answered(served: Served, method: str, path: str, long: bool):
    """Whatever is asked without a token: not paired, or a form that no route takes."""

    @bounded(long)
    @given(served.cases(method, path))
    def ask(case: schemathesis.Case) -> None:
        answer = case.call(headers={"Authorization": "Bearer guessed"})
        assert answer.status_code in (401, 415, 422), answer.status_code
        assert b"error" in answer.content

    ask()
