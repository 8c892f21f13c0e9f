"""What finding and its lists ask of pieces besides their words."""

from django.db.models import Max

from core.models import EventSubject

HANDS = {"LH": "left hand", "RH": "right hand"}

PRINTED = "print labels"
"""The one act that is no sign of somebody having had the piece in hand."""


def last_in_hand(ids: list[int]) -> dict:
    """When somebody last did, recorded or signed anything about each piece, printing its tag aside."""
    about = EventSubject.objects.filter(kind="piece", number__in=ids).exclude(event__action=PRINTED)
    return dict(about.values_list("number").annotate(last=Max("event__at")).order_by())
