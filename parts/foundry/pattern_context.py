"""What the page of a pattern shows, in a number of queries that does not grow with the rows."""

from dataclasses import dataclass
from fractions import Fraction

from core.models import Event
from inspections.domain.contractions import both_ways

from ..actions.writing import today
from ..common.piece_context import told
from ..domain.jobs import days_late
from ..domain.pattern_words import MAY_FOLLOW, PatternKind, PatternState, doing, move_troubles
from ..models import Casting, Drawing, Pattern, Photo, Position, Renewal

EVENTS_SHOWN = 40
PHOTOS_SHOWN = 12


@dataclass(frozen=True, kw_only=True)
class StateChange:
    """One state that may follow, with what stands against it."""

    slug: str
    label: str
    state: str
    refusals: list
    usual: bool


@dataclass(frozen=True, kw_only=True)
class PatternContext:
    code: str
    allows: str
    late: int
    changes: list[StateChange]
    places: list[Position]
    parts: list[Pattern]
    castings: list[Casting]
    head_castings: list[Casting]  # of a core box: what its pattern has made
    renewals: list[Renewal]
    reference_code: str
    drawings: list[Drawing]
    photos: list[Photo]
    history: list

    @property
    def first(self) -> StateChange | None:
        """The usual next thing, if nothing stands against it."""
        return next((change for change in self.changes if change.usual and not change.refusals), None)


def pattern_context(pattern: Pattern) -> PatternContext:
    return PatternContext(
        code=pattern.tags.current_code(),
        allows=both_ways(Fraction(pattern.allows)) if pattern.allows else "",
        late=days_late(pattern.promised_back, today()) if pattern.is_out else 0,
        changes=_changes(pattern),
        places=list(pattern.positions.select_related("locomotive", "part_of").in_words_order()),
        parts=list(pattern.parts.with_codes().order_by("state", "name", "id")),
        castings=list(Casting.objects.of_pattern(pattern)),
        head_castings=list(Casting.objects.of_pattern(pattern.goes_with)) if pattern.goes_with else [],
        renewals=list(pattern.renewals.select_related("position__locomotive").order_by("ended", "-id")),
        reference_code=pattern.reference.tags.current_code() if pattern.reference else "",
        drawings=list(Drawing.objects.of_number(pattern.drawing)),
        photos=list(pattern.photos.all()[:PHOTOS_SHOWN]),
        history=[told(event) for event in Event.objects.about("pattern", pattern.pk).for_telling()[:EVENTS_SHOWN]],
    )


def _changes(pattern) -> list[StateChange]:
    now, kind = PatternState(pattern.state), PatternKind(pattern.kind)
    found = []
    for to in MAY_FOLLOW[now]:
        against = move_troubles(str(pattern), now, to, kind)
        if not any(refusal.code == "kind" for refusal in against):  # a jig is never cast from: no button for it
            slug, usual = to.value.replace(" ", "-"), to is MAY_FOLLOW[now][0]
            found.append(StateChange(slug=slug, label=doing(now, to), state=to.value, refusals=against, usual=usual))
    return found
