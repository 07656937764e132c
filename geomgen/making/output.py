"""Files on their way to an output folder, and pictures and drawings kept from one run to the next."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from geomgen.cache import Cache

DRAWING_CODE = (
    "cutting", "figures.py", "frames.py", "marking", "model", "paper", "plane", "printing", "render", "root", "stock",
    "views",
)  # fmt: skip


@dataclass
class Output:
    """Files on their way to the folder: name -> bytes, and what the manifest says of each."""

    files: dict[str, bytes] = field(default_factory=dict)
    about: dict[str, dict[str, Any]] = field(default_factory=dict)

    def add(self, name: str, data: bytes | str, **about: Any) -> None:
        """One more file."""
        self.files[name], self.about[name] = data.encode() if isinstance(data, str) else data, about


def kept(cache: Cache, content: tuple[Any, ...], draw: Callable[[], dict[str, bytes]]) -> dict[str, bytes]:
    """Files by their names, drawn once and then kept by what is in them."""
    key = cache.digest(content, code=DRAWING_CODE)
    if (there := cache.fetch(key)) is not None:
        return {name: data.tobytes() for name, data in there.items()}
    drawn = draw()
    cache.store(key, {name: np.frombuffer(data, np.uint8) for name, data in drawn.items()})
    return drawn
