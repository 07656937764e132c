"""geomgen: one design file in; rib outlines, pitch caps, a printable hub and a mass statement out.

    file = geomgen.read("mine.toml")
    craft = geomgen.craft_of(geomgen.vary(file, {"rotor.radius": "900 mm"}))
    craft.mass.blade.mass_g.typical

Each name below is imported when it is first used: importing geomgen loads nothing heavy.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from geomgen.api import compare, craft_of, read, vary
    from geomgen.errors import DesignError, Fault, GeomgenError, MakeError

__version__ = "0.1.0"
__all__ = ["DesignError", "Fault", "GeomgenError", "MakeError", "__version__", "compare", "craft_of", "read", "vary"]
_ERRORS = ("DesignError", "Fault", "GeomgenError", "MakeError")


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module("geomgen.errors" if name in _ERRORS else "geomgen.api"), name)


def __dir__() -> list[str]:
    return __all__
