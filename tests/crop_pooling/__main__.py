"""`python tests/crop_pooling` writes crops/ anew; with `--report` it tells what it rests on,
with `--trays` how much slower trays are than the table.
"""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))  # run by its folder's name, as a script

from crop_pooling.report import report
from crop_pooling.tray_clock import told
from crop_pooling.writing import shipped_files

CROPS = Path(__file__).parents[2] / "crops"


def write() -> None:
    """Replace every file of crops/ by the computed one."""
    files = shipped_files()
    CROPS.mkdir(exist_ok=True)
    for stale in set(CROPS.glob("*.toml")) - {CROPS / name for name in files}:
        stale.unlink()
    for name, content in files.items():
        (CROPS / name).write_bytes(content)
    print(f"{len(files) - 1} crops and sources.toml written to {CROPS}")


if __name__ == "__main__":
    if "--report" in sys.argv[1:]:
        print(report())
    elif "--trays" in sys.argv[1:]:
        print(told())
    else:
        write()
