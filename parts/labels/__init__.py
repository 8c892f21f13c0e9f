"""Printed tags and crate labels. Nothing here knows Django: labels and a sheet in, a PDF out."""

from parts.labels.errors import AddressError, LabelError, SheetError
from parts.labels.layouts import CrateLabel, PartLabel
from parts.labels.pdf import render
from parts.labels.sheets import SHEETS, Sheet, parse_sheet

__all__ = [
    "SHEETS",
    "AddressError",
    "CrateLabel",
    "LabelError",
    "PartLabel",
    "Sheet",
    "SheetError",
    "parse_sheet",
    "render",
]
