"""What the figures of a test of a piece make of its record (domain/piece_tests.py)."""

from collections.abc import Iterator, Mapping
from datetime import date

from core.domain.refusals import Refusal
from inspections.domain.piece_tests import FIELDS, PieceTest, has_figures, read_test, typed_figures
from parts.domain.words import Kind, Result

Figures = Mapping[str, str] | None


def _read(kind: str, figures: Figures, on: date) -> PieceTest | None:
    return read_test(Kind(kind), figures or {}, on) if has_figures(kind) else None


def outside_in(kind: str, figures: Figures, on: date) -> list[str]:
    test = _read(kind, figures, on)
    return test.outside if test else []


def trouble_with_figures(kind: str, result: str, figures: Figures, on: date) -> Iterator[Refusal]:
    """What is missing or cannot be read; and a test that does not reach far enough finds nothing sound."""
    test = _read(kind, figures, on)
    if test is None:
        if figures:
            yield Refusal("figures", f"Figures: a {kind} examination has none.", "Take them out.")
        return
    for one in FIELDS[Kind(kind)]:
        if one.name in test.wrong:
            yield Refusal(one.name, f"{one.label}: {test.wrong[one.name]}", "Correct it; the rest is kept.")
    if result == Result.SOUND:
        yield from (
            Refusal("not-enough", sentence, "Or sign what was found as a defect.") for sentence in test.not_enough
        )


def stored(kind: str, figures: Figures) -> dict[str, str]:
    return typed_figures(Kind(kind), figures or {}) if has_figures(kind) else {}
