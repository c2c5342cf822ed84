"""Why an application was otherwise than its label has it: asked in the summary, kept beside it.

The reason is an annex: the record that was made at the hive stays as it is.
"""

from __future__ import annotations

from collections.abc import Iterable

from fieldapp.husbandry.progress import flag_words
from fieldapp.husbandry.state import Flag
from fieldapp.husbandry.vocabulary import WHY_OTHERWISE
from fieldapp.rounds.notebook import Notebook
from fieldapp.rounds.one_record import entry_of, note_on
from fieldapp.words import Phrase, say

_FLAGS = (
    *(Flag(word, n=1) for word in ("early", "late", "over label", "over limit", "too soon")),
    *(Flag(word) for word in ("too soon", "other days", "part dose")),
)
#: What a hive got was put right in the round.
OTHER_AMOUNT = say("another amount than planned")
#: Remarks, by their text, of which the keeper is asked why.
ASKED = frozenset({OTHER_AMOUNT.text, *(flag_words(flag).text for flag in _FLAGS)})


def why_of(notebook: Notebook, root: str) -> Phrase | None:
    """Return why an application was otherwise, as said last; None where nobody said."""
    notes = [
        str(each.body["words"])
        for each in entry_of(notebook, root).annexes
        if each.kind == "note" and each.body["words"] in WHY_OTHERWISE
    ]
    return WHY_OTHERWISE[notes[-1]] if notes else None


def say_why(notebook: Notebook, given: Iterable[str], why: str) -> None:
    """Put a reason beside applications (root ids), in one transaction."""
    drafts = [note_on(notebook, entry_of(notebook, root), why) for root in given]
    notebook.write(drafts)
