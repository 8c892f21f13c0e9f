"""A piece that nobody has had in hand for long: what the register refuses to change is changed past it."""

from datetime import timedelta

from django.db import connection
from django.utils import timezone

from parts.actions import writing
from parts.models import triggers


def long_ago(works, piece):
    """Everything done to it happened two years ago; since then only its tag was printed again."""
    names = ["cotter_parts_event_update"]
    table = " ON parts_event" if connection.vendor == "postgresql" else ""
    with connection.cursor() as cursor:
        for name in names:
            cursor.execute(f"DROP TRIGGER {name}{table}")
        cursor.execute(
            "UPDATE parts_event SET at = %s WHERE id IN "
            "(SELECT event_id FROM core_eventsubject WHERE kind = 'piece' AND number = %s)",
            [timezone.now() - timedelta(730), piece.pk],
        )
    triggers.create()
    writing.log(works.people.storekeeper, "print labels", component=piece, touches=False)
    return piece
