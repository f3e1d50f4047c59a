"""What the app gives to every form, and what it gets back. Forms themselves touch no file."""

from collections import Counter
from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import datetime
from pathlib import Path
from typing import Any, Final, Literal

from msgspec import Struct

from seedstart import disk
from seedstart.acts.known import Known
from seedstart.crop_table.load import CropTable
from seedstart.disk.next_season_files import taken_over
from seedstart.disk.plan_changes import (
    Edit,
    append_container,
    append_lots,
    append_station,
    edit_plan,
    previewed,
    take_file_away,
    write_planned_test,
    write_trial_file,
)
from seedstart.disk.plan_files import Edited
from seedstart.disk.season_folder import make_season
from seedstart.open_season import OpenSeason
from seedstart.planning.calendar.moves import moves, moves_in_words
from seedstart.planning.lots.learning import learn
from seedstart.planning.trials.trial_planning import Planned, plan_request
from seedstart.problems import BadInputError, Typed, in_words
from seedstart.season.journal.entries import Entry
from seedstart.season.plan.changes import FILE_OF, Kind, change, change_season, drop, rename
from seedstart.season.plan.new_season import NewFiles
from seedstart.season.plan.season_file import LOTS_FILE, SEASON_FILE, Frost, Season
from seedstart.season.plan.toml_blocks import Added
from seedstart.season.trials.planned_tests import changed_test, path_of_test, test_value
from seedstart.season.trials.trial_request import TrialRequest, changed_trial, read_changes

Drafts = tuple[Entry, ...]
_LOTS_RECKONED: Final = 100  # at every key: more would be felt


class Written(Struct, frozen=True):
    """What a form has written.

    Attributes:
        drafts: The entries, as they were handed over to be recorded.
        at: When it happened; None for now.
    """

    drafts: Drafts
    at: datetime | None = None


