"""Options that tests of comparing bring along, so that the examples may change theirs."""

from __future__ import annotations

from geomgen.design.library import example_path

OPTIONS = """
[option.light_ribs]
blade.ribs.root.stock = "balsa_3"
[option.ply_ribs]
blade.ribs.rest.stock = "ply_2"
[option.ply_ribs_no_rear]
like = "ply_ribs"
blade.spar.rear = false
"""


def bare(name: str) -> str:
    """An example's text without its options, so that tests bring their own."""
    return example_path(name).read_text(encoding="utf-8").split("[option.")[0]


def single(name: str) -> tuple[str, str]:
    """An edit that leaves an example's ribs without their doublers."""
    text = example_path(name).read_text(encoding="utf-8")
    start, end = text.index("[blade.doubler."), text.index("[blade.skin.all]")
    return text[start:end], ""
