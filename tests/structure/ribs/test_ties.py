"""Ties, by shapely on the made ribs and caps: wood between a channel and its tie, and room round both in the cap."""

from __future__ import annotations

import numpy as np
import pytest
import shapely

from geomgen.craft import Craft
from geomgen.frames import applied
from geomgen.model.part import Flat
from geomgen.model.role import Role
from geomgen.plane.path import Loop

FREE = 0.5  # round a tie in the turning cap; common practice


@pytest.fixture(params=["starter", "lantern", "kite_day"])
def craft(request, craft_of) -> Craft:
    return craft_of(request.param)


def polygon(loop: Loop) -> shapely.Polygon:
    return shapely.Polygon(loop.flattened(1e-3))


def test_a_web_is_left_to_tie_round(craft: Craft) -> None:
    """Between each tie's hole and its channel's, and from both to the rib's edge and to every other hole."""
    web, ribs = craft.design.blade.construction.web, {blank.place.name: blank for blank in craft.blanks}
    assert {tie.name for tie in craft.ties} >= {"R01"}
    for tie in craft.ties:
        rib = ribs[tie.name]
        here = {path: [o.loop for o in rib.openings if o.path == path] for path in (tie.channel, f"{tie.channel}.tie")}
        (channel,), (hole,) = (map(polygon, loops) for loops in here.values())
        assert channel.distance(hole) == pytest.approx(web, abs=0.01)
        others = [shapely.LinearRing(rib.edge.flattened(1e-3))]
        others += [polygon(o.loop) for o in rib.openings if o.path not in here]
        assert min(other.distance(both) for other in others for both in (channel, hole)) > web - 0.01


def test_the_turning_cap_is_open_round_a_tie(craft: Craft) -> None:
    """The taut loop round the channel's disc and the tie's with half a mm round it, and no more than that."""
    (cap,) = [part for part in craft.caps if part.role is Role.TURNING_CAP]
    assert isinstance(cap.shape, Flat)
    ways, back = [polygon(hole) for hole in cap.shape.region.holes], np.linalg.inv(cap.places[0])
    at_root = [tie for tie in craft.ties if tie.name == "R01"]
    assert at_root
    for tie in at_root:
        wide = craft.design.blade.channel[tie.channel.removeprefix("blade.channel.")].diameter
        x, y, _ = applied(back, tie.at)
        (crossing,) = [each for each in craft.root_face.channels if each.path == tie.channel]
        discs = shapely.Point(x, y).buffer(tie.hole.radius + FREE), shapely.Point(*crossing.at).buffer(wide / 2)
        loop = shapely.union_all(discs).convex_hull
        (way,) = [each for each in ways if each.contains(shapely.Point(x, y))]
        assert way.symmetric_difference(loop).area < 5e-3 * loop.area
