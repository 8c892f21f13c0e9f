"""The cells of a CSV text: comma or semicolon, with or without a byte-order mark, numbered as a spreadsheet does."""

import csv
import io

from parts.domain.importing import Sheet, SheetError

MOST_ROWS = 5_000
SAVE_AS = "Save it as “CSV UTF-8”."
SEPARATORS = ",;\t"


def csv_sheet(content: str | bytes) -> Sheet:
    """The heads and the rows that are not blank, or a SheetError saying what to do instead."""
    text = content.removeprefix("\ufeff") if isinstance(content, str) else _decoded(content)
    separator, text, skipped = _told_separator(text)
    rows = _records(text, separator or _likely_separator(text), skipped)
    if not rows:
        raise SheetError("The file is empty.", "Choose a CSV file whose first row names the columns.")
    (_, heads), *rest = rows
    if len(rest) > MOST_ROWS:
        raise SheetError(f"The sheet has more than {MOST_ROWS} rows.", "Split it by the kind of place.")
    return Sheet(tuple(heads), tuple((number, tuple(cells)) for number, cells in rest))


def _decoded(content: bytes) -> str:
    if b"\0" in content:
        raise SheetError("This is not a CSV file coded as UTF-8.", SAVE_AS)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as wrong:
        line = content.count(b"\n", 0, wrong.start) + 1
        raise SheetError(f"The text is not coded as UTF-8 (line {line} has a byte that is not).", SAVE_AS) from None


def _told_separator(text: str) -> tuple[str, str, int]:
    """Some spreadsheets write a first line such as `sep=;`."""
    first, _, rest = text.partition("\n")
    first = first.strip().lower().strip('"')
    told = len(first) == 5 and first.startswith("sep=") and first[4] in SEPARATORS
    return (first[4], rest, 1) if told else ("", text, 0)


def _likely_separator(text: str) -> str:
    """The one that the first row has most of."""
    first = next((line for line in text.splitlines() if line.strip()), "")
    return max(SEPARATORS, key=first.count)


def _records(text: str, separator: str, skipped: int) -> list[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator, strict=True)
    found = []
    number = skipped
    while True:
        number += 1
        try:
            cells = next(reader)
        except StopIteration:
            return found
        except csv.Error:
            raise SheetError(
                f"Row {number} cannot be read: a cell is too long, or its quotation marks do not close.",
                'Write a quotation mark inside a quoted cell twice (""), and close each quoted cell.',
            ) from None
        if any(map(str.strip, cells)):
            found.append((number, cells))
