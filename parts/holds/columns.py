"""What the list of hold points says of each, on the page and in its files."""

from ..common.list_table import Column

COLUMNS = (
    Column("name", "Hold point", lambda hold: hold.name),
    Column("on", "On", lambda hold: hold.on_words),
    Column("stops", "Stops", lambda hold: ", ".join(hold.stops)),
    Column("body", "Released by", lambda hold: hold.body),
    Column("asked", "Asked", lambda hold: hold.asked_on),
    Column("", "Asks for", lambda hold: hold.must_show, on_page=False),
    Column("", "Released", lambda hold: hold.released_on, on_page=False),
    Column("", "On what paper", lambda hold: hold.reference, on_page=False),
    Column("", "Good until", lambda hold: hold.expires, on_page=False),
    Column("", "Stopped by", lambda hold: str(hold.stopped_by or ""), on_page=False),
)
