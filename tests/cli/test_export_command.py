"""`seedstart export ics`: the sample season's reminders, read back by another library."""

from pathlib import Path

import vobject

from runner import run
from seedstart import disk

SAMPLE = ["--season", str(disk.shipped("sample_season")), "--on", "2026-04-10"]


def exported(file: Path, *more: str) -> list[object]:
    result = run("export", "ics", str(file), *SAMPLE, *more)
    assert result.exit_code == 0, result.stderr
    return list(vobject.readOne(file.read_bytes().decode()).vevent_list)


def test_every_reminder_has_a_uid_of_its_own(tmp_path: Path) -> None:
    found = exported(tmp_path / "a.ics")
    uids = {one.uid.value for one in found}  # type: ignore[attr-defined]
    assert len(uids) == len(found) > 50


def test_exporting_again_leaves_the_file_as_it_is(tmp_path: Path) -> None:
    file = tmp_path / "a.ics"
    exported(file)
    before = file.read_bytes()
    exported(file)
    assert file.read_bytes() == before


def test_hardening_alone_has_a_day_for_each_step(tmp_path: Path) -> None:
    found = exported(tmp_path / "a.ics", "--only", "hardening")
    says = [one.summary.value for one in found]  # type: ignore[attr-defined]
    assert "Put cabbage-early.1 out: 4 h in the shade" in says
    assert all(text.startswith(("Put", "Keep", "Begin to harden off")) for text in says)


def test_a_kind_that_is_none_and_a_clock_that_is_none_are_refused_together() -> None:
    result = run("export", "ics", *SAMPLE, "--only", "weeding", "--alarm", "noon")
    assert result.exit_code == 2
    assert "--only: found 'weeding'. One of treat, sow, prick-out" in result.stderr
    assert "--alarm: found 'noon'. A time of day, e.g. 07:00" in result.stderr
