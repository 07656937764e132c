"""What `geomgen make` writes of a craft: every file's bytes, and what the manifest says of each."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from geomgen.craft import Craft
from geomgen.cutting.dxf import all_dxf, part_dxf
from geomgen.cutting.toolpaths import copies
from geomgen.making.output import Output, kept
from geomgen.making.sheet_files import add_coupons, add_cut_list, add_paper, add_sheets
from geomgen.model.part import Flat, Part, Solid
from geomgen.model.role import Assembly, Role
from geomgen.printing.hub_drawing import hub_bodies, hub_drawing
from geomgen.printing.hub_looks import hub_looks
from geomgen.printing.stl import stl_bytes
from geomgen.render.data import csv_text
from geomgen.render.html import html
from geomgen.render.svg import inline, svg
from geomgen.render.text import page_text
from geomgen.root.hub_spec import HubSpec
from geomgen.stock.tool import Tool, to_ask, tool, verdict
from geomgen.views.caps_together import caps_of
from geomgen.views.drawing import Drawing
from geomgen.views.file_names import CARD, all_file, cutting_file, file_name, picture_file, printing_file
from geomgen.views.flat_part import bare_part, flat_part
from geomgen.views.hover_picture import hover_picture
from geomgen.views.hub_picture import hub_view
from geomgen.views.hub_sizes import hub_sizes
from geomgen.views.index import index_book
from geomgen.views.loads_picture import loads_picture
from geomgen.views.mass_picture import mass_picture
from geomgen.views.order_page import order_page
from geomgen.views.parts_list import parts_list
from geomgen.views.pitch_card import pitch_card
from geomgen.views.plan import plan_view
from geomgen.views.plan_inputs import plan_of
from geomgen.views.scatter_picture import scatter_picture
from geomgen.views.weigh_data import mass_list

Tell = Callable[[str], None]
BED_MM = 600.0  # width of a row where the design names no laser bed


def make(
    craft: Craft,
    tell: Tell = lambda _: None,
    *,
    paper: bool = False,
    cut_already: Mapping[str, bytes] | None = None,
) -> Output:
    """Every file of one craft.

    craft       : the craft
    tell        : told what is being worked on, a few words at a time
    paper       : templates at full size also of what a laser cuts
    cut_already : files of sheets that lie in the folder: those of sheets that are cut stay as they are
    raises      : MakeError where a part can't be made as asked, or a stock runs out
    """
    made = Output()
    tell(f"ribs: {len(craft.ribs)} outlines")
    tell("caps")
    flats = craft.flat_parts
    tell("hub: its solid and mesh, kept for the next time")
    printed = craft.printed_parts
    solids, meshes = craft.prints, craft.meshes
    tell(f"cutting files: {len(flats)}")
    drawn = _drawn(craft)
    _cut(craft, drawn, made)
    tell("sheets: what lies where")
    sheets = add_sheets(craft, made, cut_already or {})
    add_coupons(craft, made)
    tell("paper: templates at full size")
    add_paper(craft, made, all_of_it=paper)
    tell(f"printing files: {len(printed)}")
    for part in printed:
        about = {"unit": "mm", "chordal_error_mm": craft.tol.mesh_mm}
        about["volume_mm3"] = round(solids[part.key].volume_mm3, 3)
        made.add(printing_file(part), stl_bytes(meshes[part.key]), **_names(craft, part), **about)
    tell("pictures, lists and the page")
    pictures = _pictures(craft, drawn, made) | sheets
    _lists(craft, made)
    made.add("index.html", html(index_book(craft), pictures), holds="everything on one page, to open and to print")
    return made


def _names(craft: Craft, part: Part) -> dict[str, str]:
    return {"part": part.name, "holds": f"{part.name}, one of {copies(part, craft.design.rotor.blades)}"}


def _cut(craft: Craft, drawn: Mapping[str, bytes], made: Output) -> None:
    about = {"unit": "mm", "chordal_error_mm": craft.tol.chordal_mm, "kerf_applied_mm": 0.0}
    for part, cut_by in _by_tool(craft):
        assert isinstance(part.shape, Flat)
        names = _names(craft, part)
        own: dict[str, Any] = {"face": part.shape.face, "kerf_mm": craft.design.laser.kerf.get(part.stock)}
        own |= {} if part.r_mm is None else {"radius_mm": round(part.r_mm, 3)}
        own |= {key: round(part.facts[key], 3) for key in ("chord_mm",) if key in part.facts}
        asked = to_ask(craft.design.stock[part.stock])
        names["holds"] += f", {part.stock}" + (f"; {asked}" if asked else "")
        file = cutting_file(part, cut_by)
        made.add(file, drawn[file], **names, **own, **about)
    for file, parts in _together(craft).items():
        _, cut_by = parts[0]
        words = f"every part that is cut by {cut_by} once, side by side"
        if asked := to_ask(craft.design.stock[parts[0][0].stock]):
            words += f"; {asked}"
        made.add(file, drawn[file], holds=words, **about)


def _by_tool(craft: Craft) -> list[tuple[Part, Tool]]:
    """Every flat part that is cut, and by what."""
    pairs = ((part, tool(craft.design.stock.get(part.stock))) for part in craft.flat_parts)
    return [(part, cut_by) for part, cut_by in pairs if cut_by is not None]


def _together(craft: Craft) -> dict[str, list[tuple[Part, Tool]]]:
    """Parts that stand in one file: of one tool, and of one word of laser shops."""
    found: dict[str, list[tuple[Part, Tool]]] = {}
    for part, cut_by in _by_tool(craft):
        found.setdefault(all_file(cut_by, verdict(craft.design.stock[part.stock])), []).append((part, cut_by))
    return found


def _drawn(craft: Craft) -> dict[str, bytes]:
    """Every cutting file by its name, and pictures of it, as a file and for the page, drawn once, kept by content."""
    design, flats = craft.design, craft.flat_parts
    colours, blades, unit = design.laser.colour.model_dump(), design.rotor.blades, design.units or "mm"
    width = design.laser.bed[0] if design.laser.bed else BED_MM
    cut = _by_tool(craft)
    asks = {part.stock: to_ask(design.stock[part.stock]) for part, _ in cut}

    def draw() -> dict[str, bytes]:
        drawn = {
            cutting_file(part, cut_by): part_dxf(part, colours, blades, unit, asks[part.stock]) for part, cut_by in cut
        }
        drawn |= {picture_file(part): svg(flat_part(part, unit)).encode() for part in flats}
        drawn |= {file_name(part): inline(bare_part(part, unit), file_name(part)).encode() for part in flats}
        for file, some in _together(craft).items():
            drawn[file] = all_dxf([part for part, _ in some], colours, width, blades, unit, asks)
        return drawn

    tools = [(part.name, str(cut_by), asks[part.stock]) for part, cut_by in cut]
    return kept(craft.cache, ("flat parts", flats, tools, colours, blades, width, unit), draw)


def _pictures(craft: Craft, drawn: Mapping[str, bytes], made: Output) -> dict[str, str]:
    """Every picture as a file; and by its name as it stands in the page."""
    plan = plan_of(craft)
    views = {
        "plan": _twice("plan", plan_view(plan)),
        "mass": _twice("mass", mass_picture(craft.mass, plan)),
        "hub": _hub_picture(craft),
        "hub_sizes": _hub_sizes(craft),
    }
    lifting = hover_picture(craft.hover, craft.design.title, craft.design.units or "mm") if craft.hover else None
    views |= {"hover": _twice("hover", lifting)} if lifting is not None else {}
    if craft.held is not None:
        swings = loads_picture(craft.held, craft.design.title, craft.design.units or "mm")
        views |= {"loads": _twice("loads", swings)}
    views |= {"scatter": _twice("scatter", _scatter(craft))}
    holds = {
        "scatter": "unbalance to expect before anything is weighed",
        "hover": "lift and power against rpm, and along the blade",
        "loads": "pull and bending along a blade, and how it swings",
        "plan": "plan view from above",
        "mass": "what one blade weighs, and where",
        "hub": "hub and caps, drawn apart",
        "hub_sizes": "the hub from above and cut along an arm, with its sizes",
    }
    for name, picture in views.items():
        made.add(f"pictures/{name}.svg", picture["file"], holds=holds[name])
    for part in craft.flat_parts:
        made.add(picture_file(part), drawn[picture_file(part)], part=part.name, holds=f"picture of {part.name}")
    parts = {file_name(part): drawn[file_name(part)].decode() for part in craft.flat_parts}
    return {**parts, **{name: picture["page"].decode() for name, picture in views.items()}}


def _scatter(craft: Craft) -> Drawing:
    title = f"{craft.design.title}: unbalance to expect"
    return scatter_picture(craft.scatter, craft.balance.aim_g_mm, title, craft.design.units or "mm")


def _twice(name: str, drawing: Drawing) -> dict[str, bytes]:
    """A picture as a file, and as it stands in the page."""
    return {"file": svg(drawing).encode(), "page": inline(drawing, name).encode()}


def _lists(craft: Craft, made: Output) -> None:
    design, unit = craft.design, craft.design.units or "mm"
    parts = parts_list(craft.finished, design.rotor.blades)
    order = order_page(design.title, design.blade.construction.kind, craft.order, names=craft.names)
    add_cut_list(craft, made)
    made.add("parts.csv", csv_text(parts, unit), holds="every part, how many, of what")
    made.add("order_of_work.txt", page_text(order) + "\n", holds="what is cut, stood up, glued and closed when")
    if craft.pattern.lettered:
        made.add(CARD, svg(pitch_card(design, caps_of(craft))), holds="which holes take the pins at each pitch")
    made.add("mass.csv", csv_text(mass_list(craft.mass), unit), holds="mass statement", unit="g, mm")


def _hub_picture(craft: Craft) -> dict[str, bytes]:
    roles = Role.HUB, Role.TURNING_CAP, Role.FIXED_CAP
    (hub,), (turning,), (fixed,) = (craft.finished_of(role) for role in roles)
    wedge = next((part for part in craft.finished_of(Role.WEDGE) if part.assembly is Assembly.HUB), None)
    bodies = hub_bodies(craft.design, craft.root_face, craft.pattern, (hub, turning, fixed), wedge)
    title = f"{craft.design.title}, hub and caps"
    return kept(
        craft.cache,
        ("hub", title, bodies),
        lambda: _twice("hub", hub_view(hub_drawing(bodies, craft.cache), title)),
    )


def _hub_sizes(craft: Craft) -> dict[str, bytes]:
    (hub,) = craft.finished_of(Role.HUB)
    assert isinstance(hub.shape, Solid)
    spec: HubSpec = hub.shape.spec
    title, unit, mesh = f"{craft.design.title}, sizes of the hub", craft.design.units or "mm", craft.meshes[hub.key]
    return kept(
        craft.cache,
        ("hub sizes", title, spec, unit),
        lambda: _twice("hub_sizes", hub_sizes(spec, hub_looks(spec, mesh, craft.cache), unit, title)),
    )
