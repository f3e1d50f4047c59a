"""What can hurt, and what is taken for something else: by hand, from cautions.csv and others."""

from typing import Final

from crop_pooling.sources import weak_key
from seedstart.crop_table.crop import Basis, Caution

_CALIFORNIA: Final = "california-poison-control"
_CHILDREN: Final = "philadelphia-poisonous-seeds-2013"
_PETS: Final = "harms cats and dogs"
_POISONOUS: Final = "poisonous"
_SKIN: Final = "sap burns skin in the sun"


def _caution(label: str, text: str, *keys: str, basis: Basis = "source") -> Caution:
    return Caution(text=text, basis=basis, sources=keys, label=label)


def _from_memory(label: str, text: str) -> Caution:
    return Caution(text=text, basis="memory", label=label)


_ONIONS: Final = _caution(
    _PETS,
    "All of it, raw or cooked, poisons cats and dogs; signs may come days later.",
    "vca-onions-dogs",
    "vetmeds-onions",
)
_ONIONS_CATS: Final = _caution(
    _PETS,
    "All of it, raw or cooked, poisons cats and dogs; signs may come days later.",
    "vetmeds-onions",
)
_SUN: Final = _caution(
    _SKIN,
    "Leaves and sap can blister skin that is then in the sun: sleeves, wash at once.",
    "brackney-skin",
)
_SUN_WEAK: Final = _caution(
    _SKIN,
    "In rare cases the leaves bring a rash in hot sun: sleeves, wash at once.",
    weak_key("The 3 Hour Garden"),
    basis="weak",
)
_PETS_LIST: Final = _caution(
    _PETS, "Listed as troublesome to cats and dogs.", weak_key("Animal Bridges"), basis="weak"
)
_PINKS: Final = _from_memory("upsets cats and dogs", "Leaves upset the stomach of cats and dogs.")

