"""The phone's half of syncing: pairs with the home server, sends and fetches records.

Importing this package is cheap; `requests` is imported when a server is first spoken to.
"""

from fieldapp.sync.errors import SyncError
from fieldapp.sync.outcome import Meeting, Outcome, Pairing, Progress
from fieldapp.sync.sync import Sync

__all__ = ["Meeting", "Outcome", "Pairing", "Progress", "Sync", "SyncError"]
