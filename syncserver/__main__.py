"""The command line: ``apiary-rounds-server`` or ``python -m syncserver``."""

from __future__ import annotations

import sys
from collections.abc import Sequence

import click

from fieldapp.journal.errors import JournalError
from syncserver.commands import server
from syncserver.errors import ServerError


def main(arguments: Sequence[str] | None = None) -> None:
    """Run one command; an error of ours ends in words and status 1, never in a traceback."""
    try:
        server.main(args=arguments, prog_name="apiary-rounds-server", standalone_mode=False)
    except click.ClickException as wrong:
        wrong.show()
        sys.exit(wrong.exit_code)
    except (click.Abort, KeyboardInterrupt):
        sys.exit(130)
    except (ServerError, JournalError) as wrong:
        click.echo(str(wrong), err=True)
        sys.exit(1)


if __name__ == "__main__":
    main()
