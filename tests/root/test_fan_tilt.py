"""What is fixed to a rib turns with the blade: by hand from the file's twist, and on the rib's drawn holes."""

from __future__ import annotations

import io
import json
import math
from collections.abc import Callable

import ezdxf
import numpy as np
import pytest

from geomgen.craft import Craft
from geomgen.cutting.dxf import part_dxf
from geomgen.errors import MakeError
from geomgen.frames import applied, blade_to_rotor
from geomgen.model.role import Role
from geomgen.render.data import json_text
from geomgen.views.pitch_error import pitch_error_data, pitch_lines

CraftOf = Callable[..., Craft]
HANDS = ("anticlockwise", "clockwise")
MOUNT = 'mount  = { screw = "M2", count = 2, circle = 8, first = "0 deg" }'
TURN = 'turn   = "anticlockwise"'
AT_FAN = 5.0 * (800.0 - 768.0) / 670.0 - 5.0 * (800.0 - 600.0) / 670.0  # 5 deg at 130 mm, 0 at 800; fan 96, zero 75 %


def levelled(craft_of: CraftOf, level_at: str, hand: str = "anticlockwise", mount: str = MOUNT) -> Craft:
    return craft_of("lantern", (MOUNT, f'{mount}\nlevel_at = "{level_at}"'), (TURN, f'turn   = "{hand}"'))


@pytest.mark.parametrize("pitch", [2.0, 5.0, 8.0, 11.0, 14.0])
def test_tilt_and_shares_by_hand(lantern: Craft, pitch: float) -> None:
    """Pitch and the file's own twist; the pull's share up is sine by cosine of 2 deg of coning, along it is cosine."""
    (fan,) = lantern.tilts
    tilt = math.radians(pitch + AT_FAN)
    assert math.radians(fan.tilt_deg(pitch)) == pytest.approx(tilt, abs=1e-12)
    assert fan.up(pitch) == pytest.approx(math.sin(tilt) * math.cos(math.radians(2.0)), abs=1e-12)
    assert fan.along(pitch) == pytest.approx(math.cos(tilt), abs=1e-12)


@pytest.mark.parametrize("hand", HANDS)
@pytest.mark.parametrize("pitch", [2.0, 8.0, 14.0])
def test_shares_are_those_of_the_chord_line_in_the_rotor(craft_of: CraftOf, hand: str, pitch: float) -> None:
    """The rib's chord line, nose first, through the frames: up is along the axis, the tangent is square to the arm."""
    craft = craft_of("lantern", (TURN, f'turn   = "{hand}"'))
    (fan,) = craft.tilts
    (blank,) = (blank for blank in craft.blanks if "fan" in blank.place.fittings)
    nose, tail = blank.station.to_blade(np.array([[0.0, 0.0], [blank.station.chord_mm, 0.0]]))
    ends = applied(blade_to_rotor(1, 2, pitch, 2.0, hand == "clockwise"), np.array([nose, tail]))
    forward = (ends[0] - ends[1]) / np.linalg.norm(ends[0] - ends[1])
    assert forward[2] == pytest.approx(fan.up(pitch), abs=1e-9)
    assert abs(forward[1]) == pytest.approx(fan.along(pitch), abs=1e-9)


