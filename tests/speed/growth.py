"""How the cost of each stage grows with the ribs of a blade, by processor time: python tests/speed/growth.py"""

from __future__ import annotations

import math
import time

from geomgen.cache import Cache
from geomgen.craft import Craft
from geomgen.design.library import demo
from geomgen.design.vary import vary

FEW, MANY = 24, 400
LEAST_S = 0.02  # a stage that takes less of many ribs isn't told
KERNEL = (Craft.prints, Craft.meshes)


def costs(ribs: int) -> tuple[int, dict[str, float]]:
    """Ribs there are, and the least of three times of each stage [s], in the demo's blade with about so many ribs."""
    file = demo()
    every = (file.design.frame_end - 200.0) / ribs
    changes = {"blade.ribs.rest.every": f"{every:.3f} mm", "stock.balsa_3.thickness": "0.8 mm"}
    design = vary(file, changes if ribs > 60 else {"blade.ribs.rest.every": f"{every:.3f} mm"}).design
    best: dict[str, float] = {}
    for _ in range(3):
        craft = Craft(design, None, Cache(None), exact=False)
        for stage in Craft.stages():
            if stage not in KERNEL:
                start = time.process_time()
                craft.outcome(stage)
                took = time.process_time() - start
                best[stage.name] = min(took, best.get(stage.name, math.inf))
    return len(craft.bare_ribs), best


def main() -> None:
    """A row for each stage: seconds of few ribs and of many, and the power of the number of ribs it grows with."""
    (few, low), (many, high) = costs(FEW), costs(MANY)
    print(f"| stage | {few} ribs, ms | {many} ribs, ms | power |\n|---|---|---|---|")
    for name, took in sorted(high.items(), key=lambda item: -item[1]):
        if took >= LEAST_S:
            power = math.log(took / max(low[name], 1e-4)) / math.log(many / few)
            print(f"| {name.removeprefix('Craft.')} | {1e3 * low[name]:.1f} | {1e3 * took:.0f} | {power:.2f} |")


if __name__ == "__main__":
    main()
