"""HTTPS to exactly one server: the one whose certificate has the pinned SHA-256.

Names, authorities and dates in the certificate do not matter, so a phone with a wrong clock
still syncs; only the whole certificate's digest decides.
"""

from __future__ import annotations

import hashlib
import socket
import ssl
from typing import Any

import requests
from requests.adapters import HTTPAdapter

from fieldapp.sync.errors import NoAddress, NotThere

CONNECT_SECONDS = 5.0
ANSWER_SECONDS = 60.0


class PinAdapter(HTTPAdapter):
    """Speaks only to the server with this certificate; before anything is sent to it."""

    def __init__(self, fingerprint: str) -> None:
        self._fingerprint = fingerprint
        super().__init__(pool_connections=1, pool_maxsize=2, max_retries=0)

    def init_poolmanager(self, *args: Any, **kwargs: Any) -> None:
        """Make connections that compare the fingerprint instead of asking an authority."""
        super().init_poolmanager(
            *args,
            **kwargs,
            assert_fingerprint=self._fingerprint,
            assert_hostname=False,
            ssl_context=_context(),
        )

    def send(self, request: requests.PreparedRequest, *args: Any, **kwargs: Any) -> Any:
        """Send one request; the fingerprint decides, whatever `verify` says."""
        kwargs["verify"] = False
        return super().send(request, *args, **kwargs)


def pinned_session(fingerprint: str) -> requests.Session:
    """Return a session that can reach no server but the pinned one, and no proxy."""
    session = requests.Session()
    session.trust_env = False
    session.adapters.clear()
    session.mount("https://", PinAdapter(fingerprint))
    return session


def certificate_at(address: str, seconds: float = CONNECT_SECONDS) -> bytes:
    """Return the certificate (DER) that is shown at ``host:port``; nothing is told to it."""
    host, port = host_and_port(address)
    try:
        with (
            socket.create_connection((host, port), seconds) as plain,
            _context().wrap_socket(plain, server_hostname=host) as secure,
        ):
            certificate = secure.getpeercert(binary_form=True)
    except (OSError, ValueError) as wrong:
        raise NotThere(address) from wrong
    if certificate is None:
        raise NotThere(address)
    return certificate


def fingerprint_of(certificate: bytes) -> str:
    """Return the SHA-256 of a certificate (DER) as 64 hex digits."""
    return hashlib.sha256(certificate).hexdigest()


def host_and_port(address: str) -> tuple[str, int]:
    """Return host and port of ``host:port`` or ``[IPv6]:port``; raise `NoAddress`."""
    host, colon, port = address.strip().removeprefix("https://").rstrip("/").rpartition(":")
    if not colon or not host or not port.isdecimal() or not 0 < int(port) < 65536:
        raise NoAddress
    return host.strip("[]"), int(port)


def _context() -> ssl.SSLContext:
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    context.check_hostname = False
    context.verify_mode = ssl.CERT_NONE
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    return context
