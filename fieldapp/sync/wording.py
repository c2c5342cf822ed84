"""How a sync is told: while it runs, and how it ended."""

from __future__ import annotations

from fieldapp.journal import merging
from fieldapp.journal.errors import JournalError
from fieldapp.journal.oddities import REFUSED
from fieldapp.journal.refusals import Refusal
from fieldapp.journal.store import Journal
from fieldapp.sync.errors import SyncError, Unsettled
from fieldapp.sync.finding import Sought
from fieldapp.sync.outcome import Exchanged, Outcome, Progress
from fieldapp.wire.versions import Versions, newer
from fieldapp.words import Phrase, count, say


def working(sent: int, received: int, differ: int) -> Progress:
    """Return how far a sync is; `differ` is about how many records differed at its start."""
    phrase = say("{sent} sent, {received} received", sent=sent, received=received)
    return Progress(phrase, sent + received, max(differ, sent + received))


def working_on_files(done: int, total: int) -> Progress:
    """Return how far photos are, once the records are done."""
    return Progress(say("Photos: {done} of {total}", done=done, total=total), done, total)


def files_told(done: Exchanged) -> tuple[Phrase, ...]:
    """Return what came of photos; nothing where there was nothing to do."""
    told: list[Phrase] = []
    if done.sent or done.fetched:
        told.append(say("Photos: {sent} sent, {got} received.", sent=done.sent, got=done.fetched))
    if done.away:
        told.append(
            count(
                "{n} photo is neither here nor on the server. The phone that has it brings it.",
                "{n} photos are neither here nor on the server. The phone that has them brings "
                "them.",
                done.away,
            )
        )
    if done.spoiled:
        told.append(
            count(
                "{n} photo did not arrive as its record names it, and was not taken. Sync again.",
                "{n} photos did not arrive as their records name them, and were not taken. Sync "
                "again.",
                done.spoiled,
            )
        )
    return tuple(told)


def files_cut_off(wrong: SyncError | JournalError) -> tuple[Phrase, ...]:
    """Return why not all photos were exchanged."""
    return (
        say(
            "The records are done, the photos are not: {why} What arrived of them stays; the next "
            "sync goes on.",
            why=wrong.phrase,
        ),
    )


def looking() -> Progress:
    """Return what is said while the server is looked for at another address."""
    return Progress(say("Looking for the server in this network"), 0, 0)


def found_at(sought: Sought) -> tuple[Phrase, ...]:
    """Return that the server has a new address, and who only said to be it."""
    moved = say("The server was found at a new address: {address}.", address=sought.address)
    return (moved, *(_claimed(address) for address in sought.claimed))


def _claimed(address: str) -> Phrase:
    return say(
        "Another machine, at {address}, says that it is your server and shows another "
        "certificate. Nothing was sent to it.",
        address=address,
    )


def differing(ours: Versions | None, theirs: Versions | None) -> tuple[Phrase, ...]:
    """Return how the two sides compute otherwise than each other, and which to bring up to date.

    A server that does not tell is older than this way of telling, and nothing is said of it.
    """
    if ours is None or theirs is None:
        return ()
    return tuple(phrase for phrase in (_rules(ours, theirs), _libraries(ours, theirs)) if phrase)


def _rules(ours: Versions, theirs: Versions) -> Phrase | None:
    if ours.rules < theirs.rules:
        return say(
            "The server counts with newer rules ({theirs}) than this phone ({ours}), so their "
            "dates may differ. Update this phone.",
            theirs=theirs.rules,
            ours=ours.rules,
        )
    if ours.rules > theirs.rules:
        return say(
            "This phone counts with newer rules ({ours}) than the server ({theirs}), so their "
            "dates may differ. Update the server.",
            theirs=theirs.rules,
            ours=ours.rules,
        )
    return None


def _libraries(ours: Versions, theirs: Versions) -> Phrase | None:
    whose = newer(ours.library, theirs.library)
    if whose == "theirs":
        return say(
            "The server's treatment library ({theirs}) is newer than this phone's ({ours}). "
            "Update this phone; courses under way keep their terms.",
            theirs=theirs.library,
            ours=ours.library,
        )
    if whose == "ours":
        return say(
            "This phone's treatment library ({ours}) is newer than the server's ({theirs}). "
            "Update the server; courses under way keep their terms.",
            theirs=theirs.library,
            ours=ours.library,
        )
    if whose == "other":
        return say(
            "This phone's treatment library ({ours}) is another one than the server's ({theirs}). "
            "Bring both up to date; courses under way keep their terms.",
            theirs=theirs.library,
            ours=ours.library,
        )
    return None


def in_words(result: merging.Outcome, sent: int, received: int, ahead_ms: int | None) -> Outcome:
    """Return how a sync ended that ran to its end."""
    refused = (
        *(_refused(one, say("The server")) for one in result.refused_by_them),
        *(_refused(one, say("This phone")) for one in result.refused_by_us),
    )
    if result.equal:
        phrase: Phrase = count(
            "Both sides hold the same {n} record: {sent} sent, {received} received.",
            "Both sides hold the same {n} records: {sent} sent, {received} received.",
            result.records,
            sent=sent,
            received=received,
        )
        advice = _NEW_WRITER if result.new_writer else None
    else:
        unsettled = Unsettled()
        phrase, advice = unsettled.phrase, _REFUSED if refused else unsettled.advice
    return Outcome(result.equal, phrase, advice, sent, received, result.records, refused, ahead_ms)


def trouble(wrong: SyncError, sent: int, received: int, journal: Journal) -> Outcome:
    """Return how a sync ended that broke off on the way."""
    return Outcome(False, wrong.phrase, wrong.advice, sent, received, journal.count(), (), None)


def journal_trouble(wrong: JournalError, sent: int, received: int) -> Outcome:
    """Return how a sync ended that the phone's own disk stopped; its words tell what to do."""
    return Outcome(False, wrong.phrase, None, sent, received, 0, (), None)


_NEW_WRITER = say(
    "Another phone goes on with this one's records: it was copied or restored. "
    "From now on this one signs its records as a new phone; nothing is lost."
)
_REFUSED = say("What was refused stays where it is and in sight. Nothing else is held up by it.")


def _refused(refusal: Refusal, who: Phrase) -> Phrase:
    return say(
        "{who} did not take record {seq} of {writer}: {why}.",
        who=who,
        seq=refusal.seq,
        writer=refusal.writer.hex()[:8],
        why=REFUSED[refusal.why],
    )
