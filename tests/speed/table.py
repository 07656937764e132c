"""The table of the README, from a record of a run.

python -m pytest tests/speed/test_speed.py --benchmark-json=FILE && python tests/speed/table.py FILE
"""

from __future__ import annotations

import json
import pathlib
import platform
import sys
from importlib import metadata

LIBRARIES = ("numpy", "scipy", "pydantic", "shapely", "ezdxf", "cadquery", "cadquery-ocp")
HEAD = "| what | geomgen | floor | ratio, by the clock | ratio, processor time | aim |\n|---|---|---|---|---|---|"


def main(record: pathlib.Path) -> None:
    """Print the table, then what it was measured on."""
    found = json.loads(record.read_text(encoding="utf-8"))
    print(HEAD)
    for each in found["benchmarks"]:
        info = each["extra_info"]
        clock, cpu = info["clock"], info["cpu"]
        what = each["name"].removeprefix("test_").replace("_", " ").replace("[", ", ").removesuffix("]")
        against = "" if info["against"] == "floor" else f" ({info['against']})"
        ratios = " | ".join(f"{one['ratio']:.2f} ({one['least']:.2f} to {one['most']:.2f})" for one in (clock, cpu))
        print(
            f"| {what} | {_shown(clock['ours_s'])} | {_shown(clock['floor_s'])}{against} | {ratios} | {info['aim']} |"
        )
    versions = ", ".join(f"{name} {metadata.version(name)}" for name in LIBRARIES)
    cpu_info = found["machine_info"]["cpu"]
    print(f"\n{found['datetime'][:10]}, {cpu_info.get('brand_raw', '?')}, {cpu_info.get('count', '?')} cores, ", end="")
    print(f"{platform.system()}, Python {platform.python_version()}, {versions}.")


def _shown(seconds: float) -> str:
    return f"{seconds:.2f} s" if seconds >= 1.0 else f"{1e3 * seconds:.3g} ms"


if __name__ == "__main__":
    main(pathlib.Path(sys.argv[1]))
