"""What stands where a value could not be read, so that the rest can still be judged."""

from __future__ import annotations

from typing import Any, NoReturn


class GapReached(Exception):
    """A rule has met a value that could not be read: it has nothing to say."""


class Gap:
    """Stands for a value that could not be read; any use of it raises `GapReached`."""

    def _reached(self, *_: Any) -> NoReturn:
        raise GapReached

    def __getattr__(self, name: str) -> NoReturn:
        if name.startswith("__"):
            raise AttributeError(name)
        raise GapReached

    __lt__ = __le__ = __gt__ = __ge__ = __eq__ = __ne__ = _reached
    __add__ = __radd__ = __sub__ = __rsub__ = __mul__ = __rmul__ = __truediv__ = __rtruediv__ = _reached
    __floordiv__ = __rfloordiv__ = __mod__ = __rmod__ = __pow__ = __rpow__ = __round__ = _reached
    __neg__ = __abs__ = __float__ = __int__ = __index__ = __bool__ = _reached
    __iter__ = __len__ = __getitem__ = __contains__ = _reached
    __hash__ = __str__ = __format__ = _reached

    def __repr__(self) -> str:
        return "GAP"


GAP = Gap()