@pytest.mark.parametrize("hand", HANDS)
@pytest.mark.parametrize("level_at", [2.0, 8.0, 14.0])
def test_holes_of_a_levelled_mount_on_the_cut_rib(craft_of: CraftOf, hand: str, level_at: float) -> None:
    """Its first two screws stand in line with the fan: at that pitch, turned with the rib, it is level."""
    craft = levelled(craft_of, f"{level_at:g} deg", hand)
    (fan,) = craft.tilts
    (rib,) = (part for part in craft.finished_of(Role.RIB) if part.name == f"rib {fan.rib}")
    data = part_dxf(rib, craft.design.laser.colour.model_dump(), 2, "mm")
    model = ezdxf.read(io.StringIO(data.decode())).modelspace()
    holes = (e.dxf.center for e in model.query("CIRCLE") if abs(e.dxf.radius - 1.2) < 1e-4)
    ahead, behind = sorted(holes, key=lambda middle: abs(middle.x))  # the nose is at the frame's origin, in either hand
    (chord,) = (
        line
        for line in model.query("LWPOLYLINE")
        if line.dxf.layer == "reference" and len(line) == 2 and abs(line[0][1]) < 1e-9 > abs(line[1][1])
    )
    assert abs(chord[0][0]) < abs(chord[1][0])
    against_chord = math.degrees(math.atan2(ahead.y - behind.y, abs(behind.x) - abs(ahead.x)))
    assert level_at + AT_FAN + against_chord == pytest.approx(0.0, abs=0.1)
    assert math.hypot(ahead.x - behind.x, ahead.y - behind.y) == pytest.approx(16.0, abs=1e-4)


def test_a_levelled_fan_points_by_what_pitch_is_off(craft_of: CraftOf) -> None:
    (fan,) = levelled(craft_of, "8 deg").tilts
    assert [fan.tilt_deg(pitch) for pitch in fan.settings_deg] == pytest.approx([-6.0, 0.0, 6.0])
    assert fan.up(14.0) == pytest.approx(math.sin(math.radians(6.0)) * math.cos(math.radians(2.0)))


def test_rib_and_screws_say_by_how_much(craft_of: CraftOf, lantern: Craft) -> None:
    craft = levelled(craft_of, "8 deg")
    words = f"the mount of fan is turned {8.0 + AT_FAN:.2f} deg nose down"
    told = [part for part in craft.finished if any(words in note for note in part.notes)]
    assert [part.role for part in told] == [Role.RIB, Role.SCREW]
    assert not any("is turned" in note for part in lantern.finished for note in part.notes)


def test_the_web_is_judged_where_turned_holes_are(craft_of: CraftOf) -> None:
    """A screw 40 deg below the chord line keeps its 2 mm of wood; 12.7 deg further down it doesn't."""
    mount = MOUNT.replace('"0 deg"', '"-40 deg"')
    assert not craft_of("lantern", (MOUNT, mount)).outcome(Craft.ribs).faults
    with pytest.raises(MakeError, match=r"fitting\.fan\.mount.* of wood to the edge on rib R13"):
        _ = levelled(craft_of, "14 deg", mount=mount).ribs


def test_lines_and_data(craft_of: CraftOf, lantern: Craft) -> None:
    (line,) = pitch_lines(lantern)[1:]
    assert line == 'Fitting fan pulls 12 % upward at 8 deg; level_at = "8 deg" in [fitting.fan] would turn its mount.'
    (bare,) = pitch_lines(craft_of("starter"))[1:]
    assert isinstance(bare, str) and bare.endswith("it has no mount to turn.")
    craft = levelled(craft_of, "8 deg")
    (level,) = pitch_lines(craft)[1:]
    assert isinstance(level, str) and "its mount is turned to pull along the tangent at 8 deg" in level
    (data,) = json.loads(json_text(pitch_error_data(craft)))["fitting_tilts"]
    assert (data["fitting"], data["level_at_deg"]) == ("fan", 8.0)
    assert data["mount_turned_deg"] == pytest.approx(8.0 + AT_FAN)
    assert [each["pitch_deg"] for each in data["settings"]] == [2.0, 8.0, 14.0]
    assert [each["up_share"] for each in data["settings"]][1] == pytest.approx(0.0, abs=1e-12)


def test_nothing_is_said_where_nothing_is_fixed_to_ribs(craft_of: CraftOf) -> None:
    loose = craft_of("kite_day", ('rib    = true\nrib_stock = "ply_eighth"', "stuck  = true"))
    assert loose.tilts == () and len(pitch_lines(loose)) == 1
