"""What can go wrong on the way to the server, each with what to do. Nothing is lost by any."""

from __future__ import annotations

from fieldapp.words import Phrase, say
from fieldapp.words.speech import Speech


class SyncError(Exception):
    """Root of this package's errors: `phrase` is what was wrong, `advice` what to do."""

    def __init__(self, phrase: Phrase, advice: Phrase) -> None:
        speech = Speech()
        super().__init__(f"{speech(phrase)} {speech(advice)}")
        self.phrase = phrase
        self.advice = advice


class NotPaired(SyncError):
    """No server was paired yet."""

    def __init__(self) -> None:
        super().__init__(
            say("This phone is not paired with a home server."),
            say("Pair it: the server shows a code when it starts."),
        )


class BadCode(SyncError, ValueError):
    """What was typed or scanned is no pairing code."""

    def __init__(self) -> None:
        super().__init__(
            say("This is not a pairing code, or a sign of it was mistyped."),
            say("Compare it with the server's screen: six groups of four signs."),
        )


class NoAddress(SyncError, ValueError):
    """A typed code without the server's address."""

    def __init__(self) -> None:
        super().__init__(
            say("The server's address is missing or cannot be read."),
            say("Type it as the server shows it, for example 192.168.1.20:8463."),
        )


class NotThere(SyncError, ConnectionError):
    """Nothing answers at the address, or the way broke off."""

    def __init__(self, address: str) -> None:
        super().__init__(
            say("The home server at {address} does not answer.", address=address),
            say(
                "Is it running, and is this phone in the wifi at home? Nothing is lost: what was "
                "not sent is sent next time."
            ),
        )


class WrongServer(SyncError, ConnectionError):
    """The certificate is not the one that was pinned."""

    def __init__(self, address: str) -> None:
        super().__init__(
            say("What answers at {address} is not the server of this pairing.", address=address),
            say(
                "Nothing was sent to it. If the server got a new certificate, pair again with a "
                "new code from its screen; if not, another machine has taken its address."
            ),
        )


class Claimed(WrongServer):
    """Nothing but a machine that says it is the paired server and shows another certificate."""

    def __init__(self, address: str) -> None:
        SyncError.__init__(
            self,
            say(
                "What says in this network that it is your server, at {address}, is another "
                "machine: it shows another certificate.",
                address=address,
            ),
            say(
                "Nothing was sent to it. If the server got a new certificate, pair again with a "
                "new code from its screen; if not, look who is in your network."
            ),
        )


class NotFound(NotThere):
    """No server in the network fits the pairing code, and no address was given."""

    def __init__(self) -> None:
        SyncError.__init__(
            self,
            say("No server in this network fits the code."),
            say(
                "Is it running, and is this phone in the wifi at home? Some wifi keeps phones and "
                "servers apart: then type the address that the server shows."
            ),
        )


class Garbled(SyncError, ConnectionError):
    """An answer that is not one of this protocol."""

    def __init__(self, address: str) -> None:
        super().__init__(
            say("The answer of {address} did not arrive whole.", address=address),
            say("Sync again: it goes on where it was."),
        )


class Refused(SyncError, PermissionError):
    """The server said no. `code` is its own word for why; see ``docs/protocol.md``."""

    def __init__(self, code: str, what: str, do: str) -> None:
        known = _REFUSALS.get(code)
        if known:
            super().__init__(*known)
        else:
            super().__init__(say("The server says: {what}", what=what), say("{do}", do=do))
        self.code = code


_NEW_CODE = say("Get a new one: apiary-rounds-server code, or start the server again.")
_REFUSALS = {
    "code_wrong": (say("The server does not know this pairing code."), _NEW_CODE),
    "code_used": (say("This pairing code was used already; each opens once."), _NEW_CODE),
    "code_late": (
        say("This pairing code is too old, or wrong ones were tried too often."),
        _NEW_CODE,
    ),
    "too_often": (say("There were too many tries."), say("Wait a minute, then try again.")),
    "revoked": (
        say("On the server, this phone's right to sync was taken away."),
        say("Its records stay on it. If that was a mistake, pair it again with a new code."),
    ),
    "not_paired": (
        say("The server does not know this phone."),
        say("Its records stay on it. Pair it again with a new code."),
    ),
    "server_full": (
        say("The server's disk is full."),
        say("Make room on it, then sync again. Nothing is lost."),
    ),
}


class NotJoined(SyncError):
    """Two sides with records of their own wait for the keeper's word."""

    def __init__(self, name: str) -> None:
        super().__init__(
            say("This phone's records and those of {name} have not met before.", name=name),
            say(
                "Compare both lists of apiaries. If they belong together, join them: that "
                "cannot be undone. If not, unpair. Nothing was sent."
            ),
        )


class Unsettled(SyncError):
    """The rounds ended and both sides still differ."""

    def __init__(self) -> None:
        super().__init__(
            say("Both sides do not hold the same yet."),
            say("Another phone may be syncing. Sync again."),
        )


class Cancelled(SyncError):
    """The keeper stopped the sync."""

    def __init__(self) -> None:
        super().__init__(say("The sync was stopped."), say("Sync again: it goes on where it was."))
