"""Where there is no season yet: the first one made by a form, or a copy of the sample season."""

from pathlib import Path

from seedstart import clock, disk
from seedstart.app.forms.desk import why_not
from seedstart.app.forms.new_season import SeasonForm
from seedstart.app.new_season_screen import SAMPLE
from seedstart.disk.season_folder import check_new_season, make_season
from seedstart.season.plan import SEASON_FILE


def first_season_form() -> SeasonForm:
    """The form of a season that takes nothing over."""
    return SeasonForm(
        lambda folder, files: why_not(lambda: make_season(folder, files)), clock.local_zone()
    )


def copy_sample(here: Path) -> Path:
    """A copy of the sample season in a folder, unless it is there already.

    Raises:
        BadInputError: It cannot be made there.
    """
    folder = here / SAMPLE
    if not (folder / SEASON_FILE).is_file():
        check_new_season(folder, file=SAMPLE)
        disk.make_folder(folder, disk.read_tree(disk.shipped("sample_season")))
    return folder
