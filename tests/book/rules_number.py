"""Says what the rules are now, so that nobody changes them and leaves their number as it was.

python tests/book/rules_number.py        keep what they are now, beside their number

A phone and a server tell each other that number, and keep states and first pages by it.
"""

from __future__ import annotations

import hashlib
from pathlib import Path

from fieldapp.book.file import RULES

KEPT = Path(__file__).with_suffix(".txt")
_ROOT = Path(__file__).parents[2] / "fieldapp"


def now() -> str:
    """Return the number of the rules, and the SHA-256 of their code."""
    told = hashlib.sha256()
    for folder in ("husbandry", "book"):
        for path in sorted((_ROOT / folder).rglob("*.py")):
            told.update(path.read_bytes())
    return f"{RULES} {told.hexdigest()}\n"


if __name__ == "__main__":
    KEPT.write_text(now(), encoding="utf-8")
