"""What `geomgen make`, `compare`, `hover` and `loads` write: every file's bytes, and what the manifest says of each."""

from geomgen.making.craft_files import make
from geomgen.making.output import Output
from geomgen.making.page_files import compare_files, hover_files, loads_files

__all__ = ["Output", "compare_files", "hover_files", "loads_files", "make"]
