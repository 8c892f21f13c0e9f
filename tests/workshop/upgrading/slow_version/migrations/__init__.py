"""The migrations of `parts`, and those beside this file after them."""

from parts import migrations

__path__ += migrations.__path__
