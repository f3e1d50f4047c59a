"""Print the n-th fenced `sh` block of a page, as written: `readme_block.py README.md 1`."""

import re
import sys
from pathlib import Path

page, number = sys.argv[1], int(sys.argv[2])
blocks = re.findall(r"^```sh\n(.*?)^```$", Path(page).read_text("utf-8"), re.MULTILINE | re.DOTALL)
sys.stdout.write(blocks[number - 1])
