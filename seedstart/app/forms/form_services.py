"""What the app gives to every form, and what it gets back. Forms themselves touch no file."""

from collections import Counter
from collections.abc import Callable, Iterable
from datetime import datetime
from pathlib import Path
from typing import Any

from msgspec import Struct

from seedstart import disk
from seedstart.acts.known import Known
from seedstart.crop_table.load import CropTable
from seedstart.disk.next_season_files import taken_over
from seedstart.disk.plan_files import append_lots, append_station, write_planned_test
from seedstart.disk.season_folder import make_season
from seedstart.open_season import OpenSeason
from seedstart.planning.lots.learning import learn
from seedstart.problems import BadInputError, in_words
from seedstart.season.journal.entries import Entry
from seedstart.season.plan.new_season import NewFiles
from seedstart.season.plan.season_file import LOTS_FILE, SEASON_FILE, Frost
from seedstart.season.plan.toml_blocks import Added

Drafts = tuple[Entry, ...]


class Written(Struct, frozen=True):
    """What a form has written.

    Attributes:
        drafts: The entries, as they were handed over to be recorded.
        at: When it happened; None for now.
    """

    drafts: Drafts
    at: datetime | None = None


class LastSeason(Struct, frozen=True):
    """What a new season may take over: lots, tests, stations, containers.

    Attributes:
        season_toml: The bytes of its season.toml.
        lots_toml: Likewise, of lots.toml.
        crops: Its crop table.
        take_over: The new season's files, from its title and its last frost.
    """

    season_toml: bytes
    lots_toml: bytes
    crops: CropTable
    take_over: Callable[[str, Frost | None], NewFiles]


class Desk(Struct, frozen=True):
    """The app, as a form knows it.

    Those that write answer with None when it is written, else with why not; those that add to the
    season's files answer with what they added, else with why nothing was.

    Attributes:
        look: The season at this moment; asked at every key, so that a form left open knows what
            others did meanwhile.
        catch_up: Take in what others wrote; called before anything is written.
        write: Record entries as one act; the time is None for now.
        add_lot: Add a lot to lots.toml, from its keys.
        add_station: Add a station to season.toml, likewise.
        plan_test: Write the file of a germination test, from its name and its keys.
        make_season: Make the folder of a new season.
        used: How often the journal has each kind of entry.
        last: What a new season may take over from this one.
    """

    look: Callable[[], Known]
    catch_up: Callable[[], object]
    write: Callable[[Drafts, datetime | None], str | None]
    add_lot: Callable[[dict[str, Any]], Added | str]
    add_station: Callable[[dict[str, Any]], Added | str]
    plan_test: Callable[[str, dict[str, Any]], str | None]
    make_season: Callable[[Path, NewFiles], str | None]
    used: Callable[[], Counter[type[Entry]]] = Counter
    last: Callable[[], LastSeason] | None = None


def desk_of(
    opened: OpenSeason,
    record: Callable[[Drafts, datetime | None], object],
    catch_up: Callable[[], object],
    added: Callable[[Added], object] = lambda _: None,
) -> Desk:
    """The desk of an open season.

    Args:
        opened: The season.
        record: Records entries and has drawn again what changed; raises BadInputError when the
            disk refused.
        catch_up: Takes in what others wrote, and has that drawn.
        added: Told of what came into the season's files.
    """

    def add(append: Callable[[], Added]) -> Added | str:
        try:
            found = append()
        except BadInputError as error:
            return _in_words(error)
        added(found)
        catch_up()
        return found

    def plan_test(name: str, keys: dict[str, Any]) -> str | None:
        why = why_not(lambda: write_planned_test(opened.folder, name, keys))
        catch_up()
        return why

    return Desk(
        look=opened.known,
        catch_up=catch_up,
        write=lambda drafts, at: why_not(lambda: record(drafts, at)),
        add_lot=lambda keys: add(lambda: append_lots(opened.folder, [keys])),
        add_station=lambda keys: add(
            lambda: append_station(opened.folder, keys, opened.known().trays())
        ),
        plan_test=plan_test,
        make_season=lambda folder, files: why_not(lambda: make_season(folder, files)),
        used=lambda: uses(opened.journal.by_id.values()),
        last=lambda: last_season(opened),
    )


def why_not(write: Callable[[], object]) -> str | None:
    """Do it; None, or in words why it was not done."""
    try:
        write()
    except BadInputError as error:
        return _in_words(error)
    return None


def _in_words(error: BadInputError) -> str:
    return " ".join(in_words(problem) for problem in error.problems)


def uses(entries: Iterable[Entry]) -> Counter[type[Entry]]:
    """How often each kind of entry was written."""
    return Counter(map(type, entries))


def last_season(opened: OpenSeason) -> LastSeason:
    """What a new season may take over from the one that is open."""
    lots = opened.folder / LOTS_FILE

    def take_over(title: str, frost: Frost | None) -> NewFiles:
        learned = learn(opened.plan, opened.records(), opened.readings(), opened.now())
        return taken_over(opened.folder, learned, opened.plan.crops, title, frost)

    return LastSeason(
        disk.read(opened.folder / SEASON_FILE),
        disk.read(lots) if lots.exists() else b"",
        opened.plan.crops,
        take_over,
    )
