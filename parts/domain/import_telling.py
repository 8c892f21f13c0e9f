"""What an import did or would do, in sentences: the same on screen and at the command line."""

from collections import Counter
from collections.abc import Sequence

from .import_rows import Plan
from .plain import listed, several
from .words import State


def added(made: Plan) -> list[str]:
    """'2 subassemblies', '20 positions', '14 pieces (3 stripped, 11 cleaned)', …: only what is more than nothing."""
    states = Counter(step.row.state for step in made.steps if step.adds_piece)
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


def answer(made: Plan, *, locomotive: str, rows: int, dry_run: bool) -> list[str]:
    """The whole answer, a line each."""
    if made.bad:
        return [_bad_head(made), *(f"  {bad}" for bad in made.bad)]
    lines = [f"{locomotive}: {several(rows, 'row')} read."]
    if dry_run:
        lines.append("Only looked at: nothing was written.")
    if made.steps:
        lines.append(f"{'It would add' if dry_run else 'Added'}: {listed(added(made))}.")
    else:
        lines.append("Nothing to add: everything in the list is in the register already. Nothing was changed.")
    if made.unchanged and made.steps:
        lines.append(f"Left as they are, since they are in the register already: {several(made.unchanged, 'row')}.")
    if made.left_alone:
        lines.append(f"Columns that are not known here and were left alone: {listed(made.left_alone)}.")
    if made.other_sheets:
        lines.append(f"Other sheets of the workbook, left alone: {listed(made.other_sheets)}.")
    lines += _told("Where the list differs from the register, which stays as it is:", made.differences)
    lines += _told("To be noted:", made.notes)
    return lines


def _bad_head(made: Plan) -> str:
    rows = len({bad.row for bad in made.bad})
    verb = "keeps" if rows == 1 else "keep"
    return f"Nothing was written: {several(rows, 'row')} {verb} the list out. Mend them and import it again."


def _told(head: str, items: Sequence[object]) -> list[str]:
    return [head, *(f"  {item}" for item in items)] if items else []
