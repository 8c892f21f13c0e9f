"""One test over all rows of a table, where each row takes a fraction of a millisecond: collecting, starting and
reporting it alone would take ten times as long."""

import inspect
from collections.abc import Callable, Iterable
from functools import wraps

import pytest

Param = type(pytest.param())


def for_each(names: str | tuple[str, ...] | list[str], rows: Iterable, ids: object = None) -> Callable:
    """As `pytest.mark.parametrize`, all rows in one test, which names each row that fails."""
    bare = isinstance(names, str) and "," not in names
    names = [name.strip() for name in names.split(",")] if isinstance(names, str) else list(names)
    rows = [row.values if isinstance(row, Param) else (row,) if bare else tuple(row) for row in rows]
    assert rows, "a table without rows proves nothing"

    def over(test: Callable) -> Callable:
        @wraps(test)
        def over_all(*args, **kwargs):
            failed = []
            for row in rows:
                try:
                    test(*args, **kwargs | dict(zip(names, row, strict=True)))
                except (AssertionError, pytest.fail.Exception) as error:
                    failed.append((row, error))
                except Exception as error:
                    error.add_note(f"in the row {row!r}")
                    raise
            if failed:
                _, first = failed[0]
                first.add_note(f"{len(failed)} of {len(rows)} rows failed: {[row for row, _ in failed][:20]}")
                raise first

        signature = inspect.signature(test)
        asked = [one for name, one in signature.parameters.items() if name not in names]
        over_all.__signature__ = signature.replace(parameters=asked)
        return over_all

    return over
