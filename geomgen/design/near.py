"""Near misses, and the trade's other words."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from difflib import get_close_matches
from itertools import islice

from geomgen.design.synonyms import ours, plain

_MOST = 200  # names are compared; more are in no design that can be read


def near(name: str, names: Iterable[str], own: Callable[[str], str] = str) -> str:
    """'do you mean "root"?', for a misspelling or another word of the trade; "" where no name comes near.

    own : what a name is called where it is offered; as it is if left out
    """
    some = list(islice(names, _MOST))
    folded = {plain(known): known for known in some}
    word = plain(name[:80])
    same = [folded[word]] if word in folded else []
    found = same or list(ours(word, some)[:2]) or [folded[match] for match in get_close_matches(word, folded, 2, 0.65)]
    return f"do you mean {' or '.join(_quoted(each) for each in dict.fromkeys(map(own, found)))}?" if found else ""


def names_in(hint: str) -> tuple[str, ...]:
    """The names that a hint offers."""
    return tuple(re.findall(r'"([^"]*)"', hint))


def _quoted(name: str) -> str:
    return f'"{name}"'
