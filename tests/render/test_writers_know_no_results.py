"""Writers know pages, drawings, figures, geometry and one another: never the results that views draw."""

from __future__ import annotations

import pathlib
import re

import geomgen

NEUTRAL = ("geomgen.figures", "geomgen.plane.", "geomgen.render.", "geomgen.views.page", "geomgen.views.drawing")


def test_writers_import_neutral_records_only() -> None:
    files = sorted((pathlib.Path(geomgen.__file__).parent / "render").glob("*.py"))
    found = {name for file in files for name in re.findall(r"^\s*from (geomgen\S*) import", file.read_text(), re.M)}
    assert found and all(name.startswith(NEUTRAL) for name in found), found
