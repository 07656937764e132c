"""What a maker is told of parts that can be drawn but ask for care."""

from __future__ import annotations

from geomgen.craft import Craft


def notes(craft: Craft, name: str) -> str:
    return "; ".join(next(part for part in craft.finished if part.name == name).notes)


def test_a_part_larger_than_its_sheet_or_the_bed(craft_of: object) -> None:
    small: Craft = craft_of("lantern", ("bed    = [600, 400]", "bed    = [150, 90]"))  # type: ignore[operator]
    assert "too large for the laser's bed, 150 x 90 mm" in notes(small, "rib R05")
    assert "too large" not in notes(small, "rib R13")  # 133 mm long
    tight: Craft = craft_of("lantern", ("size = [1000, 100]", "size = [160, 60]"))  # type: ignore[operator]
    (fault,) = tight.faults
    x0, _, x1, _ = next(
        part for part in tight.outcome(Craft.on_sheets).value if part.name == "rib R04"
    ).shape.region.bounds()
    assert fault.path == "stock.balsa_3.size" and f"rib R04 is {x1 - x0:.0f} x " in fault.wrong
    edge = 5 + 0.15 / 2  # and half the kerf
    assert f"{x1 - x0 + 2 * edge - 160:.1f} mm too large" in fault.wrong


def test_a_skin_that_ends_between_ribs(craft_of: object) -> None:
    loose: Craft = craft_of("lantern", ('stock = "foam_sheet_2"\n\n', 'stock = "foam_sheet_2"\nto = 590\n\n'))  # type: ignore[operator]
    assert "its end at r 590.0 mm lies on no rib" in notes(loose, "skin all")
    held: Craft = craft_of("lantern", ('stock = "foam_sheet_2"\n\n', 'stock = "foam_sheet_2"\nto = 549.2\n\n'))  # type: ignore[operator]
    assert "lies on no rib" not in notes(held, "skin all")


def test_a_skin_too_thick_for_the_nose_is_told_with_station_and_remedy(craft_of: object) -> None:
    thick: Craft = craft_of(
        "lantern",
        ("thickness = 2\nsize = [1000, 700]", "thickness = 3\nsize = [1000, 700]"),
        ("web        = 2.0", "web        = 1.5"),  # the rear spar's slot comes nearer to the edge
    )  # type: ignore[operator]
    told = notes(thick, "rib R14")
    said = "at r 780 mm the inside of a 3 mm skin would bend to "
    assert said in told and "fill the nose with a strip" in told
    # NACA Report 460: the nose is round to 1.1019 t^2 of the chord; a little behind it the section bends more tightly
    chord, share = 210.0 - 60.0 * 650.5 / 670.0, 650.5 / 670.0
    nose = 1.1019 * (0.15 - 0.01 * share) ** 2 * chord
    assert nose - 3.0 - 0.15 < float(told.split(said)[1].split(" mm")[0]) < nose - 3.0 + 0.005
    assert "would bend" not in notes(thick, "rib R01")
