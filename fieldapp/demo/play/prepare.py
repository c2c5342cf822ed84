"""Sets the scene: the season on two phones, and a server that the others have synced with."""

from __future__ import annotations

from pathlib import Path

from fieldapp import bootstrap
from fieldapp.demo.phones import JOURNAL, write_phones
from fieldapp.demo.play.errors import NotSynced
from fieldapp.demo.play.server import HomeServer
from fieldapp.demo.season import KEEPERS_PHONE, Season
from fieldapp.journal.ids import Entropy
from fieldapp.journal.store import Journal
from fieldapp.rounds.clock import Clock
from fieldapp.rounds.local import Local
from fieldapp.sync import Outcome, Sync, SyncError
from fieldapp.words.speech import Speech


def phones(season: Season, folder: Path) -> dict[str, Path]:
    """Write every phone of a season and return the folder of each.

    The keeper's phone knows whose it is, as after its first start.
    """
    folders = {name: path.parent for name, path in write_phones(season, folder).items()}
    keeper = next(entry.draft.keeper for entry in season.entries if entry.phone == KEEPERS_PHONE)
    local = Local.open(folders[KEEPERS_PHONE] / bootstrap.LOCAL)
    local.put("keeper", keeper)
    local.close()
    return folders


def comes_home(
    folder: Path, name: str, server: HomeServer, code: str, clock: Clock, entropy: Entropy
) -> Outcome:
    """Pair the phone in `folder` by `code` and sync it, as its app would; return the outcome.

    :raises NotSynced: where it did not come to hold the same as the server.
    """
    journal = Journal.open(folder / JOURNAL, now_ms=lambda: clock.now_us() // 1000, entropy=entropy)
    with journal:
        sync = Sync(folder, journal, name)
        try:
            sync.pair(code, server.address)
        except SyncError as error:
            raise NotSynced(f"{name}: {error}") from error
        outcome = sync.run(lambda _progress: None)
    if not outcome.ok:
        raise NotSynced(f"{name}: {Speech()(outcome.phrase)}")
    return outcome
