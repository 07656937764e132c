"""What `geomgen make` writes: every file's bytes, and what the manifest says of each."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from geomgen.craft import Craft
from geomgen.cutting.drawing import copies
from geomgen.cutting.dxf import all_dxf, part_dxf
from geomgen.model.part import Flat, Part
from geomgen.model.role import Role
from geomgen.printing.hub_drawing import hub_bodies, hub_drawing
from geomgen.printing.stl import stl_bytes
from geomgen.render.data import csv_text
from geomgen.render.text import page_text
from geomgen.report.hub import hub_view
from geomgen.report.plan import plan_view
from geomgen.report.plan_of import plan_of
from geomgen.report.rib import rib_picture
from geomgen.views.order import order_page
from geomgen.views.parts_list import parts_list
from geomgen.views.weigh_data import mass_list

Tell = Callable[[str], None]
DRAWING_CODE = ("cutting", "marking/lettering.py", "model/part.py", "plane")
HUB_PICTURE_CODE = ("frames.py", "plane", "printing", "report/hub.py", "report/svg.py", "root")
BED_MM = 600.0  # width of a row where the design names no laser bed


@dataclass
class Made:
    """Files on their way to the folder: name -> bytes, and what the manifest says of each."""

    files: dict[str, bytes] = field(default_factory=dict)
    about: dict[str, dict[str, Any]] = field(default_factory=dict)

    def add(self, name: str, data: bytes, **about: Any) -> None:
        """One more file."""
        self.files[name], self.about[name] = data, about


def make(craft: Craft, tell: Tell = lambda _: None) -> Made:
    """Every file of one craft.

    craft  : the craft
    tell   : told what is being worked on, a few words at a time
    raises : MakeError where a part can't be made as asked
    """
    made = Made()
    tell(f"ribs: {len(craft.ribs)} outlines")
    tell("caps")
    flats = craft.flat_parts
    tell("hub: its solid and mesh, kept for the next time")
    solids, meshes = craft.solids, craft.meshes
    tell(f"cutting files: {len(flats)}")
    _cut(craft, made)
    tell(f"printing files: {len(solids)}")
    for part in craft.printed_parts:
        made.add(
            f"print/{file_name(part)}.stl",
            stl_bytes(meshes[part.name]),
            part=part.name,
            holds=f"{part.name}, one of {_count(craft, part)}",
            unit="mm",
            chordal_error_mm=craft.tol.mesh_mm,
            volume_mm3=round(solids[part.name].volume_mm3, 3),
        )
    tell("pictures and lists")
    _pictures(craft, made)
    design, parts = craft.design, parts_list(craft.parts, craft.design.rotor.blades)
    made.add("parts.csv", csv_text(parts).encode(), holds="every part, how many, of what")
    order = page_text(order_page(design.title, design.blade.construction.kind, craft.order)) + "\n"
    made.add("order_of_work.txt", order.encode(), holds="what is cut, stood up, glued and closed when")
    made.add("mass.csv", csv_text(mass_list(craft.mass)).encode(), holds="mass statement", unit="g, mm")
    return made


def file_name(part: Part) -> str:
    """A part's name as a file name."""
    return part.name.replace(" ", "_")


def _count(craft: Craft, part: Part) -> int:
    return copies(part, craft.design.rotor.blades)


def _cut(craft: Craft, made: Made) -> None:
    design, drawn = craft.design, _drawn(craft)
    for part in craft.flat_parts:
        assert isinstance(part.shape, Flat)
        about: dict[str, Any] = {
            "part": part.name,
            "holds": f"{part.name}, one of {_count(craft, part)}, {part.stock}",
            "face": part.shape.face,
            "unit": "mm",
            "chordal_error_mm": craft.tol.chordal_mm,
            "kerf_mm": design.laser.kerf.get(part.stock),
            "kerf_applied_mm": 0.0,
        }
        if part.r_mm is not None:
            about["radius_mm"] = round(part.r_mm, 3)
        if "chord_mm" in part.facts:
            about["chord_mm"] = round(part.facts["chord_mm"], 3)
        made.add(f"cut/{file_name(part)}.dxf", drawn[file_name(part)], **about)
    made.add(
        "cut/all.dxf",
        drawn["all"],
        holds="every flat part once, side by side",
        unit="mm",
        chordal_error_mm=craft.tol.chordal_mm,
        kerf_applied_mm=0.0,
    )


def _drawn(craft: Craft) -> dict[str, bytes]:
    """Every cutting file by its name, drawn once and then kept by content."""
    design, flats = craft.design, craft.flat_parts
    colours, blades = design.laser.colour.model_dump(), design.rotor.blades
    width = design.laser.bed[0] if design.laser.bed else BED_MM
    key = craft.cache.digest("cut", flats, colours, blades, width, code=DRAWING_CODE)
    if (kept := craft.cache.fetch(key)) is not None:
        return {name: data.tobytes() for name, data in kept.items()}
    drawn = {file_name(part): part_dxf(part, colours, blades) for part in flats}
    drawn["all"] = all_dxf(flats, colours, width, blades)
    craft.cache.store(key, {name: np.frombuffer(data, np.uint8) for name, data in drawn.items()})
    return drawn


def _pictures(craft: Craft, made: Made) -> None:
    unit = craft.design.units or "mm"
    made.add("pictures/plan.svg", plan_view(plan_of(craft)).encode(), holds="plan view from above")
    for part in craft.flat_parts:
        made.add(
            f"pictures/{file_name(part)}.svg",
            rib_picture(part, unit).encode(),
            part=part.name,
            holds=f"picture of {part.name}",
        )
    made.add("pictures/hub.svg", _hub_picture(craft), holds="hub and caps, drawn apart")


def _hub_picture(craft: Craft) -> bytes:
    hub = next(part for part in craft.parts if part.role == Role.HUB)
    bodies = hub_bodies(craft.design, craft.root_face, craft.pattern, (hub, *craft.caps))
    key = craft.cache.digest("hub picture", craft.design.title, bodies, code=HUB_PICTURE_CODE)
    if (kept := craft.cache.fetch(key)) is not None:
        return kept["svg"].tobytes()
    drawn = hub_view(hub_drawing(bodies, craft.cache), f"{craft.design.title}, hub and caps").encode()
    craft.cache.store(key, {"svg": np.frombuffer(drawn, np.uint8)})
    return drawn
