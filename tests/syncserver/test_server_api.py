"""The routes: who may ask, how errors look, what a body may be. A real server answers."""

from __future__ import annotations

import json
import secrets
import time
from collections.abc import Iterator
from typing import Any

import pytest
import requests
from server_process import ServerProcess, running

from fieldapp.journal import chain
from fieldapp.journal.batches import Batch
from fieldapp.journal.chain import Vector
from fieldapp.sync.pinned import pinned_session
from fieldapp.wire import batches, invitation, limits
from fieldapp.wire.packing import pack
from syncserver.pairing.desk import Desk

EMPTY = Vector().hash().hex()
NOWHERE = {"writer": "0" * 32, "seq": 1, "digest": "0" * 64}
TYPE = {"Content-Type": limits.BATCHES}


def assert_error(answer: requests.Response, status: int, code: str) -> dict[str, str]:
    """Assert the one shape of an error, whichever route it came from, and return it."""
    assert answer.status_code == status, answer.text
    assert answer.headers["Content-Type"] == "application/json"
    assert set(answer.json()) == {"error"}
    error = answer.json()["error"]
    assert set(error) == {"code", "what", "do"}
    assert all(isinstance(words, str) for words in error.values())
    assert error["code"] == code
    assert error["what"]
    return error


class Caller:
    """Somebody who asks the server, with a token or without."""

    def __init__(self, server: ServerProcess, token: str = "", device: str = "") -> None:
        self.device = device
        self._root = f"https://{server.address}/api/1"
        self._session = pinned_session(server.fingerprint)
        if token:
            self._session.headers["Authorization"] = f"Bearer {token}"

    def get(self, path: str) -> requests.Response:
        return self._session.get(self._root + path, timeout=20)

    def post(self, path: str, question: Any = None, **how: Any) -> requests.Response:
        return self._session.post(self._root + path, json=question, timeout=20, **how)


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[ServerProcess]:
    with running(tmp_path_factory.mktemp("server")) as process:
        yield process


def paired(server: ServerProcess, operation: str) -> Caller:
    """Return a caller with the token of a phone that was paired just now."""
    with server.store() as store:
        desk = Desk(store, lambda: int(time.time()), secrets.token_bytes)
        known = next(one.id for one in store.operations() if one.name == operation)
        made = desk.pair(desk.new_code(known, "device"), "a phone")
    return Caller(server, made.token, made.device.id)


@pytest.fixture(scope="module")
def phone(server: ServerProcess) -> Caller:
    return paired(server, "Home")


POSTS = ["/status", "/offer", "/holds", "/digests", "/pull", "/push", "/files"]


@pytest.mark.parametrize("path", POSTS)
@pytest.mark.parametrize("token", ["", "x", "0" * 64])
def test_nobody_syncs_without_a_token(server: ServerProcess, path: str, token: str):
    """No token and a wrong one get the same answer, before the question is looked at."""
    error = assert_error(Caller(server, token).post(path, {"a": 1}), 401, "not_paired")
    assert "Pair it" in error["do"]


def test_the_token_goes_in_its_header_alone(server: ServerProcess):
    """A token in another scheme is none."""
    caller = Caller(server)
    answer = caller.post("/status", {"hash": EMPTY}, headers={"Authorization": "Basic eDp5"})
    assert_error(answer, 401, "not_paired")
    assert answer.headers["WWW-Authenticate"] == "Bearer"


def test_status_tells_what_is_held(phone: Caller):
    """An empty journal has the hash of an empty vector."""
    told = phone.post("/status", {"hash": EMPTY}).json()
    assert (told["hash"], told["records"], told["settled"]) == (EMPTY, 0, True)


@pytest.mark.parametrize(
    ("path", "question"),
    [
        ("/status", {}),
        ("/status", {"hash": "short"}),
        ("/status", {"hash": 5}),
        ("/status", []),
        ("/holds", {"places": [{**NOWHERE, "seq": -1}]}),
        ("/holds", {"places": [{**NOWHERE, "seq": 2**54}]}),
        ("/holds", {"places": [NOWHERE] * (limits.MANY + 1)}),
        ("/digests", {"head": NOWHERE, "seqs": ["one"]}),
        ("/pull", {"wants": [{"head": NOWHERE}]}),
    ],
)
def test_a_question_that_does_not_fit_is_named(phone: Caller, path: str, question: Any):
    """The answer says where it does not fit."""
    error = assert_error(phone.post(path, question), 422, "unfit")
    assert "body" in error["what"]


@pytest.mark.parametrize("body", [b"", b"{", b"\xff\xfe", b"[" * 100_000])
def test_a_question_that_is_no_json_is_refused(phone: Caller, body: bytes):
    """Whatever the bytes are, the answer has the one shape."""
    answer = phone.post("/status", data=body, headers={"Content-Type": "application/json"})
    assert answer.status_code in (400, 422)
    assert set(answer.json()["error"]) == {"code", "what", "do"}


@pytest.mark.parametrize("vector", ["", "AAAA", "not base 64", "A" * 76])
def test_a_vector_that_is_none_is_refused(phone: Caller, vector: str):
    """An empty one is a vector; others are whole heads or nothing."""
    answer = phone.post("/offer", {"vector": vector})
    if vector:
        assert_error(answer, 400, "malformed")
    else:
        assert answer.json() == {"vector": "", "lacks": []}


