"""When something may be undone by who did it. Plain Python."""

from datetime import datetime, timedelta

from core.domain.refusals import Refusal

FOR = timedelta(minutes=10)
OTHERWISE = "Send it back, or enter it again; or a fitter or the stores correct it, with the reason."


def against(*, own: bool, at: datetime, now: datetime, undone: bool) -> Refusal | None:
    """Why it may not be undone, as far as its events alone tell."""
    if undone:
        return Refusal("undone", "It is undone already.", "Look at the page again.")
    if not own:
        return Refusal("not-yours", "Somebody else did it.", OTHERWISE)
    if now - at > FOR:
        return Refusal("late", "It was done more than ten minutes ago.", OTHERWISE)
    return None
