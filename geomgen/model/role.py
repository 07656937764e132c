"""What a part is, and where it belongs: data that the house decides by. Names are for people."""

from __future__ import annotations

from enum import StrEnum


class Role(StrEnum):
    """What a part is. Its value is the word that lists and tables show."""

    RIB = "rib"
    DOUBLER = "doubler"
    SKIN = "skin"
    SHEETING = "sheeting"
    FOLDED_SKIN = "folded skin"
    FILM = "film"
    CORE = "core"
    CAP_STRIP = "cap strip"
    NOSE_STRIP = "nose strip"
    TAIL_STRIP = "tail strip"
    TIP = "tip"
    SPAR = "spar"
    WEB = "web"
    SLEEVE = "sleeve"
    WIRE = "wire"
    TIE = "tie"
    GLUE = "glue"
    TURNING_CAP = "turning cap"
    FIXED_CAP = "fixed cap"
    WEDGE = "wedge"
    COLLAR = "collar"
    PIN = "pin"
    CLIP = "clip"
    SCREW = "screw"
    FITTING = "fitting"
    HUB = "hub"
    JIG_BOARD = "jig board"
    GAUGE = "gauge"
    WIRE_TEMPLATE = "wire template"
    COUPON = "coupon"


class Assembly(StrEnum):
    """What a part belongs to: each blade has a set of it, the hub has it once, or it stays on the bench."""

    BLADE = "blade"
    HUB = "hub"
    BENCH = "bench"
