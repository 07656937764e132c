"""Closed forms with the figures that the project's own table of check values has for them.

Each row: the function, its arguments, what comes out, and to what share. The table (formulas and check values, sections
1 to 7) was worked out before this code was written, and is printed to two or three digits.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from geomgen.arrays import FloatArray
from geomgen.strength.formulas import bar, cell, glue, panel, pin, plate, rib, ring, sandwich, screw, shell, tube
from geomgen.strength.formulas.ring import Pressed
from geomgen.strength.formulas.short_panel import short_panel_mpa


@dataclass(frozen=True)
class Row:
    """One check value. `comes_to` is in the function's own unit."""

    form: Callable[..., FloatArray]
    arguments: tuple[float | Pressed, ...]
    comes_to: float
    within: float
    what: str


LOVE = 14.0 / 10.0 * 4.0 / (3.14159265 * 25.0)  # (3 + 2 nu) / (2 (1 + nu)) of V / A at nu .25, a rod of 5 mm
UD = (120e3, 8e3, 4.3e3)  # a carbon tube along its fibres: moduli along, across, in shear
CRUSHED = {8.0: (47.0, 62.0, 313.0), 9.0: (11.0, 15.0, 74.0)}

TUBES = (
    Row(tube.column_n, (120e3, 289.81, 500.0), 1373.0, 5e-4, "10 x 8, half a metre, both ends free to turn"),
    Row(tube.tube_bending_mpa, (34.8e3, 10.0, 8.0), 600.0, 2e-3, "34.8 N m at 600 MPa"),
    Row(tube.tube_twist_mpa, (4.79e3, 10.0, 8.0), 41.3, 2e-3, "4.79 N m at 41.3"),
    Row(tube.tube_shear_mpa, (1.0, 5.0, 0.0, 0.25), LOVE, 1e-8, "a rod, Timoshenko"),
    Row(shell.wall_buckling_mpa, (68.9e3, 4.75, 0.5), 3695.0, 1e-3, "aluminium 10 x 9"),
    Row(shell.wall_buckling_along_mpa, (*UD, 4.5, 1.0), 1937.0, 1e-3, "carbon 10 x 8"),
    Row(shell.wall_buckling_along_mpa, (*UD, 4.75, 0.5), 870.0, 1e-3, "carbon 10 x 9"),
    Row(shell.wall_knock_down, (4.5, 1.0), 0.888, 1e-3, "thrust"),
    Row(shell.wall_knock_down, (9.5, 1.0), 0.842, 1e-3, "thrust"),
    Row(shell.wall_knock_down, (20.0, 1.0), 0.780, 1e-3, "thrust"),
    Row(shell.ovalising_nmm, (*UD[:2], 4.5, 1.0), 138e3, 2e-3, "10 x 8"),
    Row(shell.ovalising_nmm, (*UD[:2], 4.75, 0.5), 36e3, 2e-2, "10 x 9"),
    *(
        Row(ring.crushing_mpa, (force, 10.0, 10.0, inside, how), 40.0, 2.5e-2, "at 40 MPa over 10 mm")
        for inside, forces in CRUSHED.items()
        for how, force in zip(Pressed, forces, strict=True)
    ),
)

PINS = (
    Row(pin.pin_shear_mpa, (300.0, 3.0), 21.2, 2e-3, "double shear"),
    Row(pin.bearing_mpa, (300.0, 3.0, 4.0), 25.0, 1e-9, ""),
    Row(pin.shear_out_mpa, (300.0, 3.0, 4.0, 9.0), 5.0, 1e-9, ""),
    Row(pin.net_tension_mpa, (300.0, 15.0, 3.0, 4.0), 6.25, 1e-9, ""),
    Row(pin.net_tension_mpa, (300.0, 15.0, 3.0, 4.0, pin.BRITTLE_HOLE_RISE), 15.625, 1e-9, "brittle: x 2.5"),
    Row(pin.rod_bending_mpa, (150.0 * (1.5 + 1.0 + 0.5), 3.0), 170.0, 2e-3, "half of it on an arm of 3 mm"),
    Row(pin.pin_shear_mpa, (3350.5, 3.0), 237.0, 1e-5, "references, section 10"),
    Row(pin.pin_shear_mpa, (1675.3, 3.0, 1.0), 237.0, 1e-4, "references, section 10, cut once"),
    Row(pin.bearing_mpa, (2e3 / 9.0, 2.0, 1.0), 111.0, 2e-3, "its wall"),
    Row(pin.pin_shear_mpa, (2e3 / 9.0, 2.0, 1.0), 70.7, 1e-3, "the pin"),
)

