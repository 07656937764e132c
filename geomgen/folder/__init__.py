"""The output folder: written whole or not at all, and nothing in it lost that somebody else put there."""

from geomgen.folder.carry_over import SetAside
from geomgen.folder.changes import Changes
from geomgen.folder.manifest import MANIFEST
from geomgen.folder.write import refuse_unwritable, write_folder

__all__ = ["MANIFEST", "Changes", "SetAside", "refuse_unwritable", "write_folder"]
