"""Layers of a cutting file, one for each operation, and their colours."""

from __future__ import annotations

from collections.abc import Mapping

from geomgen.errors import DesignError, Fault

LAYERS = {"mark": "mark", "inside": "inside cut", "outside": "outside cut", "reference": "reference"}

# colour numbers as the DXF reference counts them; 7 is drawn black on white and white on black
NUMBERS = {
    "red": 1,
    "yellow": 2,
    "green": 3,
    "cyan": 4,
    "blue": 5,
    "magenta": 6,
    "black": 7,
    "grey": 8,
}


def layer_colours(colours: Mapping[str, str]) -> dict[str, int]:
    """Colour number of each operation's layer.

    colours : operation ("inside", "outside", "mark", "reference") -> colour name, each of them given
    returns : operation -> DXF colour number
    raises  : DesignError naming every colour that we have no number for
    """
    faults = [
        Fault(f"laser.colour.{operation}", name, "no such colour", allowed=f"one of {', '.join(NUMBERS)}")
        for operation in LAYERS
        if (name := colours[operation]) not in NUMBERS
    ]
    if faults:
        raise DesignError(faults)
    return {operation: NUMBERS[colours[operation]] for operation in LAYERS}
