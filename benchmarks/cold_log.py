"""A cold `log counted` against the bare import of the command line's libraries."""

import shutil
import sys
import tempfile
from pathlib import Path

from ratio import BARE_LIBRARIES, ROOT, ratio

if __name__ == "__main__":
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name) / "season"
        shutil.copytree(ROOT / "sample_season", folder)
        command = [sys.executable, "-m", "seedstart", "log", "counted", "pea-shoot", "34"]
        ratio("log counted", [*command, "--season", str(folder)], BARE_LIBRARIES, 2.0)
