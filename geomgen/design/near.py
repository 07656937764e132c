"""Near misses."""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches
from itertools import islice


def near(name: str, names: Iterable[str]) -> str:
    """'do you mean "root"?', or "" where no name comes near."""
    folded = {known.casefold(): known for known in islice(names, 200)}
    found = [f'"{folded[match]}"' for match in get_close_matches(name.casefold()[:80], folded, n=2, cutoff=0.65)]
    return f"do you mean {' or '.join(found)}?" if found else ""
