"""The crop table, computed: every crop of the list with all its figures."""

from functools import cache

from crop_pooling import nights, seeds, warmth, weeks
from crop_pooling.cautions import CAUTIONS
from crop_pooling.crop_list import CROPS
from crop_pooling.judgements import NOTES, SEEDLINGS_PER_SEED
from crop_pooling.listed import Listed
from crop_pooling.treatments import TREATS
from seedstart.crop_table.crop import Crop

_EVERY_CROP = tuple(crop.name for crop in CROPS)


@cache
def crop_table() -> dict[str, Crop]:
    """Every crop by name, in the order of names."""
    return {crop.name: compute(crop) for crop in sorted(CROPS)}


def compute(crop: Listed) -> Crop:
    """One crop of the table."""
    word, word_from = seeds.hardiness(crop)
    in_place = crop.raising == "sown in place"
    set_out = weeks.set_out_weeks(crop.name, word)
    indoors = None if in_place else weeks.weeks_indoors(crop.name)
    sow = None if in_place else weeks.sow_weeks(crop.name, set_out)
    tray = warmth.tray_setting(crop)
    table = warmth.emergence_table(crop)
    light, light_from = seeds.light(crop)
    return Crop(
        name=crop.name,
        also=crop.also,
        botanical=crop.botanical,
        group=crop.group,
        hardiness=word,
        hardiness_from=word_from,
        clock="table" if table else "trays",
        light=light,
        light_from=light_from,
        raising=crop.raising,
        raising_from=seeds.raising(crop),
        weeks_before_last_frost=sow
        and weeks.grown_as_long_as_printed(crop.name, sow, set_out, indoors),
        set_out_weeks=None if in_place else set_out,
        weeks_indoors=indoors,
        sow_outdoors_weeks=weeks.sow_outdoors_weeks(crop.name, word) if in_place else None,
        lowest_c=warmth.lowest(crop, word),
        fastest_c=warmth.fastest(crop, tray),
        highest_c=warmth.highest(crop, word),
        tray_c=tray,
        days_in_trays=warmth.days_in_trays(crop),
        first_to_last=warmth.first_to_last(crop, _EVERY_CROP),
        set_out_soil_c=None if in_place else seeds.set_out_soil_c(crop, word),
        night_unhardened_c=None if in_place else nights.unhardened(crop),
        night_hardened_c=None if in_place else nights.hardened(crop),
        bolts_below_c=nights.bolts_below(crop),
        bolts_after_days=nights.bolts_after(crop),
        depth_mm=seeds.depth_mm(crop),
        seeds_per_gram=seeds.seeds_per_gram(crop),
        seed_life_years=seeds.seed_life_years(crop),
        minimum_germination_percent=seeds.minimum_germination_percent(crop),
        seedlings_per_seed=SEEDLINGS_PER_SEED.get(crop.name),
        emergence=table,
        shares=warmth.shares(crop),
        treat=TREATS.get(crop.name, ()),
        cautions=CAUTIONS.get(crop.name, ()),
        notes=(NOTES[crop.name],) if crop.name in NOTES else (),
    )
