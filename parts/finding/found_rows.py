"""What was found, as rows to read: what each is called, where it lies, its state and its need today."""

from core.web.found import FoundRow
from core.web.rooms import found_kinds


def rows_of(kind: str, ids: list[int], today) -> list[FoundRow]:
    """The things of one kind, in the order of these numbers; one that is gone since is left out."""
    found = found_kinds()[kind].rows(ids, today)
    return [found[pk] for pk in ids if pk in found]
