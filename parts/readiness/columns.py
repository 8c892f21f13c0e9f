"""What the lists of this room say of each row, on the page and in its files."""

from ..common.list_table import Column
from ..domain.readiness import Readiness
from .readiness_context import needs_in_words, waits_in_words, word_of

NEXT = (
    Column("what", "What", lambda job: job.words),
    Column("need", "Needs", lambda job: job.need),
    Column("where", "Lies in", lambda job: job.where),
    Column("waits", "Waits", lambda job: job.days_late or job.days, most_first=True),
    Column("holds-up", "Holds up", lambda job: job.holds_up, most_first=True),
    Column("who", "Who acts", lambda job: job.who),
    Column("", "Tag", lambda job: job.tag, on_page=False),
    Column("", "Subassembly", lambda job: job.group, on_page=False),
    Column("", "Why", lambda job: job.says, on_page=False),
    Column("", "Since", lambda job: job.since, on_page=False),
    Column("", "Promised", lambda job: job.due, on_page=False),
)


def readiness_columns(found: Readiness) -> tuple[Column, ...]:
    """Of subassemblies, each with all its parts."""
    return (
        Column("name", "Subassembly", lambda sub: sub.sub.name),
        Column("far", "How far", lambda sub: sub.branch.refitted / (sub.branch.required or 1), in_files=False),
        Column("refitted", "Refitted", lambda sub: sub.branch.refitted, num=True, on_page=False),
        Column("ready", "Accepted", lambda sub: sub.branch.ready, num=True, on_page=False),
        Column("blocked", "Blocked", lambda sub: sub.branch.blocked, num=True, most_first=True),
        Column("stands", "Stands", word_of),
        Column("needs", "Its own places need", needs_in_words),
        Column("waits", "Waits for", lambda sub: waits_in_words(sub, found)),
        Column("holds-up", "Holds up", lambda sub: sub.holds_up, num=True, most_first=True),
    )
