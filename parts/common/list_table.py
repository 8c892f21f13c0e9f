"""A list that can be worked: sorted by a column that the address names, saved as a file, or printed whole.

    table = ListTable(request, COLUMNS, "renewals")
    rows = table.in_order(rows)
    if table.saves: return table.file(rows)

The page shows `table` through components/list_head.html and components/list_files.html.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from django.http import HttpResponse

from ..actions import writing
from ..domain.folding import plain
from ..domain.list_files import Cell, as_csv, as_xlsx

CSV, XLSX, PRINT = "csv", "xlsx", "print"
EVERY_ROW = 10_000
"""More than any list of one locomotive has."""
KINDS = {
    CSV: "text/csv; charset=utf-8",
    XLSX: "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet",
}


@dataclass(frozen=True, slots=True)
class Column:
    """One column: its word in the address, its head, and what a row says there. Without a word it sorts nothing.
    `most_first`: the first press puts the most on top, as the worst is what one looks for."""

    key: str
    head: str
    value: Callable[[Any], Cell]
    num: bool = False
    most_first: bool = False
    on_page: bool = True  # else only in the files
    in_files: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class ColumnHead:
    label: str
    href: str
    num: bool
    sorted: str  # as ARIA says it, or ""


class ListTable:
    """`one_way`: the list has its own orders, which do not turn round."""

    def __init__(self, request, columns: Sequence[Column], name: str, *, one_way: bool = False):
        self.asked, self.columns, self.name, self.one_way = request.GET, columns, name, one_way
        key = self.asked.get("sort", "")
        self.backwards, self.key = key.startswith("-"), key.removeprefix("-")
        self.by = next((column for column in columns if column.key and column.key == self.key), None)
        kind = self.asked.get("as", "")
        self.saves = kind if kind in KINDS else ""
        self.prints = kind == PRINT

    @property
    def whole(self) -> bool:
        """Whether every row is wanted, not a page of them."""
        return bool(self.by or self.saves or self.prints)

    def a_page(self, usual: int) -> int:
        """How many rows: all of them on paper."""
        return EVERY_ROW if self.prints else usual

    def in_order(self, rows: Iterable[Any], of: Callable[[Any], Any] = lambda row: row) -> list[Any]:
        """As the address asks, else as they come; what says nothing there comes last, either way round. `of` finds
        what the columns read in a row."""
        rows, by = list(rows), self.by
        if by is None:
            return rows
        told = [(by.value(of(row)), row) for row in rows]
        answered = sorted(
            (one for one in told if not _blank(one[0])), key=lambda one: _turn(one[0]), reverse=self.backwards
        )
        return [row for _, row in answered] + [row for value, row in told if _blank(value)]

    def file(self, rows: Iterable[Any]) -> HttpResponse:
        """All the rows, in the order that they are given in."""
        columns = [column for column in self.columns if column.in_files]
        heads = [column.head for column in columns]
        cells = ([column.value(row) for column in columns] for row in rows)
        made = as_csv(heads, cells) if self.saves == CSV else as_xlsx(self.name, heads, cells)
        answer = HttpResponse(made, content_type=KINDS[self.saves])
        answer["Content-Disposition"] = f'attachment; filename="{self.name}-{writing.today()}.{self.saves}"'
        return answer

    @property
    def heads(self) -> list[ColumnHead]:
        return [self._head(column) for column in self.columns if column.on_page]

    def _head(self, column: Column) -> ColumnHead:
        chosen = column is self.by
        turn = not self.one_way and (not self.backwards if chosen else column.most_first)
        return ColumnHead(
            label=column.head,
            href=self._here(sort=f"{'-' if turn else ''}{column.key}") if column.key else "",
            num=column.num,
            sorted=("descending" if self.backwards else "ascending") if chosen else "",
        )

    @property
    def files(self) -> list[tuple[str, str]]:
        """What the list can be saved as, each with its address: the same filters and order."""
        return [(kind.upper(), self._here(**{"as": kind})) for kind in KINDS]

    @property
    def paper(self) -> str:
        return self._here(**{"as": PRINT})

    def _here(self, **changes: str) -> str:
        query = self.asked.copy()
        for name in ("page", "as"):
            query.pop(name, None)
        for name, value in changes.items():
            query[name] = value
        return f"?{query.urlencode()}"


def _blank(value: Cell) -> bool:
    return value is None or value == ""


def _turn(value: Cell) -> Any:
    """Words without regard to case and accents."""
    return plain(value) if isinstance(value, str) else value
