"""The one door to CadQuery: imported late, because it takes seconds, and with a clear word where it won't load."""

from __future__ import annotations

import importlib
from typing import Any

from geomgen.errors import Fault, MakeError


def kernel() -> Any:
    """The module `cadquery`.

    raises : MakeError where it, or a library of the system that it needs, is missing
    """
    try:
        return importlib.import_module("cadquery")
    except ImportError as error:
        if _interrupted(error):
            raise KeyboardInterrupt from error
        if "libGL" in str(error):
            wrong = "CadQuery, which builds the printed parts, doesn't find the system's libGL"
            remedy = "install it (Debian, Ubuntu: apt install libgl1)"
        else:
            wrong, remedy = f"CadQuery, which builds the printed parts, won't load: {error}", "install geomgen anew"
        raise MakeError(Fault("", "", wrong, remedy=remedy)) from error


def _interrupted(error: BaseException | None) -> bool:
    """Whether somebody pressed Ctrl-C while it was loading, which its libraries pass on as failed imports."""
    seen = set()
    while error is not None and id(error) not in seen:
        if isinstance(error, KeyboardInterrupt):
            return True
        seen.add(id(error))
        error = error.__cause__ or error.__context__
    return False
