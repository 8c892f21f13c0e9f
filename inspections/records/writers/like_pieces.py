"""One examiner's report over like pieces: a record of each, all under one signature that names each."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from core.domain.refusals import Refusal, Refused
from core.models import Person
from inspections.models import Examination
from parts.actions import writing
from parts.domain.plain import capital
from parts.domain.tagcodes import grouped
from parts.domain.words import Result
from parts.models import Component

from .signing import sign


@dataclass(frozen=True, kw_only=True)
class Like:
    """A like piece with its verdict, as the form has it."""

    piece: Component
    seen: int
    sound: bool
    line: str = ""

    @property
    def words(self) -> str:
        return words_of(self.piece)


def words_of(piece: Component) -> str:
    name = capital(piece.place.words if piece.place else piece.name)
    return f"{name} ({grouped(piece.tags.current_code() or '')})"


def sign_report(component: Component, actor: Person, likes: Sequence[Like], **entered: Any) -> Examination:
    """`entered` as `sign` takes it, said of every piece. One in doubt has no record here: the report names it as left
    out. Raises `Refused` with every reason, each naming its piece, and then nothing is written."""
    writing.allow(actor, "examine")
    sound = [one for one in likes if one.sound]
    doubts = [one.words for one in likes if not one.sound]
    if found := list(_alone(**entered)):
        raise Refused(*found)
    with writing.one_transaction():
        covered = [component, *(one.piece for one in sound)]
        report = _log(covered, doubts, actor, entered)
        record = sign(component, actor, report=report, **entered)
        for one in sound:
            of_piece = entered | {
                "seen": one.seen,
                "remarks": one.line or entered.get("remarks", ""),
                "supersedes": None,
            }
            try:
                sign(one.piece, actor, report=report, **of_piece)
            except Refused as refused:
                raise Refused(*(refusal.naming(one.words) for refusal in refused.refusals)) from None
        return record


def _alone(*, result: str, marks: Sequence[Any] = (), check: Any = None, **entered: Any) -> Iterator[Refusal]:
    """Why this piece is signed by itself."""
    cure = "Take the like pieces out."
    if result != Result.SOUND or marks:
        yield Refusal("in-doubt", "Sign this piece separately: it showed something.", cure)
    if check and check.stage:
        yield Refusal("of-a-weld", "Sign this piece separately: it is the check of one weld repair.", cure)


def _log(covered: list[Component], doubts: list[str], actor: Person, entered: dict[str, Any]) -> dict[str, Any]:
    """The signature of the report; and what each of its records says of it."""
    names = [words_of(piece) for piece in covered]
    entry = writing.Entry(
        word="sign report",
        about=sorted({("locomotive", piece.locomotive_id) for piece in covered if piece.locomotive_id}),
        data={
            "kind": str(entered["kind"]), "method": entered.get("method") or "", "pieces": [one.pk for one in covered],
            "names": names, "left_out": doubts,
        },
    )  # fmt: skip
    (event,) = writing.write(actor, [entry])
    return {"report": event.pk, "covers": names, "left out": doubts}
