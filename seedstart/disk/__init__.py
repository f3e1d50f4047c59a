"""The only room that touches files.

`season_folder` and `plan_files` are had from their own modules: they know the plan, which a bare
calendar does not load.
"""

from seedstart.disk.reading import (
    Grown,
    Mark,
    names_in,
    read,
    read_folder,
    read_new,
    read_tree,
    shipped,
)
from seedstart.disk.writing import NotRecorded, append, change_file, make_folder, write_new

__all__ = [
    "Grown",
    "Mark",
    "NotRecorded",
    "append",
    "change_file",
    "make_folder",
    "names_in",
    "read",
    "read_folder",
    "read_new",
    "read_tree",
    "shipped",
    "write_new",
]
