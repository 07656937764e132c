"""The cost's stages: the cut list, and the bill."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from geomgen.cost import bill, cut_list
from geomgen.design.schema import Design
from geomgen.materials.figure import Figure
from geomgen.model.joint import Key
from geomgen.model.part import Part
from geomgen.printing.solid_properties import SolidProperties
from geomgen.root.hub_mass import Bulk
from geomgen.stages import reads
from geomgen.stock.need import needs
from geomgen.stock.sheets import Layout


@reads("stock", "rotor.blades", "laser.speed", "laser.done")
def listed(design: Design, layout: Layout, parts: Sequence[Part]) -> tuple[cut_list.SheetLine, ...]:
    """What is cut from each sheet."""
    return cut_list.cut_list(layout, parts, design)


@reads("stock", "rotor.blades", "fitting")
def billed(
    design: Design,
    parts: Sequence[Part],
    layout: Layout,
    solids: Mapping[Key, SolidProperties | Bulk],
    shares: Mapping[Key, Figure],
    bench_shares: Mapping[Key, Figure],
) -> tuple[bill.Due, ...]:
    """What is needed of each stock and bought thing, and what that costs."""
    volumes = {key: solid.volume_mm3 for key, solid in solids.items()}
    typical = {key: share.typical for key, share in (*shares.items(), *bench_shares.items())}
    return bill.bill(needs(parts, design, layout, volumes, typical), parts, design)
