"""A small invented works' list, half-way through an overhaul, and ways to write it to a file."""

import csv
import io

import openpyxl

HEADS = "subassembly position side axle end quantity safety_critical crack_check tag part_of state location".split()

# One row a line, in the order of HEADS; the comment says what the row counts as by the table of leading needs.
ROWS = [
    # Frames: 9 places
    ("Frames", "main frame plate", "LH", "", "", "", "", "", "", "", "Refitted", ""),  # refitted
    ("Frames", "main frame plate", "RH", "", "", "", "yes", "", "", "", "refitted", ""),  # sign: safety-critical
    ("Frames", "horn guide", "LH", "leading", "", "", "", "yes", "H1", "", "cleaned", "Crate 1"),  # crack-check
    ("frames ", "horn guide", "RH", "leading", "", "", "", "", "H2", "", "Cleaned", "crate  1"),  # examine
    ("Frames", "buffer", "LH", "", "front", "", "", "", "", "", "empty", ""),  # source
    ("Frames", "buffer", "RH", "", "front", "", "", "", "77", "", "withdrawn", ""),  # source
    ("Frames", "drag box", "", "", "", "", "", "", "", "", "", ""),  # strip: not yet looked at
    ("Frames", "stretcher", "", "", "", "", "", "", "", "", "In-place", ""),  # strip: in place
    ("Frames", "bracket", "", "", "rear", "", "", "", "", "", "renewed", "Rack A"),  # ready
    # Wheels, part of the running gear: 9 places, one of them asleep
    ("Running gear / Wheels", "wheelset", "", "leading", "", "", "", "", "W1", "", "stripped", "Bay 2"),  # clean
    (
        "Running gear / Wheels",
        "axle",
        "",
        "leading",
        "",
        "",
        "",
        "MPI",
        "",
        "wheelset",
        "crack checked",
        "Rack A",
    ),  # sign
    ("Running gear / Wheels", "tyre", "LH", "leading", "", "", "x", "", "", "wheelset", "accepted", "Rack A"),  # sign
    ("Running gear / Wheels", "tyre", "RH", "leading", "", "", "", "", "", "wheelset", "accepted", "Rack A"),  # ready
    ("Running gear / Wheels", "crank pin", "LH", "leading", "", "", "", "", "", "wheelset", "", ""),  # strip
    ("Running gear / Wheels", "wheelset", "", "trailing", "", "", "", "", "", "", "in place", ""),  # strip
    ("Running gear / Wheels", "axle", "", "trailing", "", "", "", "", "", "wheelset", "", ""),  # asleep
    ("Running gear / Wheels", "axlebox", "LH", "leading", "", "", "", "", "", "", "accepted", ""),  # find
    ("Running gear / Wheels", "axlebox", "RH", "leading", "", "", "", "", "", "", "in the making", ""),  # await
    # Boiler: 4 places
    ("Boiler", "tube", "", "", "", "96", "", "", "", "", "stripped", "Crate 2"),  # clean
    ("Boiler", "dome cover", "", "", "", "1", "no", "", "", "", "refitted", ""),  # refitted
    ("Boiler", "safety valve", "", "", "", "", "Y", "", "", "", "accepted", "Crate 2"),  # sign: safety-critical
    ("Boiler", "regulator", "", "", "", "", "0", "", "", "", "crack-checked", "Crate 2"),  # sign: to be accepted
]

# Counted from the comments above: required, refitted, ready, blocked.
BY_HAND = {
    "frames": (9, 1, 1, 7),
    "running-gear": (0, 0, 0, 0),
    "wheels": (8, 0, 1, 7),
    "boiler": (4, 1, 0, 3),
}
NEEDS_BY_HAND = {
    "frames": ["crack-check", "examine", "sign", "source", "source", "strip", "strip"],
    "wheels": ["await", "clean", "find", "sign", "sign", "strip", "strip"],
    "boiler": ["clean", "sign", "sign"],
}


def as_csv(rows=ROWS, *, heads=HEADS, separator=",", bom=False) -> bytes:
    file = io.StringIO(newline="")
    csv.writer(file, delimiter=separator).writerows([heads, *rows])
    return file.getvalue().encode("utf-8-sig" if bom else "utf-8")


def as_xlsx(rows=ROWS, *, heads=HEADS) -> bytes:
    book, file = openpyxl.Workbook(), io.BytesIO()
    for row in [heads, *rows]:
        book.active.append([int(cell) if str(cell).isdigit() else cell or None for cell in row])
    book.save(file)
    return file.getvalue()


def one_row(**entered) -> tuple:
    """A row of the list with these cells, the rest blank."""
    return tuple(entered.get(head, "") for head in HEADS)
