import pytest
from sample_records import files

from seedstart import disk


@pytest.mark.parametrize("name", sorted(files()))
def test_the_records_of_the_sample_season_are_what_its_script_makes(name: str) -> None:
    assert disk.read(disk.shipped("sample_season") / name) == files()[name]
