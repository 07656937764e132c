"""The output folder: written whole or not at all, and nothing in it lost that somebody else put there."""

from geomgen.folder.changes import Changes
from geomgen.folder.keep import Kept
from geomgen.folder.manifest import MANIFEST
from geomgen.folder.write import refuse_unwritable, write_folder

__all__ = ["MANIFEST", "Changes", "Kept", "refuse_unwritable", "write_folder"]
