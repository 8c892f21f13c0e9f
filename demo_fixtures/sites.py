"""Where things lie in the demo: an invented works, with a few invented firms that it sends pieces to."""

from core.log.writing import one_transaction
from parts.actions import tags
from parts.models import Firm, Location, LocationKind
from parts.stores.writers import add_location
from parts.work.writers.firms import add_firm

K = LocationKind

PLACES = (  # key, name, kind, the key of what it is in
    ("shed", "Erecting shed", K.BUILDING, ""),
    ("road", "Beside the frames", K.OTHER, "shed"),
    ("wheel road", "Wheel road", K.OTHER, "shed"),
    ("frame stand", "Long stillage", K.OTHER, "shed"),
    ("shop", "Machine shop", K.BUILDING, ""),
    ("bench 1", "Bench 1", K.BENCH, "shop"),
    ("bench 2", "Bench 2", K.BENCH, "shop"),
    ("examining bench", "Examining bench", K.BENCH, "shop"),
    ("washing bay", "Washing bay", K.OTHER, "shop"),
    ("stores", "Stores", K.BUILDING, ""),
    ("rack A", "Rack A", K.RACK, "stores"),
    ("rack B", "Rack B", K.RACK, "stores"),
    ("rack C", "Rack C", K.RACK, "stores"),
    ("shelf C1", "Shelf C1", K.SHELF, "rack C"),
    ("shelf C2", "Shelf C2", K.SHELF, "rack C"),
    ("quarantine", "Quarantine cage", K.QUARANTINE, "stores"),
    ("boiler bay", "Boiler bay", K.BUILDING, ""),
    ("boiler stand", "Boiler stand", K.OTHER, "boiler bay"),
    ("container", "Container 2", K.BUILDING, ""),
    ("yard", "Yard", K.OTHER, ""),
    ("pattern loft", "Pattern loft", K.OTHER, ""),
    ("museum", "Display hall", K.BUILDING, ""),
)

CRATES = {  # which rack each crate stands on
    "rack A": ("Crate 1", "Crate 2", "Crate 3", "Crate 4", "Crate 5", "Crate 6"),
    "rack B": ("Crate 7", "Crate 8", "Crate 9", "Crate 10", "Crate 11", "Crate 12"),
    "container": ("Crate 13", "Crate 14", "Crate 15", "Crate 16", "Crate 17", "Crate 18"),
}

BAGS = {"crate 3": ("Bag 1", "Bag 2")}  # bolts, each bag with a tag

FIRMS = (  # key, name, kind
    ("foundry", "Skarsholt Foundry", K.FIRM),
    ("spring works", "Pendlemoor Spring Works", K.FIRM),
    ("wheel shop", "Merrowdale Wheel Shop", K.FIRM),
    ("boiler works", "Ulverholt Boiler Works", K.FIRM),
    ("gauge room", "Larkspur Gauge Room", K.FIRM),
    ("next railway", "Hobblebeck Tramway", K.LOAN),
)

INVENTED = "Invented for the demo."

CONTACTS = {  # numbers that no telephone has: 01632 960 000 to 960 999 are kept for invented ones (Ofcom)
    "foundry": "01632 960 114, Mrs Quayle in the pattern store",
    "spring works": "01632 960 120, the order desk",
    "wheel shop": "01632 960 137, Mr Oddling",
    "boiler works": "01632 960 151, Miss Tarrant",
    "gauge room": "01632 960 168",
    "next railway": "01632 960 183, the carriage works",
}

DOES = {
    "foundry": "iron and bronze castings from patterns sent in",
    "spring works": "laminated and coil springs",
    "wheel shop": "tyres, wheel turning, pressing",
    "boiler works": "coded welding, plate work, tubes",
    "gauge room": "safety valves and gauges on their bench",
    "next railway": "lends and sells what it can spare",
}


def make_firms(works_manager, places: dict[str, Location]) -> dict[str, Firm]:
    """The same firms in the register of those that do work for us."""
    return {
        key: add_firm(
            works_manager, name=name, does=DOES[key], contact=CONTACTS[key], note=INVENTED, location=places[key]
        )
        for key, name, _ in FIRMS
    }


def make_places(storekeeper) -> dict[str, Location]:
    """Every place by its key; each crate gets a tag."""
    places: dict[str, Location] = {}
    for key, name, kind, parent in PLACES:
        places[key] = add_location(storekeeper, name, kind, places.get(parent))
    for rack, crates in CRATES.items():
        for name in crates:
            places[name.lower()] = _with_tag(storekeeper, name, K.CRATE, places[rack])
    for crate_key, bags in BAGS.items():
        for name in bags:
            places[name.lower()] = _with_tag(storekeeper, name, K.BAG, places[crate_key])
    for key, name, kind in FIRMS:
        places[key] = add_location(storekeeper, name, kind, note=INVENTED)
    return places


def _with_tag(storekeeper, name: str, kind: str, within: Location) -> Location:
    """Together, so that Find knows it by its tag too."""
    with one_transaction():
        place = add_location(storekeeper, name, kind, within)
        tags.issue(place, storekeeper)
    return place
