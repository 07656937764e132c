"""How the pull of what lies over several ribs is shared among them: by the area that it shares with each."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from geomgen.arrays import FloatArray
from geomgen.model.joint import Bond, Joint, Key
from geomgen.model.role import Role
from geomgen.strength.load_path import chain


class Areas:
    """Which ribs each part lies on, and how much of it on each.

    joints : where parts touch
    held   : what each part hangs on
    """

    def __init__(self, joints: Sequence[Joint], held: Mapping[Key, Key]) -> None:
        self._held = held
        self._of: dict[Key, list[Joint]] = {}
        self._shares: dict[Key, dict[Key, float]] = {}
        for joint in joints:
            if joint.bond.holds_pull and joint.a != joint.b:
                self._of.setdefault(joint.a, []).append(joint)

    def shares(self, key: Key) -> Mapping[Key, float]:
        """How much of a part's pull goes to each rib, all together 1 [-]; nothing for what ribs hang on themselves.

        A rib has its own. What is glued to ribs goes to them by the area it shares with each; what is tied hangs on
        its innermost tie, for a wire can't push. All else goes the way of what it touches: film the way of the strips
        and sheet beneath it, glue that of what it joins, and what is left the way of what it hangs on.
        """
        if key not in self._shares:
            self._shares[key] = {key: 1.0} if key.role is Role.RIB else {}  # met again within itself, it adds nothing
            if key.role is not Role.RIB and any(one.role is Role.RIB for one in chain(key, self._held)):
                self._shares[key] = self._found(key)
        return self._shares[key]

    def _found(self, key: Key) -> dict[Key, float]:
        touched = self._of.get(key, [])
        if glued := self._on_ribs(key):
            return _sum_of([({joint.b: 1.0}, joint.area_mm2) for joint in glued])
        if tied := [joint for joint in touched if joint.bond is Bond.CLAMPED]:
            return dict(self.shares(min(tied, key=lambda joint: float(joint.contact[:, 1].mean())).b))
        firm = dict.fromkeys(joint.b for joint in touched if joint.bond is not Bond.BEARING)
        return _sum_of([(self.shares(other), self._weight(other)) for other in firm]) or dict(
            self.shares(self._held[key])
        )

    def _on_ribs(self, key: Key) -> list[Joint]:
        """Where a part lies on ribs with some area."""
        return [joint for joint in self._of.get(key, []) if joint.b.role is Role.RIB and joint.area_mm2 > 0.0]

    def _weight(self, key: Key) -> float:
        """Area of a part on ribs, by which what lies over it is shared; 1 where it has none [mm2]."""
        return sum(joint.area_mm2 for joint in self._on_ribs(key)) or 1.0

    def on_ribs(self, pulls: Mapping[Key, FloatArray]) -> dict[Key, FloatArray]:
        """Pull on each rib of itself and of all that hangs on it.

        pulls : of each part, any shape [N]
        """
        sums = dict[Key, FloatArray]()
        for key, pull in pulls.items():
            for rib, share in self.shares(key).items():
                sums[rib] = sums.get(rib, np.zeros_like(pull)) + share * pull
        return sums


def _sum_of(some: Sequence[tuple[Mapping[Key, float], float]]) -> dict[Key, float]:
    """Shares by weight, all together 1; nothing where there is nothing."""
    sums = dict[Key, float]()
    for shares, weight in some:
        for rib, share in shares.items():
            sums[rib] = sums.get(rib, 0.0) + weight * share
    total = sum(sums.values())
    return {rib: share / total for rib, share in sums.items()} if total > 0.0 else {}
