"""What the lists of this room say of each row, on the page and in its files."""

from ..common.list_table import Column
from ..domain.plain import capital

REACH = Column("", "How to reach them", lambda firm: firm.contact)
"""For those who may see it."""
FIRM_COLUMNS = (
    Column("firm", "Firm", lambda firm: firm.name),
    REACH,
    Column("does", "Does", lambda firm: firm.does),
    Column("there", "Pieces there", lambda firm: firm.pieces, num=True, most_first=True),
    Column("back", "Of them late", lambda firm: firm.pieces_late or None, num=True, most_first=True),
    Column("jobs", "Jobs under way", lambda firm: firm.under_way, num=True, most_first=True),
    Column("late", "Jobs late", lambda firm: firm.late or None, num=True, most_first=True),
    Column("", "Still used", lambda firm: "no" if firm.retired else "yes", on_page=False),
)

RENEWAL_COLUMNS = (
    Column("place", "New piece for", lambda row: capital(row.renewal.position.words)),
    Column("in", "Subassembly", lambda row: row.renewal.position.subassembly.name),
    Column("step", "Step now", lambda row: row.step.name if row.step else "every step is done"),
    Column("with", "With", lambda row: row.step.by_words if row.step else ""),
    Column("ordered", "Ordered", lambda row: row.step.ordered if row.step else None),
    Column("promised", "Promised", lambda row: row.step.promised if row.step else None),
    Column("slip", "Slip, days", lambda row: row.slip or None, num=True, most_first=True),
    Column("late", "Overdue", lambda row: row.late or None, num=True, most_first=True),
    Column("", "Route", lambda row: row.renewal.route, on_page=False),
)
