"""The command line as a beekeeper meets it: help, codes, phones, backup, restore, troubles."""

from __future__ import annotations

import hashlib
import re
import socket
import ssl
import subprocess
import sys
import zipfile
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.x509.oid import ExtendedKeyUsageOID
from phone_process import phone
from server_process import ENVIRONMENT, DidNotStart, ServerProcess, run_command, running

COMMANDS = ["backup", "code", "devices", "operations", "restore", "revoke"]


def test_help_tells_a_beekeeper_what_it_is_for(tmp_path: Path):
    """It opens with the purpose and names every command with what it does."""
    told = run_command(tmp_path, "--help").stdout
    assert "Phones sync with it over your wifi at home" in told
    assert "Stop it with Ctrl-C" in told
    assert re.findall(r"^  (\w+)  +\w", told.partition("Commands:")[2], re.MULTILINE) == COMMANDS


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_has_help(tmp_path: Path, command: str):
    """And asking for it makes no server."""
    told = run_command(tmp_path / "none", command, "--help")
    assert told.returncode == 0
    assert len(told.stdout.splitlines()) > 4
    assert not (tmp_path / "none").exists()


@pytest.mark.parametrize("arguments", [["code"], ["devices"], ["revoke", "abcd"], ["operations"]])
def test_without_a_server_a_command_says_how_to_begin(tmp_path: Path, arguments: list[str]):
    """No traceback, status 1, and nothing is made."""
    told = run_command(tmp_path / "none", *arguments)
    assert told.returncode == 1
    assert "There is no server in" in told.stderr
    assert "Traceback" not in told.stderr
    assert not (tmp_path / "none").exists()


def test_a_first_start_shows_all_that_is_needed(tmp_path: Path):
    """Where it listens, the pairing code as text and QR, the page code, and how to stop."""
    with running(tmp_path / "server") as server:
        assert re.search(r"Listening on https://127\.0\.0\.1:\d+", server.said)
        assert re.fullmatch(r"(\w{4}-){5}\w{4}", server.pairing_code)
        assert re.fullmatch(r"\w{4}-\w{4}", server.page_code)
        assert server.said.count("█") > 200
        assert server.stop() == 0


def test_the_data_folder_is_for_its_user_alone(tmp_path: Path):
    """Key and store can be read by nobody else, nor can the folder be listed."""
    with running(tmp_path / "server") as server:
        modes = {path.name: path.stat().st_mode & 0o777 for path in server.folder.iterdir()}
        assert modes["key.pem"] == 0o600
        assert modes["server.sqlite"] == 0o600
        assert server.folder.stat().st_mode & 0o777 == 0o700


def test_the_certificate_is_a_servers_own(tmp_path: Path):
    """No authority; the constraints, usages and key identifier that browsers look for."""
    with running(tmp_path / "server") as server:
        certificate = x509.load_pem_x509_certificate(
            (server.folder / "certificate.pem").read_bytes()
        )
    extensions = certificate.extensions
    assert not extensions.get_extension_for_class(x509.BasicConstraints).value.ca
    assert extensions.get_extension_for_class(x509.BasicConstraints).critical
    usage = extensions.get_extension_for_class(x509.KeyUsage)
    assert usage.critical
    assert usage.value.digital_signature
    assert not usage.value.key_cert_sign
    wide = extensions.get_extension_for_class(x509.ExtendedKeyUsage).value
    assert list(wide) == [ExtendedKeyUsageOID.SERVER_AUTH]
    own = x509.SubjectKeyIdentifier.from_public_key(certificate.public_key())
    assert extensions.get_extension_for_class(x509.SubjectKeyIdentifier).value == own
    assert certificate.not_valid_after_utc > datetime.now(UTC) + timedelta(days=20 * 365)


def test_a_restart_keeps_certificate_and_phones(tmp_path: Path):
    """The pin holds, so a paired phone syncs on."""
    with phone(tmp_path / "phone") as keeper:
        with running(tmp_path / "server") as server:
            keeper.do("pair", code=server.pairing_code, address=server.address)
            fingerprint, port = server.fingerprint, server.port
        with running(tmp_path / "server", port) as server:
            assert server.fingerprint == fingerprint
            keeper.do("log", count=2)
            assert keeper.do("sync")["ok"]


def test_the_handshake_shows_the_pinned_certificate(tmp_path: Path):
    """TLS 1.2 at least, and the SHA-256 is that of the file."""
    with running(tmp_path / "server") as server:
        context = ssl._create_unverified_context()
        with (
            socket.create_connection(("127.0.0.1", server.port)) as plain,
            context.wrap_socket(plain) as secure,
        ):
            shown = secure.getpeercert(binary_form=True)
            assert secure.version() in ("TLSv1.2", "TLSv1.3")
        assert hashlib.sha256(shown).hexdigest() == server.fingerprint


