"""Solids added and taken away, many at once, and the sum checked."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from geomgen.errors import Fault, MakeError
from geomgen.printing.kernel import kernel

# How far the volumes of what is left and what is taken may miss the whole, relative to it: the kernel's quick
# integral is good to some 1e-5 of it where faces have curved edges.
SUM_SHARE = 5e-5


def fused(solids: Sequence[Any]) -> Any:
    """One solid of many that overlap."""
    return _made("FUSE", solids[:1], solids[1:])[0]


def cut(body: Any, tools: Sequence[Any]) -> Any:
    """A solid less its tools, which may overlap one another.

    raises : MakeError where what is left and what is taken don't add up to the body: a boolean that went wrong
             can still be called valid
    """
    left, taken = _made("CUT", [body], tools, "COMMON")
    whole, parts = body.Volume(), left.Volume() + taken.Volume()
    if abs(whole - parts) > SUM_SHARE * whole:
        wrong = f"cutting a solid went wrong: {parts:.3f} mm3 left and taken, of {whole:.3f} mm3"
        raise MakeError(Fault("", "", wrong, remedy="change a size a little, so that faces don't nearly touch"))
    return left


def _made(operation: str, bodies: Sequence[Any], tools: Sequence[Any], *more: str) -> list[Any]:
    """Results of one or more operations on the same solids, whose meeting is worked out once."""
    cq = kernel()
    from OCP.BOPAlgo import BOPAlgo_BOP, BOPAlgo_Operation, BOPAlgo_PaveFiller
    from OCP.Message import Message_ProgressRange
    from OCP.TopTools import TopTools_ListOfShape

    everything = TopTools_ListOfShape()
    for solid in (*bodies, *tools):
        everything.Append(solid.wrapped)
    meeting = BOPAlgo_PaveFiller()
    meeting.SetArguments(everything)
    meeting.SetRunParallel(True)
    meeting.SetUseOBB(True)
    meeting.Perform(Message_ProgressRange())
    results = []
    for name in (operation, *more):
        builder = BOPAlgo_BOP()
        for body in bodies:
            builder.AddArgument(body.wrapped)
        for tool in tools:
            builder.AddTool(tool.wrapped)
        builder.SetOperation(getattr(BOPAlgo_Operation, f"BOPAlgo_{name}"))
        builder.SetRunParallel(True)
        builder.PerformWithFiller(meeting, Message_ProgressRange())
        if builder.HasErrors():
            raise MakeError(Fault("", "", "joining or cutting solids went wrong", remedy="change a size a little"))
        results.append(cq.Shape.cast(builder.Shape()))
    return results
