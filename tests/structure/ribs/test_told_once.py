"""What is wrong on many ribs in the same way is told once, where it is worst, with the others named."""

from __future__ import annotations

from collections.abc import Callable

from geomgen.craft import Craft
from geomgen.errors import Fault, told_once

CLASH = ("chord    = 0.38", "chord = 0.27")
THIN = ("web        = 2.0", "web        = 9.0")


def test_a_channel_that_runs_into_a_spar_on_every_rib_is_one_fault(craft_of: Callable[..., Craft]) -> None:
    faults = [fault for fault in craft_of("starter", CLASH).faults if fault.path == "blade.channel.power"]
    (fault,) = faults
    assert "runs into blade.spar.main on rib R12 at r 672.0 mm" in fault.wrong
    assert "the same on 11 more, between R01 and R11" in fault.wrong


def test_each_cause_is_told_by_its_thinnest_rib(craft_of: Callable[..., Craft]) -> None:
    """The channel ends at the fan's rib, the spar at the last: 3 ribs to r 180, 8 in bays, the fan's, the tip's."""
    faults = [fault for fault in craft_of("starter", THIN).faults if fault.path.startswith("blade.")]
    assert sorted(fault.path for fault in faults) == ["blade.channel.power", "blade.spar.main"]
    channel, spar = sorted(faults, key=lambda fault: fault.path)
    assert "on rib R12 " in channel.wrong and " 11 more" in channel.wrong
    assert "on rib R13 " in spar.wrong and " 12 more" in spar.wrong


def test_a_few_places_are_named() -> None:
    found = [
        (cause, place, bad, Fault("a", "", place))
        for cause, place, bad in [(1, "x", 1.0), (1, "y", 2.0), (2, "x", 1.0)]
    ]
    assert [fault.wrong for fault in told_once(found)] == ["y; the same on x", "x"]
