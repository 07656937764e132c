"""Rules between the values of a design. Each speaks over whatever could be read, and is silent about the rest."""

from __future__ import annotations

from geomgen.design.rules.along import along
from geomgen.design.rules.balance import balance
from geomgen.design.rules.blade import runs, spars
from geomgen.design.rules.construction import construction
from geomgen.design.rules.drive import drive
from geomgen.design.rules.fittings import fittings, glue
from geomgen.design.rules.hub import hub
from geomgen.design.rules.names import names
from geomgen.design.rules.pitch import pitch
from geomgen.design.rules.rotor import duty, rotor
from geomgen.design.rules.stocks import kerfs, materials, shop, stocks, used
from geomgen.design.rules.strength import strength
from geomgen.design.rules.tools import guarded
from geomgen.design.rules.weighed import weighed
from geomgen.design.rules.wires import channels, wires
from geomgen.design.schema.design import Design
from geomgen.errors import Fault

RULES = (
    rotor, duty, names, along, construction, runs, spars, channels, wires, pitch, hub, fittings, drive, glue, balance,
    stocks, materials, used, kerfs, shop, weighed, strength,
)  # fmt: skip


def rule_faults(design: Design) -> tuple[Fault, ...]:
    """Every fault that a rule finds in a design, which may have gaps."""
    return tuple(guarded(*(rule(design) for rule in RULES)))
