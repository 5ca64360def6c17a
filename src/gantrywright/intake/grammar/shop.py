"""The shop file: what is at hand, for sale, and who can lift what."""

from gantrywright.intake.grammar.joints import OPENING
from gantrywright.intake.grammar.shape import Key, Sub, Table

SHOP = Table(
    "shop",
    "The shop.",
    (
        Key("name", "text", "Its name", "!"),
        Key("currency", "text", "Its currency, ISO 4217"),
        Key("when", "date", "Date of the rates"),
    ),
    (Sub("rates", Table("rates", "Worth of one unit of other currencies in the shop's.", free="number"), "Exchange rates"),),
    feeds="C",
)

STOCK = Table(
    "stock",
    "A piece at hand. It belongs to a machine only where a machine says stock. Any field of its part's kind may stand here too.",
    (
        Key("part", "text", 'Name of the part; "plate" for sheet and board', "!"),
        Key("count", "count", "How many", default="1", source="definition", positive=True),
        Key("length", "length", "Length as measured", positive=True),
        Key("size", "size3", "Of sheet and board"),
        Key("material", "text", "Material"),
        Key("first_hole", "length", "First hole from end A"),
        Key("last_hole", "length", "Last hole from end B"),
        Key("cut_ends", "A/B/AB", "Ends that were cut", otherwise="factory ends"),
        Key("ends", "text", "State of the ends"),
        Key("avoid", "[range]", "Stretches along the length that are not to be used"),
        Key("grain", "long/across/none", "Way of the grain", default="none", source="definition"),
        Key("condition", "text", "State, in words"),
        Key("where", "text", "Where it lies"),
        Key("note", "text", "Remark"),
        Key("remaining", "number", "Factor on its load ratings", positive=True, most=1.0),
        Key("use", "part/blocking", "To build with, or only to prop", default="part", source="definition"),
    ),
    (Sub("keep_out", OPENING, "Spots that are not to be used", "list"),),
    feeds="H C A",
)

OFFER = Table(
    "offer",
    "Something that can be bought.",
    (
        Key("part", "text", "Name of the part", "!"),
        Key("lengths", "[length]", "Lengths that are sold", positive=True),
        Key("prices", "[money]", "Their prices, in the same order"),
        Key("price", "money", "Price of one pack"),
        Key("pack", "count", "Pieces in a pack", default="1", source="definition", positive=True),
        Key("per_length", "money", "Price per length"),
        Key("longest", "length", "Longest piece", positive=True),
        Key("first_hole", "length", "End distance of the first hole"),
        Key("cut_price", "money", "Price of one cut"),
        Key("days", "count", "Days until it is there"),
    ),
    feeds="C H",
)

EQUIPMENT = Table(
    "equipment",
    "A machine of the shop.",
    (
        Key("kind", "drill-press/router/mill/saw/abrasive-disc/welder/hoist/press", "Which", "!"),
        Key("work_area", "size3", "Work area"),
        Key("travel", "length", "Travel of the spindle"),
        Key("throat", "length", "Throat"),
        Key("largest_drill", "length", "Largest drill"),
        Key("hook_height", "length", "Height of the hook"),
        Key("kerf", "length", "Width of the cut"),
        Key("hole_sigma", "length", "Standard deviation of a hole's place"),
        Key("speed", "range", "Speeds"),
        Key("cuts", "[text]", "Materials that it cuts"),
        Key("collets", "[length]", "Collets"),
        Key("square", "straightness", "Squareness of its cuts"),
        Key("capacity", "mass", "What it lifts", positive=True),
        Key("note", "text", "Remark"),
    ),
    feeds="H A",
)

INSTRUMENT = Table(
    "instrument",
    "An instrument.",
    (
        Key("kind", "text", "Which", "!"),
        Key("range", "quantity", "Range"),
        Key("division", "quantity", "Scale division"),
        Key("u", "quantity", "Standard uncertainty"),
        Key("error", "quantity", "Largest error"),
        Key("per_length", "straightness", "Uncertainty that grows with length"),
        Key("rate", "frequency", "Readings a second", positive=True),
    ),
    feeds="P",
)

PERSON = Table(
    "person",
    "Someone who helps.",
    (Key("lifts", "mass", "What this person may lift", "!"), Key("when", "text", "When")),
    feeds="A",
)

SHOP_FILE = Table(
    "shop file",
    "shop.toml beside the machine; several machines may share it.",
    (Key("format", "count", "Format of the file; first line", "!"),),
    (
        Sub("shop", SHOP, "The shop"),
        Sub("stock", STOCK, "Pieces at hand, by name", "names"),
        Sub("offer", OFFER, "What can be bought, by name", "names"),
        Sub("equipment", EQUIPMENT, "Machines of the shop, by name", "names"),
        Sub("instrument", INSTRUMENT, "Instruments, by name", "names"),
        Sub("person", PERSON, "People, by name", "names"),
    ),
)