def test_records_travel_as_their_own_media_type(phone: Caller):
    """JSON sent to the push route is told what to send."""
    assert_error(phone.post("/push", {"records": []}), 415, "media_type")


@pytest.mark.parametrize(
    "body",
    [b"", b"no gzip", pack(b"no batch"), pack(bytes(92)), pack(bytes(92))[:-3], pack(b"") + b"x"],
)
def test_a_push_that_is_not_whole_is_refused(phone: Caller, body: bytes):
    """Nothing of it is taken in, and the answer says so."""
    error = assert_error(phone.post("/push", data=body, headers=TYPE), 400, "malformed")
    assert "nothing was taken in" in error["do"]


def test_a_bomb_is_refused_and_costs_no_memory(server: ServerProcess, phone: Caller):
    """A quarter of a gigabyte of zeros in 260 kB does not unpack."""
    before = server.memory_mb()
    answer = phone.post("/push", data=pack(bytes(1 << 28)), headers=TYPE)
    assert_error(answer, 400, "malformed")
    assert server.memory_mb() - before < 40


def test_a_body_over_its_bound_is_refused(phone: Caller):
    """By what it announces, and by what it sends where it announces nothing."""
    large = bytes(limits.BATCH_BYTES + 1)
    assert_error(phone.post("/push", data=large, headers=TYPE), 413, "too_large")
    piecemeal = (bytes(1 << 20) for _ in range(9))
    assert_error(phone.post("/push", data=piecemeal, headers=TYPE), 413, "too_large")


def test_an_unknown_route_has_the_one_shape(phone: Caller):
    """So has a known one asked in another way."""
    assert_error(phone.get("/nowhere"), 404, "not_found")
    assert_error(phone.get("/status"), 405, "method_not_allowed")


def test_the_protocol_is_described(phone: Caller):
    """OpenAPI names every route of the version."""
    described = phone.get("/openapi.json").json()["paths"]
    assert {f"/api/1{path}" for path in [*POSTS, "/files/{digest}", "/pair", "/operation"]} == set(
        described
    )


def test_another_operations_records_are_as_if_they_were_not(server: ServerProcess):
    """Questions about another operation's ids get the very bytes that made-up ids get."""
    owner = paired(server, server.new_operation())
    stranger = paired(server, server.new_operation())
    writer = bytes(range(16))
    raw = b"not understood, but kept"
    digest = chain.link(chain.start(writer), raw)
    batch = batches.encode([Batch(writer, 1, chain.start(writer), digest, (raw,))])
    pushed = owner.post("/push", data=pack(batch), headers=TYPE).json()
    assert pushed["receipts"] == [{"held": 1, "new": 1, "refused": None}]
    theirs = {"writer": writer.hex(), "seq": 1, "digest": digest.hex()}
    made_up = {"writer": "1" * 32, "seq": 1, "digest": "2" * 64}
    assert owner.post("/holds", {"places": [theirs]}).json() == {"holds": [True]}
    for path, about in (
        ("/holds", lambda place: {"places": [place]}),
        ("/digests", lambda place: {"head": place, "seqs": [0, 1]}),
    ):
        answers = [stranger.post(path, about(place)) for place in (theirs, made_up)]
        assert answers[0].content == answers[1].content, path
        assert answers[0].status_code == answers[1].status_code == 200
    offered = stranger.post("/offer", {"vector": ""}).json()
    assert offered == {"vector": "", "lacks": []}


def test_a_revoked_phone_is_told_so(server: ServerProcess):
    """Its token opens nothing any more, and it learns why."""
    caller = paired(server, server.new_operation())
    assert caller.post("/status", {"hash": EMPTY}).ok
    assert "can sync no longer" in server.command("revoke", caller.device)
    error = assert_error(caller.post("/status", {"hash": EMPTY}), 401, "revoked")
    assert "stay on it" in error["do"]


class TestPairing:
    """Pairing as the phone's request sees it."""

    @pytest.fixture
    def fresh(self, tmp_path) -> Iterator[ServerProcess]:
        with running(tmp_path / "fresh") as process:
            yield process

    def test_a_code_pairs_one_phone_and_guessing_is_slowed(self, fresh: ServerProcess):
        """Used, wrong, and after ten tries in a minute no try at all."""
        caller = Caller(fresh)
        secret = invitation.read(fresh.pairing_code).secret
        question = {"code": secret, "device": "phone"}
        answer = caller.post("/pair", question)
        assert set(answer.json()) == {"token", "device", "operation", "operation_name"}
        assert_error(caller.post("/pair", question), 403, "code_used")
        for _ in range(9):
            guess = {"code": "ZZZZZZZ", "device": "x"}
            assert_error(caller.post("/pair", guess), 403, "code_wrong")
        assert_error(caller.post("/pair", question), 429, "too_often")

    def test_what_is_stored_tells_no_token(self, fresh: ServerProcess):
        """Neither code nor token stands in the data folder."""
        secret = invitation.read(fresh.pairing_code).secret
        token = Caller(fresh).post("/pair", {"code": secret, "device": "p"}).json()["token"]
        stored = b"".join(path.read_bytes() for path in fresh.folder.rglob("*") if path.is_file())
        assert token.encode() not in stored
        assert bytes.fromhex(token) not in stored
        assert secret.encode() not in stored
        assert json.dumps(token).encode() not in stored
