"""Writes docs/records.md from the tables of record kinds; run it as it stands.

A test fails where the file and the tables differ.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from inspect import getclosurevars
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from fieldapp.journal.fields import Check, Field  # noqa: E402
from fieldapp.journal.kinds import KINDS  # noqa: E402
from fieldapp.words import Speech  # noqa: E402

OPENING = """\
# Records

<!-- Made by docs/make_records.py from fieldapp/journal/kinds. Do not edit by hand. -->

Every entry of the journal is one line of JSON of one of these kinds. A kind that once stood here
never changes: a new meaning is a new version beside the old one, because old journals must open
for ever.

The envelope around each body: `id` (UUIDv7), `kind`, `v` (the kind's version), `happened`
(RFC 9557, `2026-07-04T23:50:10+01:00[Europe/London]`; its first ten characters are the civil date
that rules count by), `stamp`, `writer`, `seq`, `keeper`, and where they are known `apiary`, `hive`,
`colony`. A correction has `corrects` (the root record), `heads` (the corrections that its author
saw) and `void`; an annex has `adds_to`.

A field marked *may* is left out where it is not known. Left out is *not known*; it is never zero.
"""

NOTHING_FITS = object()


def page() -> str:
    """Return the whole page."""
    parts = [OPENING]
    for (name, version), kind in sorted(KINDS.items()):
        parts.append(f"\n## {name} (version {version})\n\n{kind.means}\n")
        if kind.needs:
            parts.append(
                "\nNeeds in the envelope: " + ", ".join(f"`{n}`" for n in kind.needs) + "\n"
            )
        parts.append("\n| field | | what fits | what it means |\n| --- | --- | --- | --- |\n")
        parts += [row(f"`{field}`", entry) for field, entry in kind.body.items()]
    return "".join(parts)


def row(name: str, field: Field) -> str:
    """Return one field's line of the table."""
    need = "must" if field.required else "may"
    return f"| {name} | {need} | {fits(field.check)} | {field.means} |\n"


def fits(check: Check) -> str:
    """Return what fits a check in words, with the fields of objects inside."""
    unfit = check(NOTHING_FITS)
    words = Speech()(unfit.expected) if unfit else "anything"
    inside = ", ".join(sorted(set(names_inside(check))))
    return f"{words} ({inside})" if inside else words


def names_inside(check: Check) -> Iterator[str]:
    """Yield the names of the fields of an object, or of the objects of a list."""
    held: dict[str, Any] = dict(getclosurevars(check).nonlocals)
    if "checks" in held:
        yield from (f"`{name}`" for name in held["checks"])
    elif "check" in held:
        yield from names_inside(held["check"])


if __name__ == "__main__":
    (ROOT / "docs" / "records.md").write_text(page(), encoding="utf-8")
