"""The server's own certificate, made at the first start and pinned by every phone.

No authority signs it and no name in it is relied on: a phone compares the SHA-256 of the whole
certificate with the one it was paired by. It is valid for 30 years, because a pin would not
survive a renewal.
"""

from __future__ import annotations

import hashlib
import os
from datetime import UTC, datetime, timedelta
from pathlib import Path

from cryptography import x509
from cryptography.hazmat.primitives import hashes, serialization
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from syncserver.errors import ServerError
from syncserver.folder import DataFolder

_YEARS = 30


def own_certificate(folder: DataFolder, now: datetime) -> str:
    """Return the SHA-256 (64 hex digits) of the server's certificate; make it at first start."""
    if not folder.certificate.exists() and not folder.key.exists():
        _make(folder, now)
    try:
        certificate = x509.load_pem_x509_certificate(folder.certificate.read_bytes())
        key = serialization.load_pem_private_key(folder.key.read_bytes(), password=None)
    except (OSError, ValueError) as wrong:
        raise ServerError(
            f"The server's certificate in {folder.path} cannot be read: {wrong}.",
            "Bring certificate.pem and key.pem back from a backup. With new ones, which are made "
            "when both files are taken away, every phone must be paired again.",
        ) from wrong
    if certificate.public_key() != key.public_key():
        raise ServerError(
            f"certificate.pem and key.pem in {folder.path} do not belong together.",
            "Bring both back from the same backup.",
        )
    return hashlib.sha256(certificate.public_bytes(serialization.Encoding.DER)).hexdigest()


def _make(folder: DataFolder, now: datetime) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    name = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, "Apiary Rounds home server")])
    usage = x509.KeyUsage(
        digital_signature=True,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        key_cert_sign=False,
        crl_sign=False,
        encipher_only=False,
        decipher_only=False,
    )
    certificate = (
        x509.CertificateBuilder()
        .subject_name(name)
        .issuer_name(name)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(now - timedelta(days=2))
        .not_valid_after(now + timedelta(days=365 * _YEARS))
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(usage, critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
        .add_extension(x509.SubjectAlternativeName([x509.DNSName("localhost")]), critical=False)
        .sign(key, hashes.SHA256())
    )
    pem = key.private_bytes(
        serialization.Encoding.PEM,
        serialization.PrivateFormat.PKCS8,
        serialization.NoEncryption(),
    )
    _write(folder.key, pem, 0o600)
    _write(folder.certificate, certificate.public_bytes(serialization.Encoding.PEM), 0o644)


def now_utc() -> datetime:
    """Return the present time; the one place where the certificate's dates come from."""
    return datetime.now(UTC)


def _write(path: Path, data: bytes, mode: int) -> None:
    """Write a whole file that is on disk, with its final rights from its first byte on."""
    draft = path.with_suffix(".new")
    draft.unlink(missing_ok=True)
    with os.fdopen(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode), "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())
    draft.replace(path)
