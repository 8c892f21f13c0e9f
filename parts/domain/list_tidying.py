"""A list as works keep it, brought to one row that names the columns and one row for each thing: titles above, heads in
two rows, headings and blanks between, ditto marks, sums. Nothing is guessed of what a cell means.
"""

import re
from dataclasses import replace

from .import_matching import Words, meant
from .importing import LOOSE, REGISTER, head_word
from .register_cells import COLUMNS, REQUIRED, clean, fold
from .spreadsheets import AS_ABOVE, Sheet, read_table

Cells = tuple[str, ...]
TITLES = 8
"""So many rows may stand above the one that names the columns."""
DITTO = {'"', AS_ABOVE, "\u201d", "''", "do", "do.", "ditto", '-"-', "\u2033", "dito", "dto", "dto.", "idem", "id."}
SUMS = {"total", "totals", "subtotal", "sub total", "sub-total", "sum", "grand total", "carried forward",
        "summe", "gesamt", "zwischensumme", "somme", "sous-total"}  # fmt: skip
LIST = replace(REGISTER, knows=lambda head: bool(clean(head) and meant(head, {})), colours="Row colour")


def read_as_kept(content: bytes, words: Words, sheet: str = "") -> Sheet:
    """The table of a works' list, from the bytes of its file; SheetError where it cannot be read."""
    return tidied(read_table(content, LIST, sheet), words)


def tidied(sheet: Sheet, words: Words) -> Sheet:
    for step in (
        _without_titles, _with_one_row_of_heads, _with_one_table, _with_what_stands_above, _without_sums, _with_sections
    ):  # fmt: skip
        sheet = step(sheet, words)
    return sheet


def _there(sheet: Sheet, words: Words) -> dict[str, int]:
    """By column of ours, the first one of the list that is it, or may be."""
    found: dict[str, int] = {}
    for index, head in enumerate(sheet.heads):
        if clean(head):
            found.setdefault(meant(head, words), index)
    return {column: index for column, index in found.items() if column in COLUMNS}


def _without_titles(sheet: Sheet, words: Words) -> Sheet:
    first = [(0, sheet.heads), *sheet.rows[:TITLES]]
    names = [sum(bool(clean(cell) and meant(cell, words)) for cell in cells) for _, cells in first]
    best = names.index(max(names))
    if names[best] < 2:  # heads that nobody has matched yet: the first row that is as wide as the list
        filled = [sum(bool(cell.strip()) for cell in _written(sheet, cells)) for _, cells in first]
        best = next(at for at, many in enumerate(filled) if 2 * many > max(filled))
    if not best:
        return sheet
    heads = (*first[best][1], *[""] * (len(sheet.heads) - len(first[best][1])))
    rows = sheet.rows[best:]
    colours = {at for at in range(len(heads)) if _is_of_rows(sheet, at)}
    coloured = LIST.colours if any(cells[at] for _, cells in rows for at in colours) else ""
    return replace(sheet, heads=tuple(coloured if at in colours else head for at, head in enumerate(heads)), rows=rows)


def _is_of_rows(sheet: Sheet, at: int) -> bool:
    """The colours of the rows, whose head is ours."""
    return at < len(sheet.heads) and sheet.heads[at] == LIST.colours


def _written(sheet: Sheet, cells: Cells) -> Cells:
    """What somebody wrote in a row, without the colour that it has."""
    return tuple("" if _is_of_rows(sheet, at) else cell for at, cell in enumerate(cells))


def _with_one_row_of_heads(sheet: Sheet, words: Words) -> Sheet:
    """Below “Where it lies”, which reaches over two columns, stand “Rack” and “Bin”."""
    if not sheet.rows:
        return sheet
    below = _written(sheet, sheet.rows[0][1])
    filled = [at for at, cell in enumerate(below) if cell.strip() and not _is_ditto(cell)]
    under = {at for at in filled if at >= len(sheet.heads) or not sheet.heads[at].strip()}
    left = [at for at in filled if at not in under and at + 1 in under]
    named = all(meant(below[at], words) for at in filled)
    if not under or not named or len(under) + len(left) < len(filled) or "position" in map(head_word, below):
        return sheet
    width = max(len(sheet.heads), len(below))
    heads = [*sheet.heads, *[""] * (width - len(sheet.heads))]
    for at in filled:
        heads[at] = below[at]
    return replace(sheet, heads=tuple(heads), rows=sheet.rows[1:])


def _with_one_table(sheet: Sheet, words: Words) -> Sheet:
    """Tables side by side, or one below the other, each with heads of its own, are one list. The words above a table
    are a heading of its rows where no column says their group; else they are left out."""
    beside = _side_by_side(sheet)
    others = {at for columns in beside[1:] for at in columns}
    heads, rows = ["" if at in others else head for at, head in enumerate(sheet.heads)], list[tuple[int, Cells]]()
    for columns in beside:
        at = {column: column for column in columns} if columns[0] == 0 else _places(sheet.heads, columns, heads, words)
        for number, cells in sheet.rows:
            there = [column for column in columns if column < len(cells) and cells[column].strip()]
            if _names_columns([cells[column] for column in there], sheet, words):
                at = _places(cells, columns, heads, words)
                if rows and len(list(filter(str.strip, rows[-1][1]))) == 1 and REQUIRED[0] in _there(sheet, words):
                    rows.pop()
            elif there:
                to = {at[column]: cells[column] for column in there if column in at}
                rows.append((number, tuple(to.get(column, "") for column in range(max(to, default=-1) + 1))))
    rows = [(number, cells) for number, cells in rows if cells]
    same = heads == list(sheet.heads) and len(rows) == len(sheet.rows)
    return sheet if same else replace(sheet, heads=tuple(heads), rows=tuple(rows))


