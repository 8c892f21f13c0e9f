"""All formulas of the boiler that a calculation sheet can use, by the names that its lines give them."""

from collections.abc import Mapping

from .boiler_methods_flats import FLAT_METHODS
from .boiler_methods_ibr import IBR_METHODS
from .boiler_methods_shells import SHELL_METHODS
from .boiler_steps import Method

METHODS: Mapping[str, Method] = {**SHELL_METHODS, **FLAT_METHODS, **IBR_METHODS}
