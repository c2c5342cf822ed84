"""Stamps: a hybrid logical clock (Kulkarni et al., *Logical Physical Clocks*, 2014).

A stamp is 16 lowercase hex digits: 12 of milliseconds since 1970 and 4 of a counter that
carries into them. It only breaks ties, so a clock that is wrong blocks nothing.
"""

from __future__ import annotations

import re

#: Below every stamp.
NONE = "0" * 16
#: Above it no stamp is understood.
HIGHEST = "e" + "f" * 15

FORM = re.compile(r"[0-9a-e][0-9a-f]{15}")


def understood(text: object) -> bool:
    """Return whether `text` is a stamp. One that begins with ``f`` is not."""
    return type(text) is str and FORM.fullmatch(text) is not None


def following(last: str, now_ms: int) -> str:
    """Return the stamp to write next: above `last`, and at least the time now.

    At the highest stamp of all (a date in the year 10331, so a broken clock somewhere) it
    stays there: ties are broken by id then, and logging goes on.
    """
    wanted = max(now_ms << 16, int(last, 16) + 1)
    return min(f"{wanted:016x}", HIGHEST) if wanted >> 64 == 0 else HIGHEST
