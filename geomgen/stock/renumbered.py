"""Parts of an earlier layout that are there still, under another number: one rib more, and all beyond it move up."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from geomgen.model.joint import Key
from geomgen.model.role import Role
from geomgen.stock.sheets import Sheet

Which = tuple[Key, int, int]  # part, piece and copy
Alike = tuple[Role, int, str]  # role, piece, outline


def renamed(
    sheets: Sequence[Sheet], outlines: Mapping[tuple[str, str], Mapping[Which, str]], done: Collection[str]
) -> tuple[Sheet, ...]:
    """Earlier sheets, each place with the part that has the outline it was laid for.

    sheets   : of an earlier layout
    outlines : of what is to be laid, by stock and use: digests
    done     : names of sheets that are cut: what is lettered on them can't be changed any more
    returns  : the same places; what has lost its outline goes by another part of its role that has it, and that has no
               place of its own
    """
    free: dict[tuple[str, str], dict[Alike, list[Which]]] = {}
    for where, mine in outlines.items():
        here = [sheet for sheet in sheets if (sheet.stock, sheet.apart) == where]
        placed = {laid.which for sheet in here for laid in sheet.laid if mine.get(laid.which) == laid.outline}
        alike: dict[Alike, list[Which]] = defaultdict(list)
        for (key, piece, copy), outline in mine.items():
            if (key, piece, copy) not in placed:
                alike[key.role, piece, outline].append((key, piece, copy))
        free[where] = alike
    return tuple(
        sheet
        if sheet.name in done
        else _renamed(sheet, outlines.get((sheet.stock, sheet.apart), {}), free.get((sheet.stock, sheet.apart), {}))
        for sheet in sheets
    )


def _renamed(sheet: Sheet, mine: Mapping[Which, str], free: Mapping[Alike, list[Which]]) -> Sheet:
    laid = list(sheet.laid)
    for k, each in enumerate(laid):
        others = free.get((each.key.role, each.piece, each.outline), [])
        if mine.get(each.which) != each.outline and others:
            key, piece, copy = others.pop(0)
            laid[k] = replace(each, key=key, piece=piece, copy=copy)
    return replace(sheet, laid=tuple(laid)) if laid != list(sheet.laid) else sheet
