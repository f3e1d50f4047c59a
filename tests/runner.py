"""Commands run as a grower types them, in process; and clean interpreters where that matters."""

import json
import subprocess
import sys
from typing import Any

from click.testing import CliRunner, Result

from seedstart.cli.main import cli


def run(*args: str, typed: str | None = None) -> Result:
    """One command; what it prints is in `stdout` and `stderr`."""
    return CliRunner().invoke(cli, list(args), input=typed)


def run_json(*args: str) -> Any:
    """What a command prints under `--json`; it must be all that it prints."""
    result = run(*args, "--json")
    assert result.exit_code in {0, 1}, result.stderr
    assert result.stderr == ""
    return json.loads(result.stdout)


def refused(*args: str) -> str:
    """What a wrong call says: exit code 2, nothing on standard output, no traceback."""
    result = run(*args)
    assert result.exit_code == 2, (result.exit_code, result.stdout, result.exception)
    assert result.stdout == ""
    assert "Traceback" not in result.stderr
    return result.stderr


def modules_after(*args: str) -> set[str]:
    """The modules that a cold command has loaded at its end."""
    code = (
        "import sys, contextlib, io\n"
        "from seedstart.cli.main import cli\n"
        "with contextlib.redirect_stdout(io.StringIO()), contextlib.suppress(SystemExit):\n"
        f"    cli({list(args)!r})\n"
        "print('\\n'.join(sys.modules))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    return set(done.stdout.split())
