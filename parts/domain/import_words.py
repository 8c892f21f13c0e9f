"""What an import did or would do, in sentences: the same on screen and at the command line."""

from collections import Counter
from collections.abc import Iterable, Sequence

from .import_rows import ImportPlan, ImportStep, piece_name
from .importing import place_words
from .plain import listed, several
from .register_cells import BadRow
from .spreadsheets import Sheet
from .words import State


def added(made: ImportPlan) -> list[str]:
    """'2 subassemblies', '20 positions', '14 pieces (3 stripped, 11 cleaned)', …: only what is more than nothing."""
    states = Counter(step.row.state for step in (*made.steps, *made.loose) if step.adds_piece)
    pieces = sum(states.values())
    by_state = listed(f"{states[state]} {state}" for state in State if states[state])
    counts = (
        (len(made.subassemblies), "subassembly", "subassemblies", ""),
        (sum(step.adds_place for step in made.steps), "position", "positions", ""),
        (pieces, "piece", "pieces", f" ({by_state})"),
        (sum(step.adds_empty or step.withdraws for step in made.steps), "known empty place", "known empty places", ""),
        (len(made.locations), "location", "locations", ""),
    )
    return [several(count, one, many) + more for count, one, many, more in counts if count]


def named(made: ImportPlan) -> list[tuple[str, list[str]]]:
    """What would be made and changed, by name, under a heading each: only what is more than nothing."""
    steps = made.steps
    pieces = [*(step for step in steps if step.adds_piece), *made.loose]
    found = (
        ("New subassemblies", [" / ".join(path) for path in made.subassemblies.values()]),
        ("New places", [_place(step) for step in steps if step.adds_place]),
        ("Pieces", [_piece(step) for step in pieces]),
        (
            "Places known to be empty from now on",
            [step.row.words for step in steps if step.adds_empty or step.withdraws],
        ),
        ("Built-up pieces that count as broken down", [place_words(*key[1:]) for key in sorted(made.opened)]),
        ("New places where things lie", [" / ".join(path) for path in made.locations.values()]),
    )
    return [(heading, names) for heading, names in found if names]


def _place(step: ImportStep) -> str:
    return f"{' / '.join(step.row.path)}: {step.row.words}{_times(step.row.quantity)}"


def _piece(step: ImportStep) -> str:
    where = f", in {' / '.join(step.row.location)}" if step.location else ""
    return f"{step.row.words or piece_name(step.row)}{_times(step.quantity)}: {step.row.state}{where}"


def _times(quantity: int) -> str:
    return f" × {quantity}" if quantity != 1 else ""


def handed_back(sheet: Sheet, bad: Iterable[BadRow]) -> tuple[list[str], list[list[str]]]:
    """The rows that are not taken over, as they stand in the list, with what mends each in a column of its own."""
    reasons: dict[int, list[str]] = {}
    for one in bad:
        reasons.setdefault(one.row, []).append(f"{one.column}: {one.sentence} {one.cure}".strip())
    width = len(sheet.heads)
    rows = [
        [*cells[:width], *[""] * (width - len(cells)), "; ".join(dict.fromkeys(reasons[number]))]
        for number, cells in sheet.rows
        if number in reasons
    ]
    return [*sheet.heads, "what to mend"], rows


def answer(made: ImportPlan, *, locomotive: str, rows: int, dry_run: bool) -> list[str]:
    """The whole answer, a line each."""
    if made.bad:
        return [_bad_head(made), *(f"  {bad}" for bad in made.bad)]
    lines = [f"{locomotive}: {several(rows, 'row')} read."]
    if dry_run:
        lines.append("Only looked at: nothing was written.")
    if made.adds:
        lines.append(f"{'It would add' if dry_run else 'Added'}: {listed(added(made))}.")
    else:
        lines.append("Nothing to add: everything in the list is in the register already. Nothing was changed.")
    if made.unchanged and made.adds:
        lines.append(f"Left as they are, since they are in the register already: {several(made.unchanged, 'row')}.")
    if made.left_alone:
        lines.append(f"Columns that are not known here and were left alone: {listed(made.left_alone)}.")
    if made.other_sheets:
        lines.append(f"Other sheets of the workbook, left alone: {listed(made.other_sheets)}.")
    lines += _told("Where the list differs from the register, which stays as it is:", made.differences)
    lines += _told("To be noted:", made.notes)
    return lines


def _bad_head(made: ImportPlan) -> str:
    rows = len({bad.row for bad in made.bad})
    verb = "keeps" if rows == 1 else "keep"
    return f"Nothing was written: {several(rows, 'row')} {verb} the list out. Mend them and import it again."


def _told(head: str, items: Sequence[object]) -> list[str]:
    return [head, *(f"  {item}" for item in items)] if items else []
