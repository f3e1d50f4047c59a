"""What the pages show is what the program prints."""

import re
import shlex
from pathlib import Path

import pytest

from runner import run

TOP = Path(__file__).resolve().parent.parent
README = (TOP / "README.md").read_text("utf-8")


def shown() -> list[tuple[str, list[str]]]:
    """Each `$ seedstart …` of the README and the lines that it shows of the output."""
    pattern = r"^```text\n\$ seedstart (.*?)\n(.*?)^```$"
    blocks = re.findall(pattern, README, re.MULTILINE | re.DOTALL)
    return [(command, lines.splitlines()) for command, lines in blocks]


@pytest.mark.parametrize(("command", "lines"), shown())
def test_the_readme_shows_what_the_program_prints(command: str, lines: list[str]) -> None:
    printed = run(*shlex.split(command)).stdout.splitlines()
    for line in lines:
        assert line.strip() == "…" or line in printed, line


def test_the_readme_opens_with_the_job_and_the_two_commands() -> None:
    first, second = re.findall(r"^```(?:sh|text)\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)[:2]
    assert "seedstart calendar --last-frost" in first
    assert "pytest" in second
    assert len(first.splitlines()) == len(second.splitlines()) == 1
    paragraph = README.split("\n\n")[1]
    assert paragraph.count("\n") < 10
    assert "last frost" in paragraph


def test_links_between_pages_lead_somewhere() -> None:
    for page in [TOP / "README.md", TOP / "DEVELOPERS.md", *(TOP / "docs").glob("*.md")]:
        for link in re.findall(r"\]\(([^)#:]+)\)", page.read_text("utf-8")):
            assert (page.parent / link).exists(), (page.name, link)
