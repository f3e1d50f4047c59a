"""The crops of the table, with what no reference table says of them: names, raising, usual class.

`usual` is the hardiness class, `raising` how the seedlings are raised and `depth_mm` how deep the
seed is sown in trays, all by common practice; sources overrule the first and the last.
"""

from typing import Final, NamedTuple

from seedstart.crop_table.crop import Group, Hardiness, Raising


class Listed(NamedTuple):
    """One crop of the table.

    Attributes:
        depth_mm: Depth in trays by common practice; 0 is pressed in.
        relative: The crop whose temperatures stand in where no source prints this one's.
        borrows_table: Whether it takes the relative's emergence table as well.
    """

    name: str
    botanical: str
    group: Group
    usual: Hardiness
    raising: Raising
    depth_mm: float
    also: tuple[str, ...] = ()
    relative: str = ""
    borrows_table: bool = False


def _vegetable(
    name: str,
    botanical: str,
    usual: Hardiness,
    raising: Raising,
    depth_mm: float,
    *also: str,
    like: str = "",
    table_of: str = "",
) -> Listed:
    return Listed(
        name, botanical, "vegetable", usual, raising, depth_mm, also, table_of or like,
        bool(table_of),
    )  # fmt: skip


def _herb(
    name: str, botanical: str, usual: Hardiness, raising: Raising, depth_mm: float, *also: str,
    like: str = "",
) -> Listed:  # fmt: skip
    return Listed(name, botanical, "herb", usual, raising, depth_mm, also, like)


def _flower(
    name: str, botanical: str, usual: Hardiness, raising: Raising, depth_mm: float, *also: str,
    like: str = "",
) -> Listed:  # fmt: skip
    return Listed(name, botanical, "flower", usual, raising, depth_mm, also, like)


_PRICKED: Final = "pricked out"
_POT: Final = "own pot"
_CLUMP: Final = "clump"
_PLACE: Final = "sown in place"
_HALF: Final = "half_hardy"
_VERY: Final = "very_tender"

