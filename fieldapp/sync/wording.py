"""How a sync is told: while it runs, and how it ended."""

from __future__ import annotations

from fieldapp.journal import merging
from fieldapp.journal.errors import JournalError
from fieldapp.journal.refusals import Refusal
from fieldapp.journal.store import Journal
from fieldapp.sync.errors import SyncError, Unsettled
from fieldapp.sync.outcome import Outcome, Progress
from fieldapp.words import Phrase, count, say

_WHY = {
    "too large": say("it is larger than a record may be"),
    "not one line": say("it is not one line of text"),
    "digest before": say("what should stand before it is missing"),
    "digest after": say("it did not arrive as it was sent"),
}


def working(sent: int, received: int, differ: int) -> Progress:
    """Return how far a sync is; `differ` is about how many records differed at its start."""
    phrase = say("{sent} sent, {received} received", sent=sent, received=received)
    return Progress(phrase, sent + received, max(differ, sent + received))


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
        why=_WHY[refusal.why],
    )