def _side_by_side(sheet: Sheet) -> list[list[int]]:
    """The columns of each table: another one begins where the first head stands again."""
    first = fold(sheet.heads[0])
    width = max(len(sheet.heads), *(len(cells) for _, cells in sheet.rows)) if sheet.rows else len(sheet.heads)
    begins = [at for at, head in enumerate(sheet.heads) if first and fold(head) == first]
    own = [list(range(at, to)) for at, to in zip(begins, [*begins[1:], len(sheet.heads)], strict=True)]
    own = [[at for at in columns if sheet.heads[at].strip() and not _is_of_rows(sheet, at)] for columns in own]
    said = [{fold(sheet.heads[at]) for at in columns} for columns in own]
    if len(own) < 2 or min(len(heads & said[0]) for heads in said) < 2:
        return [list(range(width))]
    return own


def _names_columns(cells: list[str], sheet: Sheet, words: Words) -> bool:
    """The heads once more, or other heads: they name two columns, of which one is what the thing is called."""
    if len(cells) > 1 and {fold(cell) for cell in cells} <= {fold(head) for head in sheet.heads}:
        return True
    named = {meant(cell, words) for cell in cells} - {""}
    things = {REQUIRED[1], "description"}
    return bool(named & things) and len(named) > 1 and 2 * len(named) > len(cells)


def _places(cells: Cells | tuple[str, ...], columns: list[int], heads: list[str], words: Words) -> dict[int, int]:
    """Where each column of a further table belongs: under the head that says the same, else under one of its own."""
    found: dict[int, int] = {}
    for column in columns:
        head = cells[column] if column < len(cells) else ""
        if not head.strip():
            continue
        says = meant(head, words)
        same = [at for at, other in enumerate(heads) if fold(other) == fold(head)]
        same += [at for at, other in enumerate(heads) if says and meant(other, words) == says]
        free = [at for at in same if at not in found.values()]
        if not free:
            heads.append(head)
        found[column] = free[0] if free else len(heads) - 1
    return found


def _with_what_stands_above(sheet: Sheet, words: Words) -> Sheet:
    """A ditto mark says what stands above it; and so does a blank, of the group of a place or the crate of a piece."""
    there = _there(sheet, words)
    thing = there.get("description" if LOOSE <= there.keys() and "position" not in there else "position", -1)
    own = there.get("tag", -1)  # a tag hangs on one piece
    carried = {there.get("subassembly", -1)} | ({there["location"]} if thing == there.get("description") else set())
    above: list[str] = []
    rows = []
    for number, cells in sheet.rows:
        has_thing = 0 <= thing < len(cells) and bool(cells[thing].strip())
        if has_thing:
            cells = (*cells, *[""] * (max(carried, default=-1) + 1 - len(cells)))
        cells = tuple(
            "" if at == own and _is_ditto(cell)
            else above[at] if at < len(above) and (_is_ditto(cell) or has_thing and at in carried and not cell.strip())
            else cell
            for at, cell in enumerate(cells)
        )  # fmt: skip
        if has_thing or any(at in carried and cell.strip() for at, cell in enumerate(cells)):
            above = list(cells)
        rows.append((number, cells))
    return replace(sheet, rows=tuple(rows))


def _is_ditto(cell: str) -> bool:
    return fold(cell) in DITTO


def _without_sums(sheet: Sheet, words: Words) -> Sheet:
    """A row that says “Total”, or has nothing but figures, is of no piece."""

    def is_sum(cells: Cells) -> bool:
        filled = [fold(cell).rstrip(":") for cell in _written(sheet, cells) if cell.strip()]
        return any(cell in SUMS for cell in filled[:2]) or all(re.fullmatch(r"[\d.,\s]+", cell) for cell in filled)

    return replace(sheet, rows=tuple((number, cells) for number, cells in sheet.rows if not is_sum(cells)))


def _with_sections(sheet: Sheet, words: Words) -> Sheet:
    """A row with nothing but its first cell is a heading, in a list that has no column for what it says; a sheet of a
    workbook without either is itself the group."""
    there = _there(sheet, words).keys()
    if "subassembly" in there or "position" not in there and LOOSE <= there:
        return sheet
    written = ((number, _written(sheet, cells)) for number, cells in sheet.rows)
    headings = {number for number, cells in written if cells[0].strip() and not any(c.strip() for c in cells[1:])}
    if len(headings) == len(sheet.rows) or not headings and not sheet.title:
        return sheet
    rows, heading, width = [], clean(sheet.title), len(sheet.heads)
    for number, cells in sheet.rows:
        if number in headings:
            heading = clean(cells[0]).rstrip(":")
        else:
            rows.append((number, (*cells[:width], *[""] * (width - len(cells)), heading)))
    return replace(sheet, heads=(*sheet.heads, REQUIRED[0]), rows=tuple(rows))