CAUTIONS: Final[dict[str, tuple[Caution, ...]]] = {
    "ammi": (_from_memory(_SKIN, "Sap on the skin can blister it in the sun."),),
    "annual vinca": (
        _from_memory(_POISONOUS, "The whole plant is poisonous to people, cats and dogs."),
    ),
    "asparagus": (
        _caution("berries are poisonous", "The red berries are poisonous; raw shoots can inflame"
                 " the skin.", "california-stark-poisonous"),
    ),
    "borage": (
        _caution("not in quantity", "Leaves, flowers and seeds are not for eating in quantity or"
                 " for long, nor in pregnancy; bristles irritate the skin.",
                 weak_key("Botanical-online"), basis="weak"),
        _from_memory("foxglove looks like it", "Young foxglove looks like it and is poisonous:"
                     " label both."),
    ),
    "broad bean": (
        _caution("favism", "Dangerous to people with favism, an inherited trait, by eating it or"
                 " from its pollen; not to be eaten raw.", "hong-kong-beans-2023",
                 "willis-beans"),
    ),
    "bunching onion": (_ONIONS_CATS,),
    "cape gooseberry": (
        _caution("unripe fruit is poisonous", "Green or unripe fruit is not to be eaten.",
                 weak_key("durgan.org"), basis="weak"),
    ),
    "carnation": (_PINKS,),
    "carrot": (_SUN,),
    "castor bean": (
        _caution("DEADLY POISONOUS SEED", "Deadly: the seed holds ricin, and a chewed seed can"
                 " kill a child. Gloves; never where children or animals are.",
                 "peterborough-castor-bean"),
    ),
    "celeriac": (_SUN_WEAK,),
    "celery": (_SUN_WEAK,),
    "chamomile": (
        _from_memory("allergy", "People who cannot bear the daisy family may be allergic to it."),
    ),
    "chives": (_ONIONS,),
    "coleus": (
        _PETS_LIST,
    ),
    "columbine": (
        _caution("sap irritates skin", "The sap may irritate the skin.", weak_key("Park Seed"),
                 basis="weak"),
    ),
    "corn poppy": (_from_memory("poisonous to animals", "Poisonous to animals that eat it."),),
    "cypress vine": (
        _from_memory("poisonous seed", "The seed is poisonous to people, cats and dogs."),
    ),
    "dahlia": (_from_memory("upsets cats and dogs", "Leaves upset cats and dogs, and the skin."),),
    "delphinium": (
        _from_memory(_POISONOUS, "All of it is poisonous to people and animals, seed and young"
                     " plants most."),
    ),
    "dianthus": (_PINKS,),
    "dill": (_SUN,),
    "feverfew": (
        _from_memory("skin allergy", "It can bring a skin allergy, and sores in the mouth when"
                     " chewed; keep it from cats and dogs."),
    ),
    "florence fennel": (_SUN,),
    "four-o'clock": (
        _caution("poisonous seed and root", "Seeds and roots are poisonous if eaten.", _CHILDREN,
                 "north-carolina-plants", "sunset-four-oclock", "texas-tech-four-oclock"),
    ),
    "foxglove": (
        _caution(_POISONOUS, "All of it is poisonous to people, cats and dogs: it acts on the"
                 " heart.", _CALIFORNIA, _CHILDREN, "youngken-karas"),
        _from_memory("looks like comfrey and borage", "Its young leaves are taken for comfrey and"
                     " borage: label it, and keep it away from herbs."),
    ),
    "garlic chives": (_ONIONS_CATS,),
    "geranium": (
        _caution(_PETS, "Leaves, stems and flowers make cats and dogs sick, and irritate skin.",
                 "times-picayune-2021"),
    ),
    "heliotrope": (
        _caution(_POISONOUS, "All parts are poisonous to people, cats and dogs; the leaves may"
                 " irritate the skin.", _CALIFORNIA),
    ),
    "hyacinth bean": (
        _caution("poisonous seed", "Ripe dry seeds are poisonous.", "ramga-lablab"),
    ),
    "iceland poppy": (
        _from_memory(_POISONOUS, "Poisonous to people, cats and dogs if eaten."),
    ),
    "larkspur": (
        _caution(_POISONOUS, "Leaves, flowers and seeds are poisonous to people, cats and dogs,"
                 " young leaves and ripe seeds most.", _CALIFORNIA, "fine-gardening",
                 "missouri-botanical-plants", "ramga-larkspur", "this-old-house-larkspur"),
    ),
    "leek": (_ONIONS,),
    "lima bean": (
        _from_memory("not raw", "Ripe seeds are poisonous raw: boil them well."),
    ),
    "lobelia": (
        _caution(_POISONOUS, "Poisonous to people, cats and dogs: a near relative is listed, and"
                 " garden lobelia holds lobeline too.", _CALIFORNIA),
    ),
    "lovage": (_from_memory(_SKIN, "Sap and root can blister skin that is then in the sun."),),
    "lupine": (_from_memory("poisonous seed", "The seeds are poisonous to people and animals."),),
    "moonflower": (
        _from_memory("poisonous seed", "The seed is poisonous to people, cats and dogs."),
    ),
    "morning glory": (
        _caution("poisonous seed", "Swallowed seeds cause hallucinations, nausea and low blood"
                 " pressure; keep them from children, cats and dogs.", _CHILDREN,
                 "canada-poisonous-ipomoea", "national-capital-morning-glory"),
    ),
    "nicotiana": (
        _caution(_POISONOUS, "The whole plant is poisonous to people, cats and dogs: it holds"
                 " nicotine.", _CALIFORNIA),
    ),
    "onion": (_ONIONS,),
    "ornamental pepper": (
        _from_memory("burns skin and eyes", "The fruit burns mouth, skin and eyes: keep it from"
                     " children and animals."),
    ),
    "parsley": (_SUN,),
    "parsnip": (
        _caution(_SKIN, "Leaves and sap burn skin that is then in the sun, with blisters: sleeves"
                 " and gloves.", "brackney-skin"),
    ),
    "pea": (
        _caution("sweet pea looks like it", "Sweet pea looks like it and is poisonous: label both,"
                 " and keep their seed apart.", _CHILDREN),
    ),
    "pepper": (
        _from_memory("hot kinds burn", "Seed and flesh of hot kinds burn skin and eyes: gloves."),
    ),
    "perilla": (
        _caution("harms cattle and horses", "Wild forms can kill cattle and horses that eat"
                 " them.", weak_key("Wild Garden Seed"), basis="weak"),
    ),
    "portulaca": (
        _PETS_LIST,
    ),
    "primula": (
        _from_memory("irritates skin", "The leaves irritate the skin; mildly poisonous to cats and"
                     " dogs."),
    ),
    "runner bean": (
        _caution("not raw", "Poisonous raw or underdone, as common beans are: boil them well.",
                 "hong-kong-beans-2023", basis="relative"),
    ),
    "shallot": (_ONIONS_CATS,),
    "snap bean": (
        _caution("not raw", "Ripe seeds are poisonous raw or half cooked: boil them ten minutes or"
                 " more.", "fda-bad-bug-book"),
    ),
    "sorrel": (
        _caution("much oxalic acid", "It holds much oxalic acid: little of it for people with"
                 " gout.", "reeves-sorrel"),
    ),
    "soybean": (
        _caution("not raw", "Not to be eaten raw.", "hong-kong-beans-2023", "willis-beans"),
    ),
    "sweet pea": (
        _caution("poisonous, not a pea to eat", "Pods and seeds are poisonous to people and"
                 " animals, above all horses. It looks like the garden pea: label both, and keep"
                 " their seed apart.", _CHILDREN, "canada-poisonous-sweet-pea",
                 "massey-sweet-pea"),
    ),
    "sweet william": (_PINKS,),
    "tomato": (
        _caution("leaves are poisonous", "Leaves and stems are poisonous; the ripe fruit is"
                 " harmless.", "california-stark-poisonous", "pediatric-advisor"),
    ),
    "wax begonia": (
        _from_memory(_PETS, "Roots and tubers burn the mouth of cats and dogs."),
    ),
    "yarrow": (
        _from_memory("harms cats, dogs, horses", "Poisonous to cats, dogs and horses; it may"
                     " irritate the skin."),
    ),
}  # fmt: skip
