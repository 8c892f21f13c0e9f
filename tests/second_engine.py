"""What runs once more on PostgreSQL: what is marked `engine`, in the files named here. It carries out every action that
there is, or it fails in the end.

A plugin of that run alone, since only a run of all of it can say so: `pytest -p tests.second_engine -m engine`.
"""

import re

from core.domain.catalogue import CATALOGUE, EventType
from tests.running import ROOT

MARKED = re.compile(r"mark\.engine|needs_postgres|\bStandardSet\b")
carried_out: set[str] = set()
"""The words under which it was logged."""


def files() -> list[str]:
    """Those with such tests; the others need not even be looked through."""
    tests = sorted(path.relative_to(ROOT) for path in (ROOT / "tests").rglob("test_*.py"))
    return [str(path) for path in tests if MARKED.search((ROOT / path).read_text("utf-8"))]


def pytest_configure() -> None:
    check = EventType.check

    def noted(event, data) -> None:
        carried_out.add(event.word)
        check(event, data)

    EventType.check = noted


def missed() -> list[str]:
    return [word for word in CATALOGUE.event_words() if word not in carried_out]


def pytest_sessionfinish(session, exitstatus) -> None:
    if hasattr(session.config, "workeroutput"):
        session.config.workeroutput["carried_out"] = sorted(carried_out)
    elif missed() and not exitstatus:
        session.exitstatus = 1


def pytest_testnodedown(node) -> None:
    carried_out.update(getattr(node, "workeroutput", {}).get("carried_out", ()))


def pytest_terminal_summary(terminalreporter) -> None:
    if missed():
        terminalreporter.section("Never carried out on PostgreSQL")
        terminalreporter.line(f"{', '.join(missed())}: mark a test of each `engine`.", red=True)
