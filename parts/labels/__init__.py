"""Printed labels. Nothing here knows Django: labels and a sheet in, a PDF or a picture of the first page out."""

from parts.labels.errors import AddressError, LabelError, LabelSheetError
from parts.labels.kinds import BagLabel, CardLabel, CrateLabel, Label, PartLabel, ShelfLabel
from parts.labels.pdf import render
from parts.labels.picture import picture
from parts.labels.sheets import SHEETS, LabelSheet, parse_sheet

__all__ = [
    "SHEETS",
    "AddressError",
    "BagLabel",
    "CardLabel",
    "CrateLabel",
    "Label",
    "LabelError",
    "PartLabel",
    "LabelSheet",
    "LabelSheetError",
    "ShelfLabel",
    "parse_sheet",
    "picture",
    "render",
]
