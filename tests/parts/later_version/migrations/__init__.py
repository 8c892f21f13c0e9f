"""The migrations of `parts`, and those beside this file after them."""

from pathlib import Path

from parts import migrations

__path__ += migrations.__path__
NEWEST = max(file.stem for file in Path(migrations.__path__[0]).glob("0*.py"))
"""The last migration of this version, after which a later one comes."""