SCARFS = {(59.0, 7.9, 2.6): {4.0: 0.453, 5.0: 0.595, 8.0: 1.0}} | {
    (17.4, 1.83, 0.8): {4.0: 0.39, 5.0: 0.50, 8.0: 0.825, 12.0: 1.0}
}
GLUE = (
    *(Row(glue.scarf_share, (*bar, n), share, 1e-2, "") for bar, row in SCARFS.items() for n, share in row.items()),
    Row(glue.scarf_cap, (8.0,), 0.75, 1e-9, "1 in 8"),
    Row(glue.scarf_cap, (20.0,), 0.9, 1e-9, "never above .9"),
    Row(glue.scarf_cap, (4.0,), 0.65, 1e-9, "read"),
)

LONG = 1500.0  # a panel so long that its ends don't count [mm]
SKINS = (
    Row(cell.cell_flow_n_mm, (1e3, 900.0), 0.556, 1e-3, "1 N m on a box 60 x 15"),
    Row(short_panel_mpa, (2413.0, 60.0, 112.0, 1.5, LONG, 60.0), 0.64, 1e-2, "balsa 140, 1.5 mm"),
    Row(short_panel_mpa, (2413.0, 60.0, 112.0, 1.5, LONG, 40.0), 2.25 * 0.64, 1e-2, "on 40 mm"),
    Row(panel.panel_buckling_mpa, (9.0, 6.0, 60.0, 4.0), 0.33, 2e-2, "XPS 6 mm"),
    Row(sandwich.wrinkling_mpa, (3000.0, 6.0, 2.5), 17.8, 2e-3, "paper"),
    Row(sandwich.wrinkling_mpa, (11667.0, 9.0, 4.0), 37.4, 2e-3, "ply on XPS"),
    Row(sandwich.wrinkling_mpa, (2413.0, 9.0, 4.0), 22.1, 2e-3, "balsa on XPS"),
    Row(short_panel_mpa, (16.9e3, 648.0, 620.0, 0.8, LONG, 60.0), 1.39, 5e-3, "birch ply .8, bent moduli"),
    Row(
        short_panel_mpa,
        (11.7e3, 5830.0, 620.0, 0.8, LONG, 60.0),
        3.4,
        4e-2,
        "its stretched moduli; nu there not told",
    ),
    Row(bar.rectangle_shear_mpa, (10.0, 3.0, 30.0 - 18.0), 0.417, 1e-3, "hole of 18 in 30 mm"),
    Row(bar.rectangle_shear_mpa, (10.0 / 1.5, 3.0, 30.0 - 18.0), 0.278, 1e-3, "the same, even"),
    Row(rib.opening_corner_mpa, (10.0, 0.45 * 18.0, (30.0 - 0.9 * 18.0) / 2.0, 3.0), 0.85, 1e-2, "its corners"),
)

SCREWS = (
    Row(screw.thread_shear_mpa, (407.0, 3.0, 8.0), 6.0, 1e-3, "M3 x 8 at 6"),
    Row(screw.thread_shear_mpa, (679.0, 3.0, 8.0), 10.0, 1e-3, "M3 x 8 at 10"),
    Row(plate.face_pressure_mpa, (100.0, 9.0, 3.0), 100.0 / (18.0 * 3.14159265), 1e-6, "a washer, by hand"),
    Row(plate.face_pressure_mpa, (407.0, 6.6, 3.0), 15.0, 1e-3, "M3 in a boss of 6.6 mm"),
    Row(plate.face_pressure_mpa, (100.0, 16.0, 10.0), 100.0 / (39.0 * 3.14159265), 1e-6, "by hand"),
)
ROWS = (*TUBES, *PINS, *GLUE, *SKINS, *SCREWS)
