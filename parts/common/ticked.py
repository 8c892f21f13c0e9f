"""What was ticked in a list of pieces: each sends its number and, after a point, what the list knew of it."""

MOST = 300


def events_ticked(data) -> dict[int, int | None]:
    """By the number of the piece, that of the last event that the list knew of it."""
    ticked = {}
    for key in data:
        if key == "piece" or key.startswith("piece-"):
            for value in data.getlist(key):
                number, _, seen = value.partition(".")
                if number.isdecimal() and len(number) < 16:
                    ticked[int(number)] = int(seen) if seen.isdecimal() and len(seen) < 16 else None
    return ticked


def numbers_ticked(data) -> list[int]:
    return list(events_ticked(data))[:MOST]
