"""Frees what pages leave behind, at moments when no finger waits for it.

Kivy's widgets know each other in circles, which only the cyclic collector frees. Left to itself
it does so in the middle of a tap, for a tenth of a second after some ten pages.
"""

from __future__ import annotations

import gc

#: So many objects more than at the last time are worth it: half a page has more.
_WORTH = 1000
#: Every so many times what outlived several pages is looked through too.
_WHOLE = 8


class Tidying:
    """The collector of this process, run by hand while the program is in front."""

    def __init__(self) -> None:
        self._times = 0

    def begin(self) -> None:
        """Leave alone whatever is here now, and let nothing be collected but by `go_on`."""
        gc.freeze()
        gc.disable()

    def go_on(self) -> None:
        """Collect, if enough is left behind; call it often, when nobody touches anything."""
        if gc.get_count()[0] > _WORTH:
            self._times += 1
            gc.collect(1 if self._times % _WHOLE else 2)

    def end(self) -> None:
        """Let the collector run by itself again."""
        gc.unfreeze()
        gc.enable()
