"""The only room that touches files.

`plan_files` and `plan_changes` are had from their own modules: they know the plan, which a bare
calendar does not load.
"""

from seedstart.disk.durable import (
    NO_LOCKS_HERE,
    NotRecorded,
    PerhapsRecorded,
    Written,
    begin_run,
    reason_of,
    remark,
    written,
)
from seedstart.disk.folders import make_folder
from seedstart.disk.reading import (
    NOT_HERE,
    Grown,
    Mark,
    bytes_below,
    here,
    in_season,
    names_in,
    read,
    read_folder,
    read_new,
    read_tree,
    shipped,
    size_of,
)
from seedstart.disk.replacing import clear, left_in
from seedstart.disk.writing import append, change_file, write_new

__all__ = [
    "NOT_HERE",
    "NO_LOCKS_HERE",
    "Grown",
    "Mark",
    "NotRecorded",
    "PerhapsRecorded",
    "Written",
    "append",
    "begin_run",
    "bytes_below",
    "change_file",
    "clear",
    "here",
    "in_season",
    "left_in",
    "make_folder",
    "names_in",
    "read",
    "read_folder",
    "read_new",
    "read_tree",
    "reason_of",
    "remark",
    "shipped",
    "size_of",
    "write_new",
    "written",
]
