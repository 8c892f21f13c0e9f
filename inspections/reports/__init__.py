"""Printed reports of signed records (PDF): one record, or everything that is signed of a piece or a subassembly."""

from .bundle import bundle
from .report import report

__all__ = ["bundle", "report"]
