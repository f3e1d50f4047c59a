"""Who stands behind each source of the reference tables: one institution counts once a figure.

Each entry: how the source begins in the tables, its key in crops/sources.toml, its institution.
"""

from typing import Final

from seedstart.crop_table.crop import Source

_BHG = "Better Homes and Gardens"
_COLORADO = "Colorado State University Extension"
_CORNELL = "Cornell University"
_FEDERAL = "United States, federal regulations"
_IDAHO = "University of Idaho Extension"
_ILLINOIS = "University of Illinois Extension"
_IOWA = "Iowa State University Extension"
_KENTUCKY = "University of Kentucky Extension"
_MINNESOTA = "University of Minnesota Extension"
_MISSOURI = "University of Missouri Extension"
_MORNING_CALL = "The Morning Call"
_MSHS = "Minnesota State Horticultural Society"
_NCSU = "North Carolina State University Extension"
_NGA = "National Gardening Association"
_OKLAHOMA = "Oklahoma State University Extension"
_PENN = "Penn State Extension"
_RUTGERS = "Rutgers Cooperative Extension"
_TEXAS = "Texas A&M AgriLife Extension"
_UTAH = "Utah State University Extension"
_VERMONT = "University of Vermont Extension"

HANDBOOK: Final = "harrington-knott"
EMERGENCE: Final = "harrington-minges-1954"
NORMAL_SEEDLINGS: Final = "normal-seedlings-harrington"
FROM_MEMORY: Final = "from memory"