class Meant(Struct, frozen=True):
    """What is to change in the plan.

    Attributes:
        kind: A lot, a station, a container, a germination test, a trial, or the season itself.
        name: Its present name; of a season none.
        said: What was typed, by key; None takes the key out.
        to: Another name for it; empty where it keeps its own.
        out: It goes out of the plan.
    """

    kind: Kind | Literal["season", "test", "trial"]
    name: str
    said: Mapping[str, str | None] = {}
    to: str = ""
    out: bool = False

    @property
    def file(self) -> str:
        """The file that changes."""
        if self.kind == "test" or self.kind == "trial":
            return path_of_test(self.name)
        return SEASON_FILE if self.kind == "season" else FILE_OF[self.kind]

    def in_words(self) -> str:
        """What was done, as it is confirmed."""
        if self.kind == "season":
            return "Changed: the season."
        if self.kind in {"test", "trial"} and not self.out:
            return f"Written: what is planned of the {self.kind} {self.name}."
        if self.out:
            return f"Out of the plan: the {self.kind} {self.name}; its journal stays."
        if self.to:
            return (
                f"The {self.kind} {self.name} is called {self.to} now; its journal stays with it."
            )
        return f"Changed: the {self.kind} {self.name}."

    def edit(self, trays: Sequence[str]) -> Edit:
        """The change as it is made in the file's bytes; `trays` bear names in the journal."""
        kind = self.kind
        if kind == "season":
            return lambda old, _: change_season(old, self.said)
        if kind == "trial":
            new = read_changes(Typed(), self.said)
            return lambda old, plan: changed_trial(old, self.name, new, plan)
        if kind == "test":
            keys = {key: test_value(key, text) if text else None for key, text in self.said.items()}
            return lambda old, plan: changed_test(old, self.name, keys, plan, file="change test")

        def edited(old: bytes, plan: Season) -> bytes:
            if self.out:
                return drop(old, kind, self.name, plan)
            new = change(old, kind, self.name, self.said, plan, trays) if self.said else old
            return rename(new, kind, self.name, self.to, plan, trays) if self.to else new

        return edited


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
        add_container: Add a container to season.toml, likewise.
        change: Change the plan where it stands; answers with what became of the file, else with
            why nothing was written.
        moved: What sowings a change would move, in sentences; of a large season none.
        plan_test: Write the file of a germination test, from its name and its keys; as `change`.
        draw_trial: Draw the places of a trial that is asked for.
        plan_trial: Write the file of such a trial; as `change`.
        make_season: Make the folder of a new season.
        used: How often the journal has each kind of entry.
        last: What a new season may take over from this one.
    """

    look: Callable[[], Known]
    catch_up: Callable[[], object]
    write: Callable[[Drafts, datetime | None], str | None]
    add_lot: Callable[[dict[str, Any]], Added | str]
    add_station: Callable[[dict[str, Any]], Added | str]
    add_container: Callable[[dict[str, Any]], Added | str]
    change: Callable[[Meant], Edited | str]
    moved: Callable[[Meant], list[str]]
    plan_test: Callable[[str, dict[str, Any]], Edited | str]
    draw_trial: Callable[[TrialRequest], Planned]
    plan_trial: Callable[[TrialRequest], Edited | str]
    make_season: Callable[[Path, NewFiles], str | None]
    used: Callable[[], Counter[type[Entry]]] = Counter
    last: Callable[[], LastSeason] | None = None


def desk_of(
    opened: OpenSeason,
    record: Callable[[Drafts, datetime | None], object],
    catch_up: Callable[[], object],
    added: Callable[[Added], object] = lambda _: None,
    changed: Callable[[Meant, Edited], object] = lambda _meant, _edited: None,
) -> Desk:
    """The desk of an open season.

    Args:
        opened: The season.
        record: Records entries and has drawn again what changed; raises BadInputError when the
            disk refused.
        catch_up: Takes in what others wrote, and has that drawn.
        added: Told of what came into the season's files.
        changed: Told of what was changed in them.
    """

    def add(append: Callable[[], Added]) -> Added | str:
        try:
            found = append()
        except BadInputError as error:
            return _in_words(error)
        added(found)
        catch_up()
        return found

    def edit(meant: Meant, make: Callable[[], Edited]) -> Edited | str:
        try:
            found = make()
        except BadInputError as error:
            return _in_words(error)
        changed(meant, found)
        catch_up()
        return found

    def change_plan(meant: Meant) -> Edited | str:
        if meant.kind in {"test", "trial"} and meant.out:
            path = opened.folder / meant.file
            return edit(meant, lambda: take_file_away(opened.folder, meant.file, disk.read(path)))
        made = meant.edit(opened.known().trays())

        def make() -> Edited:
            if (
                meant.kind == "season"
            ):  # a record that gives no date is refused before it is written
                opened.plan_if(previewed(opened.folder, meant.file, made))
            return edit_plan(opened.folder, meant.file, made)

        return edit(meant, make)

    def plan_test(name: str, keys: dict[str, Any]) -> Edited | str:
        meant = Meant("test", name, keys)
        return edit(meant, lambda: write_planned_test(opened.folder, name, keys))

    def draw_trial(request: TrialRequest) -> Planned:
        plan, records = opened.plan, opened.records()
        return plan_request(request, plan, records, opened.today, opened.readings())

    def plan_trial(request: TrialRequest) -> Edited | str:
        trial = draw_trial(request).trial
        return edit(Meant("trial", trial.name), lambda: write_trial_file(opened.folder, trial))

    return Desk(
        look=opened.known,
        catch_up=catch_up,
        write=lambda drafts, at: why_not(lambda: record(drafts, at)),
        add_lot=lambda keys: add(lambda: append_lots(opened.folder, [keys])),
        add_station=lambda keys: add(
            lambda: append_station(opened.folder, keys, opened.known().trays())
        ),
        add_container=lambda keys: add(lambda: append_container(opened.folder, keys)),
        change=change_plan,
        moved=lambda meant: moved(opened, meant),
        plan_test=plan_test,
        draw_trial=draw_trial,
        plan_trial=plan_trial,
        make_season=lambda folder, files: why_not(lambda: make_season(folder, files)),
        used=lambda: uses(opened.journal.by_id.values()),
        last=lambda: last_season(opened),
    )


def moved(opened: OpenSeason, meant: Meant) -> list[str]:
    """What sowings a change would move; nothing of a season so large that it would be felt."""
    if meant.kind in {"test", "trial"} or len(opened.plan.lots) > _LOTS_RECKONED:
        return []
    try:
        made = previewed(opened.folder, meant.file, meant.edit(opened.known().trays()))
    except BadInputError:  # the fields say what is wrong
        return []
    try:
        then = opened.calendar_with(opened.plan_if(made))
    except BadInputError as error:
        return [_in_words(error)]
    return moves_in_words(moves(opened.calendar(), then, opened.today))


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
