"""Tables of several kinds: which model reads a table is told by its `kind`."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

TAG = "kind "  # begins the mark that pydantic puts into the place of a fault, to tell it from a key


def told_by_kind(default: str | None = None) -> Callable[[Any], str | None]:
    """Reads a table's mark from its `kind`.

    default : the kind of a table that names none; None where it must name one
    """

    def mark(value: Any) -> str | None:
        kind = value.get("kind", default) if isinstance(value, dict) else getattr(value, "kind", None)
        return f"{TAG}{kind}" if isinstance(kind, str) else None

    return mark
