"""What a run changed in the output folder, in words."""

from __future__ import annotations

import textwrap

from geomgen.folder import Changes

_WIDTH = 100
_WHY = {"edited": "was edited since the last run", "found": "was not made here"}


def changes_table(changes: Changes) -> str:
    """One line for each kind of change that there is, parts named; unchanged parts only counted.

    returns : lines without a newline at the end
    """
    named = {"new": changes.new, "changed": changes.changed, "gone": changes.gone}
    lines = [_line(what, ", ".join(parts)) for what, parts in named.items() if parts]
    if changes.same:
        lines.append(_line("same", f"{len(changes.same)} others" if lines else f"all {len(changes.same)}"))
    lines += [_line("kept", f"{kept.was} {_WHY[kept.why]}: it is now {kept.now}") for kept in changes.kept]
    return "\n".join(lines)


def _line(what: str, told: str) -> str:
    head, indent = f"{what:<9}", " " * 9
    wrap = textwrap.TextWrapper(_WIDTH, head, indent, break_long_words=False, break_on_hyphens=False)
    return wrap.fill(told)
