"""Pieces that are like another and owe the same look, so that one examiner's report may cover them with it."""

from collections.abc import Collection

from django import forms
from django.db.models import Q, QuerySet

from core.models.prepared import prepared
from core.web.widgets import DeclaredFields
from parts.actions.forms import line
from parts.domain.plain import capital
from parts.domain.tagcodes import grouped
from parts.domain.words import Kind, Need, State
from parts.models import Component

from .writers.like_pieces import Like

OWED = {Kind.CRACK_CHECK: Need.CRACK_CHECK, Kind.VISUAL: Need.EXAMINE}
MOST = 24
LINE = "-line"
OUTSIDE, SOUND, DOUBT = "", "sound", "doubt"
VERDICTS = (
    (OUTSIDE, "Not in this report"),
    (SOUND, "Sound"),
    (DOUBT, "In doubt: left out, and signed separately"),
)


def like(piece: Component, kind: Kind, inside: Collection) -> list[Component]:
    """Of the same name, material and surfaces on the same locomotive, cleaned, and owed this look. What has
    safety-critical places inside is looked at by itself, since each of those is to be named."""
    place = piece.place
    if place is None or inside:
        return []
    same = _same({
        "place__need": str(OWED[kind]), "place__locomotive": place.locomotive_id, "place__name": place.name,
        "place__material": place.material, "place__crack_check": place.crack_check,
    })  # fmt: skip
    alike = [one for one in same if one != piece and one.place and set(one.place.surfaces) == set(place.surfaces)]
    return alike[:MOST]


@prepared
def _same(scope: dict) -> QuerySet[Component]:
    whole = Q(broken_down=False, place__inner__isnull=False)
    found = Component.objects.live().filter(state=State.CLEANED, **scope).exclude(whole)
    return found.with_codes().select_related("place").order_by("place_id", "id")


class WithLike(forms.Form):
    """A line and a verdict for each like piece that the same report covers. None is preset."""

    fields: DeclaredFields
    like: list[Component]

    def offer_like(self, pieces: list[Component]) -> None:
        self.like = pieces
        for piece in pieces:
            name, words = f"like-{piece.pk}", capital(piece.place.words if piece.place else piece.name)
            self.fields[name] = forms.ChoiceField(
                label=f"{words} {grouped(piece.code or '')}".strip(), required=False, widget=forms.RadioSelect,
                choices=[(f"{word}.{piece.last_event}" if word else "", told) for word, told in VERDICTS],
                error_messages={"invalid_choice": "Somebody recorded something on this piece since. Look at it again."},
            )  # fmt: skip
            self.fields[f"{name}{LINE}"] = line(f"Of this piece: {words}", most=160)

    def like_names(self) -> list[str]:
        return [name for piece in self.like for name in (f"like-{piece.pk}", f"like-{piece.pk}{LINE}")]

    def like_fields(self) -> list[forms.BoundField]:
        return [self[name] for name in self.like_names()]

    def likes(self) -> list[Like]:
        """Those that a verdict was given of."""
        found = []
        for piece in self.like:
            verdict, _, seen = (self.cleaned_data.get(f"like-{piece.pk}") or "").partition(".")
            if verdict:
                told = self.cleaned_data.get(f"like-{piece.pk}{LINE}", "").strip()
                found.append(Like(piece=piece, seen=int(seen), sound=verdict == SOUND, line=told))
        return found