KNOWN: Final[tuple[tuple[str, str, str], ...]] = (
    # Handbook and the tables behind it.
    ("Harrington J.F., Soil temperature", HANDBOOK, "University of California (Harrington)"),
    ("Harrington J.F. & Minges", EMERGENCE, "University of California (Harrington)"),
    ("Percentage of normal", NORMAL_SEEDLINGS, "University of California (Harrington)"),
    ("Maynard D.N. & Hochmuth", "knott-1997", "Knott's Handbook for Vegetable Growers"),
    # Extension services and universities.
    ("Alberta Agriculture, FAQ", "alberta-faq-8347", "Alberta Agriculture"),
    ("Alberta Agriculture, Poisonous", "alberta-poisonous-flowers", "Alberta Agriculture"),
    ("Allsup K.", "illinois-allsup-2014", _ILLINOIS),
    ("Broomfield Enterprise", "colorado-broomfield-2014", _COLORADO),
    ("Chong C. et al., Germination and Emergence, in Handbook", "chong-handbook", "Chong et al."),
    ("Clemson Cooperative", "clemson-hgic", "Clemson Cooperative Extension"),
    ("Colorado Master Gardener", "colorado-master-gardener-2021", _COLORADO),
    ("Colorado State University Extension, CMG", "colorado-gardennotes-720", _COLORADO),
    ("Cornell University home gardening growing guide, calendula", "cornell-calendula", _CORNELL),
    ("Cornell University home gardening growing guide, impat", "cornell-impatiens", _CORNELL),
    ("Cornell University, home gardening", "cornell-growing-guides", _CORNELL),
    ("Ernest E., University of Delaware", "delaware-transplants", "University of Delaware"),
    ("Extension horticulture column, Somerset", "kentucky-somerset-2020", _KENTUCKY),
    ("Feather S., Penn State", "penn-state-2008", _PENN),
    ("Heflebower R.", "utah-heflebower-2023", _UTAH),
    ("Iowa State University Extension, Ask", "iowa-ask-2006", _IOWA),
    ("Iowa State University Extension, Germination Req", "iowa-germination-2023", _IOWA),
    ("Iowa State University Extension, Seed Germ", "iowa-germination-2017", _IOWA),
    ("Iowa State University Extension, geraniums", "iowa-geraniums", _IOWA),
    ("Jett L.W.", "west-virginia-transplants", "West Virginia University Extension"),
    ("Kinzler D.", "kinzler-2014", "D. Kinzler, The Forum (Fargo)"),
    ("Kreith, University of Illinois", "illinois-kreith-2021", _ILLINOIS),
    ("Larson B., University of Illinois", "illinois-larson-2002", _ILLINOIS),
    ("Madison Area Technical", "madison-flower-seed-life", "Madison Area Technical College"),
    ("Massachusetts College", "massachusetts-college-sweet-pea", "Mass. College of Liberal Arts"),
    ("Master Gardener column citing Oklahoma", "oklahoma-tulsa-2022", _OKLAHOMA),
    ("Michigan State University Extension, Lathyrus", "michigan-sweet-pea", "Michigan State"),
    ("Michigan State University Extension, peren", "michigan-perennials", "Michigan State"),
    ("Mills R., University of Nevada", "nevada-2010", "University of Nevada Extension"),
    ("N.C. Cooperative Extension, Sampson", "north-carolina-sampson", _NCSU),
    ("North Carolina Cooperative Extension, Pender", "north-carolina-pender-2011", _NCSU),
    ("North Carolina State University Extension, plant", "north-carolina-plants", _NCSU),
    ("Oklahoma State University Extension", "oklahoma-plains-journal", _OKLAHOMA),
    ("Ontario Ministry", "ontario-plug-trays", "Ontario Ministry of Agriculture"),
    ("Oregon State University Extension Service (Central", "oregon-central", "Oregon State"),
    ("Outagamie County", "outagamie-master-gardeners", "Outagamie County Master Gardeners"),
    ("Perry L., University of Vermont, course", "vermont-pss123", _VERMONT),
    ("Purdue Extension", "purdue-marion-2021", "Purdue Extension"),
    ("Reiners S., Cornell", "cornell-reiners-2021", _CORNELL),
    ("Rutgers Cooperative Extension (Hlubik", "rutgers-hlubik-2013", _RUTGERS),
    ("Rutgers Cooperative Extension (aff", "rutgers-press-2019", _RUTGERS),
    ("Sagers L.", "utah-sagers-2002", _UTAH),
    ("Schalau J.", "arizona-yavapai-2011", "University of Arizona Extension"),
    ("Scoggin L.", "texas-smith-county-2014", _TEXAS),
    ("Swift C.", "colorado-swift", _COLORADO),
    ("Texas A&M (Aggie Horticulture, Earth", "texas-soil-temperature", _TEXAS),
    ("Texas A&M (Aggie Horticulture), wild", "texas-wildflowers", _TEXAS),
    ("Texas Tech", "texas-tech-four-oclock", "Texas Tech University"),
    ("Trinklein D.", "missouri-g6570", _MISSOURI),
    ("University of Florida IFAS", "florida-ifas", "University of Florida IFAS"),
    ("University of Idaho Extension, CIS", "idaho-cis-1209", _IDAHO),
    ("University of Idaho Extension, Idaho", "idaho-melons-2025", _IDAHO),
    ("University of Illinois Extension (Kreith", "illinois-herbs", _ILLINOIS),
    ("University of Illinois Extension (Peoria", "illinois-peoria-pretreatment", _ILLINOIS),
    ("University of Illinois Extension, Hort in", "illinois-strawflower-2015", _ILLINOIS),
    ("University of Illinois Extension, My", "illinois-first-garden", _ILLINOIS),
    ("University of Missouri Extension G6570", "missouri-home-sowing", _MISSOURI),
    ("University of Missouri Extension, G6629", "missouri-g6629", _MISSOURI),
    ("University of Vermont Extension garden", "vermont-perry-2011", _VERMONT),
    ("Upham W.", "kansas-upham-2014", "Kansas State University"),
    ("Vegetable Planting Guide table", "colorado-gardennotes-720-copy", _COLORADO),
    ("Wasatch Community", "utah-wasatch-2013", _UTAH),
    ("Washington County Master", "minnesota-washington-county", _MINNESOTA),
    ("Weisenhorn J.", "minnesota-weisenhorn-2020", _MINNESOTA),
    ("Western Michigan", "western-michigan-natives", "Western Michigan University"),
    ("Womack M.", "california-stanislaus", "University of California Extension"),
    # Gardens, societies, books, magazines, newspapers.
    ("Annuals encyclopedia", "crockett-annuals", "Crockett, Annuals"),
    ("Bartholomew M.", "bartholomew-petunia", "M. Bartholomew"),
    ("Better Homes and Gardens garden answer (author not visible), When", "bhg-vegetables", _BHG),
    ("Better Homes and Gardens garden answer (author not visible), imp", "bhg-impatiens", _BHG),
    ("Better Homes and Gardens magazine", "bhg-2010", _BHG),
    ("Canadian Department", "canada-crop-profiles", "Agriculture Canada"),
    ("Country Gardens", "country-gardens-2018", _BHG),
    ("Daily Herald", "daily-herald-2018", "Daily Herald (Chicago)"),
    ("Fine Gardening", "fine-gardening", "Fine Gardening"),
    ("Frowine S.", "frowine-gardening-basics", _NGA),
    ("Garden Seed Handbook", "garden-seed-handbook", "Garden Seed Handbook"),
    ("Garden column (Reich", "reich-perennials-2023", "L. Reich, Associated Press"),
    ("Garden column (byline not visible), Start coleus", "coleus-column-2013", "Tribune Chronicle"),
    ("Horticulture magazine (author", "horticulture-leeks", "Horticulture magazine"),
    ("Horticulture magazine, Grow Pot", "horticulture-calendula", "Horticulture magazine"),
    ("Horticulture magazine, Nast", "horticulture-nasturtiums", "Horticulture magazine"),
    ("Horticulture magazine, weekly", "horticulture-nicotiana", "Horticulture magazine"),
    ("HowStuffWorks", "consumer-guide-annuals", "Publications International"),
    ("Kerr G.", "kerr-2011", "G. Kerr"),
    ("Kittek S., Help", "kittek-2015", _MORNING_CALL),
    ("Kittek S., Tips", "kittek-2014", _MORNING_CALL),
    ("Kujawski R.", "kujawski-2011", "Kujawski and Kujawski"),
    ("Los Angeles Times", "los-angeles-times-1992", "Los Angeles Times"),
    (
        "Minnesota State Horticultural Society (author not visible), Seed",
        "mshs-seed-starting",
        _MSHS,
    ),
    ("Minnesota State Horticultural Society (author not visible), Veg", "mshs-vegetables", _MSHS),
    ("Missouri Botanical Garden, Gard", "missouri-botanical-warm", "Missouri Botanical Garden"),
    ("Missouri Botanical Garden, Plant", "missouri-botanical-plants", "Missouri Botanical Garden"),
    ("My Home Ideas", "my-home-ideas-sweet-peas", "My Home Ideas"),
    ("National Gardening Association, Gardening Q&A 17779", "nga-verbena", _NGA),
    ("National Gardening Association, Gardening Q&A 18161", "nga-annuals-2000", _NGA),
    ("Ontario Rock", "ontario-rock-garden", "Ontario Rock Garden Society"),
    ("Organic Gardening", "organic-gardening-2012", "Organic Gardening magazine"),
    ("Pocono Record", "pocono-record-2012", "Pocono Record"),
    ("Post Register", "post-register", "Post Register (Idaho Falls)"),
    (
        "RAMGA (area master gardener association, full name not visible), seed listing Cal",
        "ramga-calendula",
        "RAMGA master gardeners",
    ),
    (
        "RAMGA (area master gardener association, full name not visible), seed listing Cleo",
        "ramga-cleome",
        "RAMGA master gardeners",
    ),
    (
        "RAMGA (area master gardener association, full name not visible), seed listing Cons",
        "ramga-larkspur",
        "RAMGA master gardeners",
    ),
    ("Royal Botanic Garden Edinburgh", "edinburgh-frost-tender", "Royal Botanic Garden Edinburgh"),
    ("Smith M.", "smith-annuals", "M. Smith, Home Gardener's Annuals"),
    ("Southern Living", "southern-living-nasturtium", "Southern Living"),
    ("Sunset magazine", "sunset-four-oclock", "Sunset magazine"),
    ("The Morning Call (garden column; Kittek", "kittek-geranium-2021", _MORNING_CALL),
    ("This Old House", "this-old-house-larkspur", "This Old House"),
    ("Thompson-Adolf", "thompson-adolf-2018", "J. Thompson-Adolf"),
    ("Vegetable Planting and Transplanting Guide, Venango", "venango", "Venango Extra"),
    # Papers.
    ("Carpenter W.J. & Boucher", "carpenter-vinca", "Carpenter, HortScience"),
    ("Carpenter W.J. (Hort", "carpenter-dusty-miller", "Carpenter, HortScience"),
    ("Cardinal germination temp", "seed-technology-2009", "Seed Technology 31 (2009)"),
    ("Hassell R.L.", "hassell-2004", "Hassell et al. 2004"),
    ("Joly R.", "joly-2013", "Joly et al. 2013"),
    ("Kurtar E.S.", "kurtar-2010", "Kurtar 2010"),
    ("Notulae Scientia", "notulae-hyssop-basil-oregano", "Notulae Scientia Biologicae"),
    ("University of Birjand", "birjand-basil", "University of Birjand"),
    ("Wise F.C.", "wise-1995", "Wise et al. 1995"),
    ("Ferdowsi University", "mashhad-dill-fennel", "Ferdowsi University of Mashhad"),
    ("Heidari Z.", "heidari-2014", "Heidari et al. 2014"),
    ("Goodger R.A.", "goodger-2013", "Goodger 2013"),
    ("Abu-Rayyan", "abu-rayyan-2012", "Abu-Rayyan et al. 2012"),
    ("Ransom Seed Laboratory", "ransom-delphinium", "Ransom Seed Laboratory"),
    # Law and poison registers.
    ("7 CFR 201.31", "us-7-cfr-201-31", _FEDERAL),
    ("US Federal Seed Act", "us-7-cfr-201-31-copy", _FEDERAL),
    ("N.H. Admin. Code", "new-hampshire-agr-2203", "New Hampshire"),
    ("New Hampshire Admin", "new-hampshire-agr-2203-copy", "New Hampshire"),
    ("Virginia Admin. Code", "virginia-2vac5-390", "Virginia"),
    ("Virginia Administrative", "virginia-2vac5-390-copy", "Virginia"),
    ("Ohio Admin. Code", "ohio-901-5-27-08", "Ohio"),
    (
        "Government of Canada, Canadian Poisonous Plants Information System, Ipom",
        "canada-poisonous-ipomoea",
        "Government of Canada",
    ),
    (
        "Government of Canada, Canadian Poisonous Plants Information System, sweet",
        "canada-poisonous-sweet-pea",
        "Government of Canada",
    ),
    ("Peterborough Master", "peterborough-castor-bean", "Peterborough Master Gardeners"),
    ("Youngken H.W.", "youngken-karas", "Youngken and Karas"),
    ("Vegetable seed hot-water", "hot-water-table", "Ohio State University"),
    ("Gugino B.", "penn-state-hot-water", _PENN),
)

# Sources that no table cites: cautions, from docs/crop_table.md.
ADDED: Final = {
    "massey-sweet-pea": Source(
        text="Massey University, New Zealand, poisonous plants: sweet pea",
        institution="Massey University",
        where="https://poisonousplants.massey.ac.nz/data/sweet_pea/sw_pea.html",
    ),
}
