"""The pairing code: what it carries, how forgiving it is, what it gives away."""

from __future__ import annotations

import contextlib
import hashlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fieldapp.wire import invitation
from fieldapp.wire.invitation import BadInvitation

PRINT = hashlib.sha256(b"a certificate").hexdigest()
secrets = st.binary(min_size=5, max_size=5).map(invitation.secret_from)


@given(secrets, st.binary())
def test_a_code_carries_secret_and_certificate(secret: str, certificate: bytes):
    """What the server puts in, the phone reads out, and it fits that certificate alone."""
    found = invitation.read(invitation.code(secret, hashlib.sha256(certificate).hexdigest()))
    assert found.secret == secret
    assert found.fits(certificate)
    assert not found.fits(certificate + b"x")


def test_it_may_be_typed_as_people_type():
    """Lower case, spaces, and signs that look alike are set right."""
    typed = invitation.code(invitation.secret_from(bytes(5)), PRINT)
    clumsy = typed.replace("-", "  ").lower().replace("0", "o").replace("1", "l")
    assert invitation.read(clumsy) == invitation.read(typed)


@given(secrets, st.integers(0, 22), st.sampled_from(invitation.SYMBOLS))
def test_most_slips_of_the_finger_are_seen(secret: str, place: int, other: str):
    """A code with one wrong sign is refused, or is still one whose secret is at most wrong."""
    symbols = invitation.plain(invitation.code(secret, PRINT))
    slipped = symbols[:place] + other + symbols[place + 1 :]
    if slipped != symbols and invitation.with_check(slipped[:-1]) != slipped:
        with pytest.raises(BadInvitation):
            invitation.read(slipped)


def test_a_qr_carries_address_and_the_whole_fingerprint():
    """The phone needs nothing typed, and compares all 256 bits."""
    typed = invitation.code(invitation.secret_from(b"12345"), PRINT)
    found = invitation.read(invitation.link("192.168.1.20:8463", typed, PRINT))
    assert found.address == "192.168.1.20:8463"
    assert found.fingerprint == PRINT
    assert found.secret == invitation.secret_from(b"12345")


def test_a_qr_of_another_certificate_fits_nothing():
    """A whole fingerprint that does not go with the code's beginning is no match."""
    typed = invitation.code(invitation.secret_from(b"12345"), PRINT)
    other = hashlib.sha256(b"another").hexdigest()
    found = invitation.read(invitation.link("h:1", typed, other))
    assert not found.fits(b"a certificate")
    assert not found.fits(b"another")


@pytest.mark.parametrize(
    "text",
    ["", "hello", "ABCD-EFGH", "apiary-rounds://", "apiary-rounds://[x/ABCD", "0" * 25, "🐝" * 24],
)
def test_other_texts_are_no_codes(text: str):
    """Whatever is typed or scanned, nothing but `BadInvitation` comes of it."""
    with pytest.raises(BadInvitation):
        invitation.read(text)


@given(st.text(max_size=80))
def test_no_text_breaks_the_reader(text: str):
    """Any text is an invitation or `BadInvitation`."""
    for form in (text, f"apiary-rounds:{text}", f"apiary-rounds://{text}"):
        with contextlib.suppress(BadInvitation):
            invitation.read(form)
