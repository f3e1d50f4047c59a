from pathlib import Path

import pytest

from seedstart.problems import BadInputError
from seedstart.settings import read_settings, with_theme, writer_name


@pytest.fixture(autouse=True)
def own_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("SEEDSTART_SETTINGS", str(tmp_path))
    monkeypatch.delenv("SEEDSTART_WRITER", raising=False)
    return tmp_path / "settings.toml"


@pytest.mark.parametrize(
    ("text", "name"),
    [("Aunt Élise", "aunt-elise"), ("bench-2", "bench-2"), ("../../x", "x"), ("", ""), ("*", "")],
)
def test_a_writers_name_can_be_a_files_name_anywhere(text: str, name: str) -> None:
    assert writer_name(text) == name
    assert len(writer_name("long" * 50)) <= 32


def test_without_a_setting_the_writer_is_user_and_host() -> None:
    assert writer_name(read_settings().writer) == read_settings().writer != ""


def test_the_file_names_writer_and_theme_and_the_environment_comes_first(
    own_settings: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own_settings.write_text('writer = "Hut"\ntheme = "textual-light"\n', "utf-8")
    assert read_settings().writer == "hut"
    assert read_settings().theme == "textual-light"
    monkeypatch.setenv("SEEDSTART_WRITER", "bench")
    assert read_settings().writer == "bench"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("writer =", "line 1: found 'writer ='"),
        ("wrtr = 'x'", "writer"),
        ("writer = 5", "text in quotes"),
        ("writer = 'a'\nx = " + "[" * 5000, "not TOML"),
        ("x = " + "9" * 5000, "not TOML"),
        ('"a\\u001bb" = 1', "found"),
    ],
)
def test_a_wrong_settings_file_is_named(own_settings: Path, text: str, says: str) -> None:
    own_settings.write_text(text, "utf-8")
    with pytest.raises(BadInputError, match=says):
        read_settings()


@pytest.mark.parametrize(
    "old", [b"", b'writer = "hut"\n', b'# mine\ntheme = "dark" # usual\nwriter = "hut"\n']
)
def test_another_theme_leaves_the_rest_of_the_file_as_it_was(
    own_settings: Path, old: bytes
) -> None:
    own_settings.write_bytes(with_theme(old, "light"))
    assert read_settings().theme == "light"
    kept = [line for line in old.splitlines() if not line.startswith(b"theme")]
    assert [line for line in own_settings.read_bytes().splitlines() if line in kept] == kept


@pytest.mark.parametrize("name", ["CON", "nul", "Com1", "LPT9", "aux", "prn."])
def test_no_writer_is_called_like_a_device(name: str) -> None:
    assert writer_name(name) == f"{name.lower().strip('.')}-1"


def test_a_settings_file_may_begin_with_a_byte_order_mark(own_settings: Path) -> None:
    own_settings.write_bytes(b'\xef\xbb\xbfwriter = "hut"\n')
    assert read_settings().writer == "hut"
    own_settings.write_bytes(with_theme(own_settings.read_bytes(), "light"))
    assert read_settings().theme == "light"


@pytest.mark.parametrize(
    "old", [b'"theme" = "dark"\n', b"'theme'='dark'", b'writer = "hut"\r\n"theme" = "dark"\r\n']
)
def test_a_theme_under_a_quoted_key_is_changed_and_not_written_twice(
    own_settings: Path, old: bytes
) -> None:
    own_settings.write_bytes(with_theme(old, "light"))
    assert read_settings().theme == "light"


@pytest.mark.parametrize("old", [b'theme = """\ndark"""\n', b"writer =", b"\xff"])
def test_a_file_in_which_the_theme_cannot_be_set_is_left_alone(old: bytes) -> None:
    with pytest.raises(BadInputError, match=r"settings.toml"):
        with_theme(old, "light")
