"""The event log, and the transactions that write it."""

from core.web.rooms import Protected, Room

ROOM = Room(
    protected=(
        Protected("parts_event", "The event log is never changed."),
        Protected("core_eventsubject", "The event log is never changed."),
        Protected("core_link", "The chain is never changed."),
        Protected("core_signedtext", "What was signed is never changed."),
    ),
)
