"""Standard input, output and error: closed, full, or with somebody at the other end."""

import os
import sys
from contextlib import suppress
from typing import IO


def stand_in() -> None:
    """Something in place of each stream that was closed when the program was started.

    Nothing is read from it, what is told is lost, and what is shown fails as on a full disk.
    """
    if sys.stdin is None:
        sys.stdin = open(os.devnull, encoding="utf-8")  # noqa: SIM115, PTH123
    if sys.stdout is None:
        sys.stdout = os.fdopen(os.open(os.devnull, os.O_RDONLY), "w")
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115, PTH123


def somebody_types() -> bool:
    """Whether a question would be answered."""
    return sys.stdin is not None and sys.stdin.isatty()


def flush() -> None:
    """All that was shown is out.

    Raises:
        OSError: It cannot be.
    """
    sys.stdout.flush()


def give_up(stream: IO[str]) -> None:
    """What is still to go to a stream is lost, and its end says nothing of it."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
