"""What views of records share: finding a record, and telling what its signature led to."""

from django.http import Http404

from inspections.models import Examination
from parts import facts
from parts.domain.next_step import then
from parts.domain.words import State


def examination_or_404(pk: int) -> Examination:
    try:
        return Examination.objects.for_page().get(pk=pk)
    except Examination.DoesNotExist:
        raise Http404("No such record of an examination.") from None


def what_happened(record, before: str, actor) -> str:
    """What was signed, whether the piece has gone on by it, and what follows."""
    piece = record.component
    piece.refresh_from_db()
    stepped = before != piece.state and piece.state == State.CRACK_CHECKED
    became = " It is crack-checked now." if stepped else ""
    return f"Signed: {record}, {record.result}.{became} {then(facts.context(piece, actor))}"
