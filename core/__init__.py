"""The floor: roles and access, people, the event log; and the number of this version, the same as in pyproject.toml."""

__version__ = "0.1.0"
