"""Hubs whose every figure is chosen here. Lengths [mm], angles [deg]."""

from __future__ import annotations

from dataclasses import replace

from geomgen.root.hub_spec import Duct, HubSpec

# Two arms, level, no ducts and no pilot holes: its volume can be written down.
PLAIN = HubSpec(
    clockwise=False,
    blades=2,
    coning=0.0,
    wall=3.0,
    floor=5.0,
    bore=8.0,
    bay_radius=45.0,
    bay_height=32.0,
    axis_height=21.0,
    socket=10.3,
    pocket=21.0,
    collar_seat=45.0,
    boss=27.0,
    boss_end=51.0,
    arm=16.3,
    flange=30.0,
    flange_thickness=7.5,
    seat=121.7,
    pilot=2.4,
    pilot_depth=8.5,
    pilots=(),
    ducts=(),
    bolt=4.5,
    bolts=((18.0, 18.0), (-18.0, 18.0), (-18.0, -18.0), (18.0, -18.0)),
)

# Three coned arms, each with a duct aft and one forward of the spar.
FULL = replace(
    PLAIN,
    blades=3,
    coning=4.0,
    axis_height=19.0,
    collar_seat=45.85,
    pilots=((7.5, 7.5), (-7.5, 7.5), (-7.5, -7.5), (7.5, -7.5)),
    ducts=(Duct(22.0, 10.0, -14.0, -2.0), Duct(20.0, 7.0, 166.0, 178.0)),
    bolts=((15.0, 26.0), (-30.0, 0.0), (15.0, -26.0)),
)
