"""What is asked at the bench before anything is opened, each on its own.

Not answered and *not known* are two things for the eye; a record has no more than the second.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

from fieldapp.words import Phrase, say

CHECKS: Final[dict[str, Phrase]] = {
    "draught": say("Outdoors, or in a strong draught"),
    "worn": say("Goggles, acid-proof gloves and dust mask on"),
    "vessels": say("Vessels and spoons that never see food again"),
    "for bees": say("Oxalic acid sold as a medicine for bees"),
}
#: Nobody said yet.
UNANSWERED: Final = ""
ANSWERS: Final[dict[str, Phrase]] = {
    UNANSWERED: say("not answered"),
    "yes": say("yes"),
    "no": say("no"),
    "not known": say("not known"),
}


def after(answer: str) -> str:
    """Return the answer that a tap on another leads to; after the last, none again."""
    answers = list(ANSWERS)
    return answers[(answers.index(answer) + 1) % len(answers)]


def written(answer: Callable[[str], str]) -> str:
    """Return the checks with their answers as a record has them; unanswered is *not known*."""
    return "; ".join(f"{check}: {answer(check) or 'not known'}" for check in CHECKS)