def test_phones_are_listed_and_revoked_by_number(tmp_path: Path):
    """The list names the number that `revoke` takes; a wrong one names the list."""
    with running(tmp_path / "server") as server, phone(tmp_path / "helper") as helper:
        helper.do("pair", code=server.pairing_code, address=server.address)
        number, _, rest = server.command("devices").partition("  ")
        assert rest.startswith("helper, Home, paired ")
        assert "not the number of one phone" in run_command(server.folder, "revoke", "zzzz").stderr
        assert "can sync no longer" in server.command("revoke", number)
        assert "revoked before" in run_command(server.folder, "revoke", number).stderr
        assert "right to sync was taken away" in helper.do("sync")["words"]


def test_operations_are_begun_and_chosen(tmp_path: Path):
    """With several, a code must say for which; a name is taken once."""
    with running(tmp_path / "server") as server:
        assert "Hill, since" in server.command("operations", "Hill")
        assert "already" in run_command(server.folder, "operations", "Hill").stderr
        told = run_command(server.folder, "code").stderr
        assert "There are several operations" in told
        assert "Home, Hill" in told
        assert re.fullmatch(r"(\w{4}-){5}\w{4}", server.command("code", "--operation", "Hill"))


def test_a_second_server_on_one_folder_is_refused(tmp_path: Path):
    """It says why and leaves the first one alone."""
    with running(tmp_path / "server") as server:
        with pytest.raises(DidNotStart, match="A server is running on the data folder"):
            ServerProcess(server.folder)
        assert server.command("devices").startswith("No phone is paired")


def test_a_port_that_is_taken_is_named(tmp_path: Path):
    """With what to do; so is a folder that cannot be made."""
    with socket.create_server(("127.0.0.1", 0)) as taken:
        port = taken.getsockname()[1]
        with pytest.raises(DidNotStart, match=rf"listen on 127\.0\.0\.1, port {port}.*--port"):
            ServerProcess(tmp_path / "server", port)
    (tmp_path / "file").write_text("")
    with pytest.raises(DidNotStart, match=r"cannot be made.*--data"):
        ServerProcess(tmp_path / "file" / "folder")


def test_a_backup_brings_everything_back(tmp_path: Path):
    """Records, phones and certificate: the phone goes on without pairing, and brings the rest."""
    file = tmp_path / "saved.zip"
    with phone(tmp_path / "phone") as keeper:
        with running(tmp_path / "server") as server:
            keeper.do("pair", code=server.pairing_code, address=server.address)
            keeper.do("log", count=30)
            keeper.do("sync")
            assert "30 records are in" in server.command("backup", str(file))
            assert file.stat().st_mode & 0o777 == 0o600
            keeper.do("log", count=5)
            keeper.do("sync")
            port = server.port
        restored = run_command(tmp_path / "new", "restore", str(file))
        assert "30 records were restored" in restored.stdout, restored.stderr
        with running(tmp_path / "new", port):
            told = keeper.do("sync")
            assert told["ok"], told
            assert (told["sent"], told["records"]) == (5, 35)


def test_a_restore_never_writes_over_a_server(tmp_path: Path):
    """Neither over a running one nor over one that stands still."""
    file = tmp_path / "saved.zip"
    with running(tmp_path / "server") as server:
        server.command("backup", str(file))
        assert "A server is running" in run_command(server.folder, "restore", str(file)).stderr
    told = run_command(tmp_path / "server", "restore", str(file))
    assert told.returncode == 1
    assert "There is a server in" in told.stderr


@pytest.mark.parametrize("harm", ["cut", "flip", "other", "text"])
def test_a_damaged_backup_is_told_and_makes_no_server(tmp_path: Path, harm: str):
    """Cut short, a bit flipped, another program's archive, no archive at all."""
    file = tmp_path / "saved.zip"
    with running(tmp_path / "server") as server:
        server.command("backup", str(file))
    whole = bytearray(file.read_bytes())
    if harm == "cut":
        file.write_bytes(whole[: len(whole) // 2])
    elif harm == "flip":
        whole[whole.index(b"SQLite format 3") + 200] ^= 1
        file.write_bytes(whole)
    elif harm == "other":
        with zipfile.ZipFile(file, "w") as archive:
            archive.writestr("hello.txt", "hello")
    else:
        file.write_text("hello")
    told = run_command(tmp_path / "new", "restore", str(file))
    assert told.returncode == 1
    assert "Traceback" not in told.stderr
    assert "Use another backup" in told.stderr
    assert not (tmp_path / "new" / "server.sqlite").exists()


def test_half_a_key_pair_is_told(tmp_path: Path):
    """A key that does not belong to the certificate is no reason to make new ones."""
    with running(tmp_path / "one") as one, running(tmp_path / "two") as two:
        kept = two.folder / "key.pem"
        stranger = (one.folder / "key.pem").read_bytes()
    kept.write_bytes(stranger)
    told = run_command(tmp_path / "two", "code")
    assert told.returncode == 1
    assert "do not belong together" in told.stderr
    assert kept.read_bytes() == stranger


def test_it_runs_optimised(tmp_path: Path):
    """Without assertions and docstrings it is the same server."""
    told = subprocess.run(
        [sys.executable, "-OO", "-m", "syncserver", "--data", str(tmp_path / "s"), "devices"],
        capture_output=True,
        text=True,
        env=ENVIRONMENT,
        check=False,
    )
    assert "There is no server in" in told.stderr
