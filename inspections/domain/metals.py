"""Of what metal a piece is, by what its material is called: the one under which its density is found."""

import re
from functools import cache

from .patterns import Density, densities

ALSO = {"boiler plate": "steel", "white-metal": "white metal"}
"""What a material is called, and the metal that it is of. Common practice, no source."""


def metal_of(material: str) -> str:
    """The metal that a piece mainly consists of; blank for what is of two, of none, or not said.

    >>> metal_of("steel forging"), metal_of("gunmetal, white-metalled"), metal_of("copper or steel pipe")
    ('steel', 'gunmetal', '')
    """
    main = " ".join(material.lower().partition(",")[0].split())
    for words, metal in ALSO.items():
        main = main.replace(words, metal)
    found = [name for name in _names() if re.search(rf"\b{re.escape(name)}\b", main)]
    outermost = [name for name in found if not any(name != other and name in other for other in found)]
    return outermost[0] if len(outermost) == 1 and not re.search(r"\b(and|or)\b", main) else ""


def density_of(material: str) -> Density | None:
    """The density of its metal, with its source, where one metal is said."""
    metal = metal_of(material)
    return next((found for found in densities() if found.material == metal), None)


@cache
def _names() -> tuple[str, ...]:
    return tuple(found.material for found in densities())
