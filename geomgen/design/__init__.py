"""The design file: read it, check it, lay options over it. Start at `reader.py`; the keys are in `schema/`."""

from geomgen.design.library import demo, example_path, json_schema, starter_text
from geomgen.design.reader import DesignFile, read, read_text
from geomgen.design.schema import Design, Place, SectionSpec, Spread
from geomgen.design.vary import vary

__all__ = [
    "Design", "DesignFile", "Place", "SectionSpec", "Spread",
    "demo", "example_path", "json_schema", "read", "read_text", "starter_text", "vary",
]  # fmt: skip