# fmt: off
CROPS: Final[tuple[Listed, ...]] = (
    # Cabbage family
    _vegetable("broccoli", "Brassica oleracea Italica Group", "hardy", _PRICKED, 6,
               "calabrese", like="cabbage"),
    _vegetable("brussels sprouts", "Brassica oleracea Gemmifera Group", "hardy", _PRICKED, 6,
               "brussels sprout", like="cabbage"),
    _vegetable("cabbage", "Brassica oleracea Capitata Group", "hardy", _PRICKED, 6,
               "head cabbage", "savoy cabbage"),
    _vegetable("cauliflower", "Brassica oleracea Botrytis Group", _HALF, _PRICKED, 6),
    _vegetable("chinese cabbage", "Brassica rapa subsp. pekinensis", _HALF, _POT, 6,
               "napa cabbage", "chinese leaves", table_of="cabbage"),
    _vegetable("collards", "Brassica oleracea Viridis Group", "hardy", _PRICKED, 6,
               "collard", "collard greens", like="cabbage"),
    _vegetable("kale", "Brassica oleracea Acephala Group", "hardy", _PRICKED, 6,
               "borecole", "curly kale", like="cabbage"),
    _vegetable("kohlrabi", "Brassica oleracea Gongylodes Group", "hardy", _PRICKED, 6,
               like="cabbage"),
    _vegetable("mustard", "Brassica juncea", _HALF, _PRICKED, 6,
               "mustard greens", "leaf mustard", table_of="cabbage"),
    _vegetable("pak choi", "Brassica rapa Chinensis Group", _HALF, _PRICKED, 6,
               "bok choy", "pak-choi", table_of="cabbage"),
    _vegetable("radish", "Raphanus sativus", "hardy", _PLACE, 13),
    _vegetable("rocket", "Eruca vesicaria subsp. sativa", "hardy", _CLUMP, 6,
               "arugula", "roquette", like="cabbage"),
    _vegetable("turnip", "Brassica rapa subsp. rapa", "hardy", _PLACE, 6),
    # Onion family
    _vegetable("bunching onion", "Allium fistulosum and A. cepa", "hardy", _CLUMP, 6,
               "scallion", "spring onion", "green onion", "welsh onion", table_of="onion"),
    _vegetable("leek", "Allium ampeloprasum Porrum Group", "hardy", _CLUMP, 6, like="onion"),
    _vegetable("onion", "Allium cepa", "hardy", _CLUMP, 6, "bulb onion"),
    _vegetable("shallot", "Allium cepa Aggregatum Group", "hardy", _CLUMP, 6, like="onion"),
    # Leaves and roots
    _vegetable("artichoke", "Cynara cardunculus Scolymus Group", _HALF, _POT, 13,
               "globe artichoke"),
    _vegetable("asparagus", "Asparagus officinalis", "hardy", _PRICKED, 13),
    _vegetable("beet", "Beta vulgaris Conditiva Group", _HALF, _CLUMP, 13,
               "beetroot", "table beet"),
    _vegetable("carrot", "Daucus carota subsp. sativus", _HALF, _PLACE, 6),
    _vegetable("celeriac", "Apium graveolens var. rapaceum", _HALF, _PRICKED, 0,
               "celery root", like="celery"),
    _vegetable("celery", "Apium graveolens var. dulce", _HALF, _PRICKED, 0),
    _vegetable("chard", "Beta vulgaris Cicla Group", _HALF, _PRICKED, 13,
               "swiss chard", "leaf beet", "silverbeet", table_of="beet"),
    _vegetable("chicory", "Cichorium intybus", _HALF, _PRICKED, 6,
               "radicchio", "witloof", table_of="lettuce"),
    _vegetable("endive", "Cichorium endivia", _HALF, _PRICKED, 6,
               "escarole", "frisee", table_of="lettuce"),
    _vegetable("florence fennel", "Foeniculum vulgare Azoricum Group", _HALF, _POT, 6,
               "bulb fennel", "finocchio", like="fennel"),
    _vegetable("lettuce", "Lactuca sativa", "hardy", _PRICKED, 3,
               "head lettuce", "leaf lettuce", "romaine", "cos lettuce"),
    _vegetable("parsnip", "Pastinaca sativa", _HALF, _PLACE, 13),
    _vegetable("spinach", "Spinacia oleracea", "hardy", _POT, 13),
    # Fruits
    _vegetable("cucumber", "Cucumis sativus", _VERY, _POT, 15, "gherkin"),
    _vegetable("eggplant", "Solanum melongena", _VERY, _PRICKED, 6, "aubergine", "brinjal"),
    _vegetable("gourd", "Lagenaria siceraria or Cucurbita pepo", _VERY, _POT, 20,
               "bottle gourd", "calabash", table_of="cucumber"),
    _vegetable("husk cherry", "Physalis pruinosa", "tender", _PRICKED, 6,
               "ground cherry", "husk tomato", table_of="tomato"),
    _vegetable("melon", "Cucumis melo", _VERY, _POT, 15, "muskmelon", "cantaloupe"),
    _vegetable("okra", "Abelmoschus esculentus", _VERY, _POT, 13, "lady's fingers", "bhindi"),
    _vegetable("pepper", "Capsicum annuum", _VERY, _PRICKED, 6,
               "capsicum", "sweet pepper", "bell pepper", "chilli", "chili", "chile"),
    _vegetable("pumpkin", "Cucurbita pepo (also C. maxima, C. moschata)", _VERY, _POT, 20,
               table_of="cucumber"),
    _vegetable("summer squash", "Cucurbita pepo", _VERY, _POT, 20,
               "courgette", "zucchini", "marrow", "pattypan", like="cucumber"),
    _vegetable("tomatillo", "Physalis philadelphica", "tender", _PRICKED, 6, table_of="tomato"),
    _vegetable("tomato", "Solanum lycopersicum", "tender", _PRICKED, 6),
    _vegetable("watermelon", "Citrullus lanatus", _VERY, _POT, 20),
    _vegetable("winter squash", "Cucurbita maxima or C. moschata", _VERY, _POT, 20,
               "butternut", "hubbard", "kabocha", like="cucumber"),
    # Seeds and pods
    _vegetable("lima bean", "Phaseolus lunatus", _VERY, _POT, 25, "butter bean"),
    _vegetable("pea", "Pisum sativum", "hardy", _POT, 25, "garden pea", "snap pea", "snow pea"),
    _vegetable("snap bean", "Phaseolus vulgaris", "tender", _POT, 25,
               "french bean", "green bean", "bush bean", "pole bean"),
    _vegetable("sweet corn", "Zea mays", "tender", _POT, 25, "corn", "sweetcorn", "maize"),
    # Herbs
    _herb("basil", "Ocimum basilicum", _VERY, _PRICKED, 3, "sweet basil"),
    _herb("chives", "Allium schoenoprasum", "hardy", _CLUMP, 6, "chive", like="onion"),
    _herb("coriander", "Coriandrum sativum", _HALF, _POT, 13, "cilantro"),
    _herb("dill", "Anethum graveolens", _HALF, _POT, 3),
    _herb("lavender", "Lavandula angustifolia", "hardy", _PRICKED, 3),
    _herb("lemon balm", "Melissa officinalis", "hardy", _PRICKED, 0, "balm"),
    _herb("oregano", "Origanum vulgare", _HALF, _PRICKED, 0, "wild marjoram"),
    _herb("parsley", "Petroselinum crispum", _HALF, _PRICKED, 6),
    _herb("rosemary", "Salvia rosmarinus", _HALF, _PRICKED, 3),
    _herb("sage", "Salvia officinalis", "hardy", _PRICKED, 6, "garden sage"),
    _herb("summer savory", "Satureja hortensis", "tender", _PRICKED, 3, "savory"),
    _herb("sweet marjoram", "Origanum majorana", "tender", _PRICKED, 0, "marjoram"),
    _herb("thyme", "Thymus vulgaris", "hardy", _CLUMP, 0),
    # Flowers
    _flower("ageratum", "Ageratum houstonianum", "tender", _PRICKED, 0, "floss flower"),
    _flower("annual phlox", "Phlox drummondii", _HALF, _PRICKED, 3, "phlox"),
    _flower("annual vinca", "Catharanthus roseus", _VERY, _PRICKED, 3,
            "vinca", "madagascar periwinkle"),
    _flower("calendula", "Calendula officinalis", _HALF, _PRICKED, 10, "pot marigold"),
    _flower("celosia", "Celosia argentea", _VERY, _PRICKED, 3, "cockscomb"),
    _flower("china aster", "Callistephus chinensis", "tender", _PRICKED, 3, "aster"),
    _flower("cleome", "Cleome hassleriana", "tender", _PRICKED, 3, "spider flower"),
    _flower("coleus", "Coleus scutellarioides", _VERY, _PRICKED, 0),
    _flower("cornflower", "Centaurea cyanus", "hardy", _PRICKED, 6, "bachelor's button"),
    _flower("cosmos", "Cosmos bipinnatus", "tender", _PRICKED, 6),
    _flower("creeping zinnia", "Sanvitalia procumbens", "tender", _PRICKED, 3, "sanvitalia"),
    _flower("dahlberg daisy", "Thymophylla tenuiloba", "tender", _PRICKED, 0, "golden fleece"),
    _flower("dahlia", "Dahlia x hortensis", "tender", _PRICKED, 6),
    _flower("dianthus", "Dianthus chinensis", _HALF, _PRICKED, 3, "china pink", "pinks"),
    _flower("dusty miller", "Jacobaea maritima", _HALF, _PRICKED, 0, "cineraria"),
    _flower("feverfew", "Tanacetum parthenium", "hardy", _PRICKED, 0),
    _flower("four-o'clock", "Mirabilis jalapa", "tender", _POT, 13, "marvel of peru"),
    _flower("foxglove", "Digitalis purpurea", "hardy", _PRICKED, 0),
    _flower("geranium", "Pelargonium x hortorum", "tender", _PRICKED, 3,
            "pelargonium", "zonal geranium"),
    _flower("gomphrena", "Gomphrena globosa", "tender", _PRICKED, 3, "globe amaranth"),
    _flower("heliotrope", "Heliotropium arborescens", "tender", _PRICKED, 0),
    _flower("hollyhock", "Alcea rosea", "hardy", _POT, 6),
    _flower("impatiens", "Impatiens walleriana", _VERY, _PRICKED, 0, "busy lizzie"),
    _flower("larkspur", "Consolida ajacis", "hardy", _POT, 6, "rocket larkspur"),
    _flower("lisianthus", "Eustoma grandiflorum", _HALF, _PRICKED, 0, "prairie gentian"),
    _flower("lobelia", "Lobelia erinus", _HALF, _CLUMP, 0, "edging lobelia"),
    _flower("marigold", "Tagetes spp.", "tender", _PRICKED, 6,
            "french marigold", "african marigold", "tagetes"),
    _flower("mealycup sage", "Salvia farinacea", "tender", _PRICKED, 3, "blue salvia"),
    _flower("melampodium", "Melampodium divaricatum", "tender", _PRICKED, 3),
    _flower("morning glory", "Ipomoea tricolor", "tender", _POT, 13, "ipomoea"),
    _flower("nasturtium", "Tropaeolum majus", "tender", _POT, 15),
    _flower("new guinea impatiens", "Impatiens hawkeri", _VERY, _PRICKED, 0),
    _flower("nicotiana", "Nicotiana alata", "tender", _PRICKED, 0, "flowering tobacco"),
    _flower("pansy", "Viola x wittrockiana", "hardy", _PRICKED, 3),
    _flower("petunia", "Petunia x hybrida", "tender", _PRICKED, 0),
    _flower("portulaca", "Portulaca grandiflora", _VERY, _CLUMP, 0, "moss rose"),
    _flower("purple coneflower", "Echinacea purpurea", "hardy", _PRICKED, 3,
            "echinacea", "coneflower"),
    _flower("rudbeckia", "Rudbeckia hirta", _HALF, _PRICKED, 3,
            "black-eyed susan", "gloriosa daisy"),
    _flower("scarlet sage", "Salvia splendens", "tender", _PRICKED, 0, "salvia", "red salvia"),
    _flower("snapdragon", "Antirrhinum majus", "hardy", _PRICKED, 0),
    _flower("statice", "Limonium sinuatum", _HALF, _PRICKED, 3, "sea lavender"),
    _flower("stock", "Matthiola incana", _HALF, _PRICKED, 3, "ten-week stock"),
    _flower("strawflower", "Xerochrysum bracteatum", _HALF, _PRICKED, 0, "everlasting"),
    _flower("sunflower", "Helianthus annuus", "tender", _POT, 15),
    _flower("sweet alyssum", "Lobularia maritima", "hardy", _CLUMP, 0, "alyssum"),
    _flower("sweet pea", "Lathyrus odoratus", "hardy", _POT, 25),
    _flower("sweet william", "Dianthus barbatus", "hardy", _PRICKED, 3),
    _flower("torenia", "Torenia fournieri", _VERY, _PRICKED, 0, "wishbone flower"),
    _flower("verbena", "Verbena x hybrida", "tender", _PRICKED, 3),
    _flower("viola", "Viola cornuta", "hardy", _PRICKED, 3, "horned violet", like="pansy"),
    _flower("wax begonia", "Begonia x semperflorens-cultorum", _VERY, _PRICKED, 0, "begonia"),
    _flower("zinnia", "Zinnia elegans", _VERY, _POT, 6),
)
# fmt: on

BY_NAME: Final = {crop.name: crop for crop in CROPS}
