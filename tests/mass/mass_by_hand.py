"""What tests of masses start from: a design with stocks of round figures, and parts of few words."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from importlib.resources import files
from typing import Any

import numpy as np

from geomgen.design.schema import Design
from geomgen.design.schema.table import Reading
from geomgen.model.part import Part, Shape


@dataclass(frozen=True, eq=False)
class Exact:
    volume_mm3: float
    centroid: Any
    inertia: Any = None


def design(**rotor: Any) -> Design:
    raw = tomllib.loads(files("geomgen.design").joinpath("examples/lantern.toml").read_text(encoding="utf-8"))
    raw.pop("option", None)
    raw["rotor"] |= rotor
    raw["stock"] |= {
        "plank": {"kind": "sheet", "of": "balsa", "thickness": 4, "density": ["120 kg/m3", "150 kg/m3", "200 kg/m3"]},
        "cover": {"kind": "sheet", "of": "card", "thickness": 0.2, "areal": "100 g/m2"},
        "rod": {"kind": "length", "of": "balsa", "width": 8, "height": 10, "density": "150 kg/m3"},
        "print_usual": {"kind": "volume", "of": "PLA, printed", "density": "1000 kg/m3"},
        "print_sure": {"kind": "volume", "of": "mine", "density": "1000 kg/m3", "solid": 0.5},
        "print_band": {
            "kind": "volume",
            "of": "PLA, printed",
            "density": ["900 kg/m3", "1000 kg/m3", "1200 kg/m3"],
            "solid": ["40 %", "50 %", "55 %"],
        },
        "block": {"kind": "volume", "of": "extruded polystyrene", "density": "35 kg/m3"},
    }
    return Design.model_validate(raw, context=Reading(bare="mm"))


def part(
    name: str, shape: Shape, spread: Any, stock: str = "", assembly: str = "blade", count: int = 1, **more: Any
) -> Part:
    role, path = more.pop("role", "rib"), more.pop("path", name)
    return Part(name, role, stock, path, shape, assembly, count, np.array(spread), **more)
