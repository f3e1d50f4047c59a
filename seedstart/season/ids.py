"""Ids of entries: UUIDv7, rising for each writer though the clock is set back."""

from typing import Final

_RANDOM_BITS: Final = 74
_TIME_BITS: Final = 48
_STEP_BITS: Final = 32


def next_id(last: str | None, now_ms: int, random: bytes) -> str:
    """An id above the last one of the same writer.

    Args:
        last: The writer's highest id so far; None, or one that is no UUIDv7, counts as none.
        now_ms: Milliseconds since 1970-01-01 UTC.
        random: Ten bytes from the machine's source of randomness.

    Raises:
        ValueError: Fewer than ten bytes, or a time that 48 bits do not hold.

    Source:
        RFC 9562 section 5.7, and 6.2 method 2: within a millisecond, or when the clock stands
        behind the last id, the random part of the last one grows by a random step.
    """
    if len(random) < 10 or not 0 <= now_ms < 1 << _TIME_BITS:
        raise ValueError("ten random bytes and a time from 1970 on")
    chance = int.from_bytes(random)
    fresh = now_ms << _RANDOM_BITS | chance % (1 << _RANDOM_BITS)
    before = _number(last)
    if before is None or fresh >> _RANDOM_BITS > before >> _RANDOM_BITS:
        return _written(fresh)
    # A carry out of the random part moves the time on by a millisecond: it still rises.
    risen = before + 1 + chance % (1 << _STEP_BITS)
    return _written(risen if risen < 1 << (_TIME_BITS + _RANDOM_BITS) else fresh)


def _number(written: str | None) -> int | None:
    """Time and random part as one number, version and variant left out."""
    digits = (written or "").replace("-", "")
    if len(digits) != 32 or digits[12] != "7" or digits[16] not in "89ab":
        return None
    try:
        whole = int(digits, 16)
    except ValueError:
        return None
    time, middle, end = whole >> 80, whole >> 64 & 0xFFF, whole & (1 << 62) - 1
    return time << _RANDOM_BITS | middle << 62 | end


def _written(number: int) -> str:
    time, middle, end = number >> _RANDOM_BITS, number >> 62 & 0xFFF, number & (1 << 62) - 1
    digits = f"{time << 80 | 7 << 76 | middle << 64 | 2 << 62 | end:032x}"
    return "-".join((digits[:8], digits[8:12], digits[12:16], digits[16:20], digits[20:]))
