"""What the server can be told to do, in words that a beekeeper can read."""

from __future__ import annotations

import socket
from collections.abc import Iterator
from contextlib import contextmanager, nullcontext
from datetime import UTC, datetime
from pathlib import Path
from typing import NamedTuple

import click

from fieldapp.wire import invitation
from syncserver.archive import read_archive, write_archive
from syncserver.bootstrap import Parts, bootstrap, new_operation
from syncserver.clock import Clock
from syncserver.errors import ServerError
from syncserver.folder import DataFolder, default_folder
from syncserver.lock import FolderLock
from syncserver.pairing.announcing import Announcing, machine_name
from syncserver.pairing.desk import page_code
from syncserver.pairing.terminal import reachable, show_page, show_pairing
from syncserver.serving import end_in_order, listen, run
from syncserver.store import Operation

PORT = 8463


class Told(NamedTuple):
    """What holds for every command: the folder, and by which clock."""

    data: Path
    clock: Clock


@click.group(invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(package_name="apiary-rounds")
@click.option(
    "--data",
    type=click.Path(file_okay=False, path_type=Path),
    default=default_folder,
    show_default="your own data folder",
    help="The folder in which the server keeps everything.",
)
@click.option(
    "--host",
    default="0.0.0.0",  # noqa: S104 - phones come from the network at home
    show_default="every network",
    help="The address to listen on.",
)
@click.option(
    "--port",
    type=click.IntRange(0, 65535),
    default=PORT,
    show_default=True,
    help="The port to listen on.",
)
@click.option(
    "--announce/--no-announce",
    default=True,
    show_default=True,
    help="Let phones in the same network find the server by themselves.",
)
@click.option(
    "--begin-at",
    type=click.DateTime(["%Y-%m-%dT%H:%M:%S%z"]),
    help="Live from this moment on in place of now, as the demo does: 2026-09-20T08:30:00+0100.",
)
@click.pass_context
def server(
    context: click.Context,
    data: Path,
    host: str,
    port: int,
    announce: bool,
    begin_at: datetime | None,
) -> None:
    """The home server of Apiary Rounds.

    Phones sync with it over your wifi at home, so that all of them hold the same records, and
    it shows in a browser what is due and which honey is closed. Started without a command it
    simply runs, and shows a code with which a phone is paired. Stop it with Ctrl-C.

    Phones work without it; they only wait with syncing until it is there again.
    """
    clock = Clock() if begin_at is None else Clock.begun_at(begin_at)
    context.obj = Told(data, clock)
    if context.invoked_subcommand is None:
        _serve(context.obj, host, port, announce)


def _serve(told: Told, host: str, port: int, announce: bool) -> None:
    end_in_order()
    folder = DataFolder(told.data).make()
    with FolderLock(folder), listen(host, port) as listener:
        parts = bootstrap(told.data, told.clock)
        try:
            bound = listener.getsockname()[1]
            address = f"{reachable(host)}:{bound}"
            operation = parts.store.operations()[0]
            code = parts.desk.new_code(operation.id, "device")
            click.echo(f"Apiary Rounds keeps its records in {folder.path}")
            for known in parts.store.operations():
                for words in parts.journals.of(known.id).found:
                    click.echo(f"{known.name}: {words}")
            click.echo(f"Listening on https://{address}")
            click.echo(show_pairing(code, parts.fingerprint, address))
            if parts.store.password(operation.id) is None:
                click.echo(show_page(parts.desk.new_code(operation.id, "page"), address))
            click.echo("Ready. Stop with Ctrl-C.")
            with _announced(listener, parts) if announce else nullcontext():
                run(parts, listener)
        finally:
            parts.close()


def _announced(listener: socket.socket, parts: Parts) -> Announcing:
    host, port = listener.getsockname()[:2]
    return Announcing(host, port, parts.fingerprint, machine_name(), click.echo)


@server.command("code")
@click.option("--browser", is_flag=True, help="A code to set the password of the pages.")
@click.option("--operation", "name", help="The operation to be opened; needed with several.")
@click.option("--qr", "address", metavar="ADDRESS", help="Show a QR too, for host:port.")
@click.pass_obj
def code_command(told: Told, browser: bool, name: str | None, address: str | None) -> None:
    """Show a new one-time code for a phone or a browser.

    It opens once, within 15 minutes. The server may be running.
    """
    with _existing(told) as parts:
        operation = _chosen(parts, name)
        secret = parts.desk.new_code(operation.id, "page" if browser else "device")
        if browser:
            click.echo(page_code(secret))
        elif address:
            click.echo(show_pairing(secret, parts.fingerprint, address))
        else:
            click.echo(invitation.code(secret, parts.fingerprint))


@server.command()
@click.pass_obj
def devices(told: Told) -> None:
    """List the paired phones, with the number by which one is revoked."""
    with _existing(told) as parts:
        names = {operation.id: operation.name for operation in parts.store.operations()}
        for device in parts.store.devices():
            state = f"revoked {_when(device.revoked)}" if device.revoked else _last(device.seen)
            click.echo(
                f"{device.id[:8]}  {device.name}, {names[device.operation]}, "
                f"paired {_when(device.paired)}, {state}"
            )
        if not parts.store.devices():
            click.echo("No phone is paired yet. Get a code with: apiary-rounds-server code")


@server.command()
@click.argument("number")
@click.pass_obj
def revoke(told: Told, number: str) -> None:
    """Take a phone's right to sync away.

    NUMBER is the one that `devices` lists. What the phone has synced stays; it keeps its own
    records and can be paired again.
    """
    with _existing(told) as parts:
        found = [one for one in parts.store.devices() if one.id.startswith(number.lower())]
        if len(found) != 1 or len(number) < 4:
            raise ServerError(f"{number} is not the number of one phone.", "See: devices")
        if not parts.store.revoke(found[0].id, told.clock.seconds()):
            raise ServerError(f"{found[0].name} was revoked before.")
        click.echo(f"{found[0].name} can sync no longer.")


@server.command()
@click.argument("name", required=False)
@click.pass_obj
def operations(told: Told, name: str | None) -> None:
    """List the operations, or begin one called NAME.

    An operation is the people and apiaries that belong together. Most homes need one; phones of
    one operation see nothing of another.
    """
    with _existing(told) as parts:
        if name:
            parts.store.add_operation(new_operation(name, told.clock))
        for operation in parts.store.operations():
            click.echo(f"{operation.name}, since {_when(operation.created)}")


@server.command()
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@click.pass_obj
def backup(told: Told, file: Path) -> None:
    """Save everything into one new FILE. The server may be running.

    The file holds the server's key: keep it where only you can read it.
    """
    with _existing(told) as parts:
        records = write_archive(parts, file)
        click.echo(f"{records} records are in {file}, read back and found whole.")


@server.command()
@click.argument("file", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.pass_obj
def restore(told: Told, file: Path) -> None:
    """Bring everything back from FILE into a data folder that is empty.

    What phones got since the backup comes back with their next sync.
    """
    folder = DataFolder(told.data).make()
    with FolderLock(folder):
        records = read_archive(file, folder)
    click.echo(f"{records} records were restored into {folder.path}.")


@contextmanager
def _existing(told: Told) -> Iterator[Parts]:
    """Hold the parts of a server that was started before."""
    if not DataFolder(told.data).store.exists():
        raise ServerError(
            f"There is no server in {told.data} yet.",
            "Start it once, or name its folder: apiary-rounds-server --data FOLDER …",
        )
    parts = bootstrap(told.data, told.clock)
    try:
        yield parts
    finally:
        parts.close()


def _chosen(parts: Parts, name: str | None) -> Operation:
    known = parts.store.operations()
    fitting = [one for one in known if name in (None, one.name)]
    if len(fitting) != 1:
        names = ", ".join(one.name for one in known)
        raise ServerError(
            f"There is no operation called {name}." if name else "There are several operations.",
            f"Choose with --operation one of: {names}",
        )
    return fitting[0]


def _when(seconds: int) -> str:
    return datetime.fromtimestamp(seconds, UTC).astimezone().strftime("%Y-%m-%d %H:%M")


def _last(seen: int | None) -> str:
    return f"last seen {_when(seen)}" if seen else "never synced"
