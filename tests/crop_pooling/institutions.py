"""Who stands behind each source of the reference tables: one institution counts once a figure.

Each entry: how the source begins in the tables, its key in crops/sources.toml, its institution.
"""

from typing import Final

from seedstart.crop_table.crop import Source

_BHG = "Better Homes and Gardens"
_CALIFORNIA = "University of California Extension"
_COLORADO = "Colorado State University Extension"
_CORNELL = "Cornell University"
_FEDERAL = "United States, federal regulations"
_FLORIDA = "University of Florida IFAS"
_IDAHO = "University of Idaho Extension"
_ILLINOIS = "University of Illinois Extension"
_IOWA = "Iowa State University Extension"
_KANSAS = "Kansas State University"
_KENTUCKY = "University of Kentucky Extension"
_MARYLAND = "University of Maryland Extension"
_MICHIGAN = "Michigan State"
_MINNESOTA = "University of Minnesota Extension"
_MISSOURI = "University of Missouri Extension"
_MORNING_CALL = "The Morning Call"
_MSHS = "Minnesota State Horticultural Society"
_NCSU = "North Carolina State University Extension"
_NGA = "National Gardening Association"
_OKLAHOMA = "Oklahoma State University Extension"
_OLD_HOUSE_WEB = "The Old House Web"
_PENN = "Penn State Extension"
_PURDUE = "Purdue Extension"
_RAMGA = "RAMGA master gardeners"
_RHS = "Royal Horticultural Society"
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
    ("Chong C. et al.", "chong-handbook", "Chong et al."),
    ("Clemson Cooperative", "clemson-hgic", "Clemson Cooperative Extension"),
    ("Colorado Master Gardener", "colorado-master-gardener-2021", _COLORADO),
    ("Colorado State University Extension, CMG", "colorado-gardennotes-720", _COLORADO),
    ("Cornell University, home gardening growing guide: W", "cornell-watermelons", _CORNELL),
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
    ("Michigan State University Extension, Lathyrus", "michigan-sweet-pea", _MICHIGAN),
    ("Michigan State University Extension, peren", "michigan-perennials", _MICHIGAN),
    ("Mills R., University of Nevada", "nevada-2010", "University of Nevada Extension"),
    ("N.C. Cooperative Extension, Sampson", "north-carolina-sampson", _NCSU),
    ("North Carolina Cooperative Extension, Pender", "north-carolina-pender-2011", _NCSU),
    ("North Carolina State University Extension, plant", "north-carolina-plants", _NCSU),
    ("High Plains Journal", "oklahoma-plains-journal", _OKLAHOMA),
    ("Ontario Ministry", "ontario-plug-trays", "Ontario Ministry of Agriculture"),
    ("Oregon State University Extension Service (Central", "oregon-central", "Oregon State"),
    ("Outagamie County", "outagamie-master-gardeners", "Outagamie County Master Gardeners"),
    ("Perry L., University of Vermont, course", "vermont-pss123", _VERMONT),
    ("Purdue Extension", "purdue-marion-2021", _PURDUE),
    ("Reiners S., Cornell", "cornell-reiners-2021", _CORNELL),
    ("Rutgers Cooperative Extension (Hlubik", "rutgers-hlubik-2013", _RUTGERS),
    ("The Press of Atlantic City", "rutgers-press-2019", _RUTGERS),
    ("Deseret News", "utah-sagers-2002", _UTAH),
    ("Schalau J.", "arizona-yavapai-2011", "University of Arizona Extension"),
    ("Scoggin L.", "texas-smith-county-2014", _TEXAS),
    ("Swift C.", "colorado-swift", _COLORADO),
    ("Texas A&M (Aggie Horticulture, Earth", "texas-soil-temperature", _TEXAS),
    ("Texas A&M (Aggie Horticulture), wild", "texas-wildflowers", _TEXAS),
    ("Texas Tech", "texas-tech-four-oclock", "Texas Tech University"),
    ("Trinklein D.", "missouri-g6570", _MISSOURI),
    ("University of Florida IFAS, Plant Prop", "florida-thermodormancy", _FLORIDA),
    ("University of Florida IFAS", "florida-ifas", _FLORIDA),
    ("University of Idaho Extension, CIS", "idaho-cis-1209", _IDAHO),
    ("University of Idaho Extension, Idaho", "idaho-melons-2025", _IDAHO),
    ("University of Illinois Extension, Herbs", "illinois-herbs", _ILLINOIS),
    ("University of Illinois Extension (Peoria", "illinois-peoria-pretreatment", _ILLINOIS),
    ("University of Illinois Extension, Hort in", "illinois-strawflower-2015", _ILLINOIS),
    ("University of Illinois Extension, My", "illinois-first-garden", _ILLINOIS),
    ("University of Missouri Extension G6570", "missouri-home-sowing", _MISSOURI),
    ("University of Missouri Extension, G6629", "missouri-g6629", _MISSOURI),
    ("University of Vermont Extension garden", "vermont-perry-2011", _VERMONT),
    ("Upham W.", "kansas-upham-2014", _KANSAS),
    ("Wasatch Community", "utah-wasatch-2013", _UTAH),
    ("Washington County Master", "minnesota-washington-county", _MINNESOTA),
    ("University of Minnesota Extension, It's time", "minnesota-weisenhorn-2020", _MINNESOTA),
    ("Western Michigan", "western-michigan-natives", "Western Michigan University"),
    ("Womack M.", "california-stanislaus", _CALIFORNIA),
    ("Ask Extension 225811", "michigan-ask-catnip", _MICHIGAN),
    ("Ask Extension 865469", "michigan-ask-brassicas", _MICHIGAN),
    ("Cornell University, High Tunnels", "cornell-larkspur", _CORNELL),
    ("Iowa State University Extension and Outreach, Germination", "iowa-germination-2023", _IOWA),
    ("Iowa State University Extension and Outreach, Is it", "iowa-cannas", _IOWA),
    ("Iowa State University Extension and Outreach, When", "iowa-cool-season-annuals", _IOWA),
    ("K-State Research and Extension Harvey", "kansas-harvey-2018", _KANSAS),
    ("Malik I.J.", "north-carolina-luffa", _NCSU),
    ("McLaurin W.", "georgia-mclaurin-2000", "University of Georgia"),
    ("McMahon R.", "kansas-larkspur-2010", _KANSAS),
    ("Melton T., Clemson", "clemson-melton", "Clemson Cooperative Extension"),
    ("Phillips B., Michigan State", "michigan-frost-2014", _MICHIGAN),
    ("Purdue University Cooperative Extension Service, HO-203", "purdue-ho-203", _PURDUE),
    ("Savonen C.", "oregon-savonen-2008", "Oregon State"),
    ("Smith P., Clemson", "clemson-spinach", "Clemson Cooperative Extension"),
    ("University of California Statewide", "california-ipm-2017", _CALIFORNIA),
    ("University of Florida, Thermotolerance", "florida-lettuce-1995", _FLORIDA),
    ("University of Maryland Extension, Hardening", "maryland-hardening-2023", _MARYLAND),
    ("Utah State University Extension, Utah Vegetable", "utah-cucurbits", _UTAH),
    # Gardens, societies, books, magazines, newspapers.
    ("Beecher H.W.", "beecher-seed-life", "H.W. Beecher"),
    ("Better Homes and Gardens (updated", "bhg-shiso", _BHG),
    ("Better Homes and Gardens, Starting Herbs", "bhg-herbs", _BHG),
    ("Bubel N.", "bubel-1988", "N. Bubel"),
    ("Columbus Telegram", "columbus-telegram", "Columbus Telegram"),
    ("Combs D.", "combs-herbs", "Hobby Farms"),
    ("Daily News (Los Angeles)", "los-angeles-daily-news-2008", "Daily News (Los Angeles)"),
    ("Gatter M.", "gatter-mckee-2010", "Gatter and McKee"),
    ("Goettemoeller J.", "goettemoeller-stevia", "J. Goettemoeller"),
    ("Hartford Courant", "hartford-courant-2000", "Hartford Courant"),
    ("Manitoba Co-operator", "manitoba-co-operator", "Manitoba Co-operator"),
    ("National Gardening Association, Gardening Q&A 13011", "nga-carnations-1999", _NGA),
    ("National Gardening Association, Gardening Q&A 5074", "nga-columbine", _NGA),
    ("National Gardening Association, Hardening", "nga-cole-crops", _NGA),
    ("National Gardening Association, Transplanting", "nga-eggplant-pepper-okra", _NGA),
    ("Pacific Bulb Society", "pacific-bulb-society-cyclamen", "Pacific Bulb Society"),
    ("Portland Press Herald", "portland-press-herald-2016", "Portland Press Herald"),
    ("Quad-City Times", "quad-city-times-soybeans", "Quad-City Times"),
    ("RAMGA (area master gardener association), seed listing Lab", "ramga-lablab", _RAMGA),
    ("Reeves W. and Rushing", "reeves-sorrel", "W. Reeves"),
    ("Reeves W., gardening", "reeves-2020", "W. Reeves"),
    ("Riggenbach J.", "riggenbach-midwest", "J. Riggenbach"),
    ("Royal Horticultural Society, Lovage", "rhs-lovage", _RHS),
    ("Royal Horticultural Society, runner", "rhs-runner-bean", _RHS),
    ("The Observer", "observer-2002", "The Observer"),
    (
        "The Old House Web, gardening data base, n.d., https://www.oldhouseweb.com/gardening/aqui",
        "old-house-web-columbine",
        _OLD_HOUSE_WEB,
    ),
    (
        "The Old House Web, gardening data base, n.d., https://www.oldhouseweb.com/gardening/dian",
        "old-house-web-carnation",
        _OLD_HOUSE_WEB,
    ),
    (
        "The Old House Web, gardening data base, n.d., https://www.oldhouseweb.com/gardening/gaza",
        "old-house-web-gazania",
        _OLD_HOUSE_WEB,
    ),
    (
        "The Old House Web, gardening data base, n.d., https://www.oldhouseweb.com/gardening/lava",
        "old-house-web-lavatera",
        _OLD_HOUSE_WEB,
    ),
    ("The Washington Post", "washington-post-1978", "The Washington Post"),
    ("Weigel G.", "weigel-2009", "G. Weigel, The Patriot-News"),
    ("Zimmer R.", "zimmer-2017", "R. Zimmer, Wisconsin State Farmer"),
    ("Annuals encyclopedia", "crockett-annuals", "Crockett, Annuals"),
    ("Bartholomew M.", "bartholomew-petunia", "M. Bartholomew"),
    ("Better Homes and Gardens garden answer, When", "bhg-vegetables", _BHG),
    ("Better Homes and Gardens garden answer, imp", "bhg-impatiens", _BHG),
    ("Better Homes and Gardens magazine, Moving", "bhg-moving-day-2010", _BHG),
    ("Better Homes and Gardens magazine", "bhg-2010", _BHG),
    ("Canadian Department", "canada-crop-profiles", "Agriculture Canada"),
    ("Country Gardens", "country-gardens-2018", _BHG),
    ("Daily Herald", "daily-herald-2018", "Daily Herald (Chicago)"),
    ("Fine Gardening", "fine-gardening", "Fine Gardening"),
    ("Frowine S.", "frowine-gardening-basics", _NGA),
    ("Garden Seed Handbook", "garden-seed-handbook", "Garden Seed Handbook"),
    ("Garden column, Perennial", "reich-perennials-2023", "L. Reich, Associated Press"),
    ("Garden column, Start coleus", "coleus-column-2013", "Tribune Chronicle"),
    ("Horticulture magazine, Growing Leeks", "horticulture-leeks", "Horticulture magazine"),
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
        "Minnesota State Horticultural Society, Seed",
        "mshs-seed-starting",
        _MSHS,
    ),
    ("Minnesota State Horticultural Society, Veg", "mshs-vegetables", _MSHS),
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
        "RAMGA (area master gardener association), seed listing Cal",
        "ramga-calendula",
        _RAMGA,
    ),
    (
        "RAMGA (area master gardener association), seed listing Cleo",
        "ramga-cleome",
        _RAMGA,
    ),
    (
        "RAMGA (area master gardener association), seed listing Cons",
        "ramga-larkspur",
        _RAMGA,
    ),
    ("Royal Botanic Garden Edinburgh", "edinburgh-frost-tender", "Royal Botanic Garden Edinburgh"),
    ("Smith M.", "smith-annuals", "M. Smith, Home Gardener's Annuals"),
    ("Southern Living", "southern-living-nasturtium", "Southern Living"),
    ('Sunset magazine, "Sunray"', "sunset-coreopsis-1985", "Sunset magazine"),
    ("Sunset magazine", "sunset-four-oclock", "Sunset magazine"),
    ("The Morning Call garden column", "kittek-geranium-2021", _MORNING_CALL),
    ("This Old House", "this-old-house-larkspur", "This Old House"),
    ("Thompson-Adolf", "thompson-adolf-2018", "J. Thompson-Adolf"),
    ("Vegetable Planting and Transplanting Guide, Venango", "venango", "Venango Extra"),
    # Papers.
    ("Abdullateef R.A.", "abdullateef-2011", "Abdullateef and Osman 2011"),
    ("Aghighi Shahverdi", "aghighi-shahverdi-2019", "Aghighi Shahverdi et al. 2019"),
    ("Akram W.", "akram-purslane", "Akram et al."),
    ("Baskin J.M.", "baskin-1988", "Baskin and Baskin 1988"),
    ("Biddington N.L.", "biddington-1980", "Biddington et al. 1980"),
    ("Borthwick H.A.", "borthwick-1928", "Borthwick and Robbins 1928"),
    ("Deep complex", "delphinium-tricorne", "paper on Delphinium tricorne"),
    ("Deno N.C.", "deno", "N.C. Deno"),
    ("Differences in inhibition", "lettuce-14-cultivars", "paper on 14 lettuces"),
    ("Effect of different constant", "purslane-2014", "Int. Journal of Natural Sciences 2014"),
    ("Effect of light and temperature", "african-leafy-vegetables", "paper on African vegetables"),
    ("Effects of Temperature on the Germination", "lettuce-1975", "J. of Hort. Science 1975"),
    ("Florida paper on pepper", "florida-pepper-paper", _FLORIDA),
    ("Germination of Physalis", "physalis-2020", "Revista Ciencia Agronomica 2020"),
    ("Germination of Primula", "primula-beesiana", "Yang et al."),
    ("Germination of spinach", "spinach-1984", "J. of the Japanese Society for Hort. Science"),
    ("Harbaugh B.K.", "harbaugh-1992", "Harbaugh et al. 1992"),
    ("Huyskens S.", "huyskens-1993", "Huyskens et al. 1993"),
    ("Ierna A.", "ierna-2004", "Ierna et al. 2004"),
    ("Improving edamame", "edamame-abstract", "paper on edamame"),
    ("Macchia M.", "macchia-stevia", "Macchia et al."),
    ("Monte J.P.", "monte-2013", "Monte et al. 2013"),
    ("Nunes A.L.", "nunes-2018", "Nunes et al. 2018"),
    ("Physiological potential", "physalis-abstract", "paper on Physalis"),
    ("Sachs M.", "sachs-1980", "Sachs and Rylski 1980"),
    ("Silva T.A.", "silva-2017", "Silva et al. 2017"),
    ("Singh K.P.", "singh-1973", "Singh 1973"),
    ("Thompson P.A.", "thompson-1974", "Thompson 1974"),
    ("University of Guilan", "guilan-chamomile-2017", "University of Guilan"),
    ("Carpenter W.J. & Boucher", "carpenter-vinca", "Carpenter, HortScience"),
    ("Carpenter W.J., Priming", "carpenter-dusty-miller", "Carpenter, HortScience"),
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
    ("New Hampshire Code", "new-hampshire-agr-2203", "New Hampshire"),
    ("Virginia Administrative", "virginia-2vac5-390", "Virginia"),
    ("Ohio Administrative", "ohio-901-5-27-08", "Ohio"),
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
    ("Brackney S.", "brackney-skin", "Ohio State University"),
    ("California Poison Control", "california-poison-control", "California Poison Control System"),
    ("Children's Hospital", "philadelphia-poisonous-seeds-2013", "Poison Center, Philadelphia"),
    ("Floral Design", "floral-design-larkspur", "Floral Design Institute"),
    ("Lum J.", "hong-kong-beans-2023", "Centre for Food Safety, Hong Kong"),
    ("Missouri Poison Center", "missouri-poison-center", "Missouri Poison Center"),
    ("National Capital Poison", "national-capital-morning-glory", "National Capital Poison Center"),
    ("Pediatric Advisor", "pediatric-advisor", "Pediatric Advisor"),
    ("Schmid R.", "vca-onions-dogs", "VCA Animal Hospitals"),
    ("Stark J., University of California", "california-stark-poisonous", _CALIFORNIA),
    ("The Times-Picayune", "times-picayune-2021", "The Times-Picayune"),
    ("US Food and Drug", "fda-bad-bug-book", "US Food and Drug Administration"),
    ("vetmeds.org", "vetmeds-onions", "vetmeds.org"),
    ("Willis G.A.", "willis-beans", "G.A. Willis"),
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
