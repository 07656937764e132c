"""Which worker runs which tests, where pytest is given several (-n): what tests share is made by one of them, once."""

from __future__ import annotations

import re

from xdist.scheduler import LoadFileScheduling


class ByFile(LoadFileScheduling):
    """Files stay whole, in the order of collection; tests of an assembled blade go together, whichever file asks."""

    def _split_scope(self, nodeid: str) -> str:
        blade = re.match(r"\S*assembly/[^\[]*\[(\w+ \w+)", nodeid)
        return blade[1] if blade else super()._split_scope(nodeid)
