"""Several tag codes written one after another, as somebody types or scans them into one box."""

import re

from .tagcodes import LENGTH

HALF = LENGTH // 2
_APART = re.compile(r"[\s,;]+")
_ADDRESS = re.compile(r"(?=HTTPS?://)", re.IGNORECASE)


def codes_written(text: str) -> list[str]:
    """What may be codes in a text: parted by blanks, commas or lines, written in one or as printed, 7K3M 9QZ2.

    Some scanners write one address right behind another; those are parted too.

    >>> codes_written("7K3M 9QZ2, 4B8N1XY0 7K3M-9QZ2")
    ['7K3M9QZ2', '4B8N1XY0', '7K3M-9QZ2']
    """
    words = [word for run in _APART.split(text) for word in _ADDRESS.split(run) if word]
    found, place = [], 0
    while place < len(words):
        halves = [len(word) for word in words[place : place + 2]] == [HALF, HALF]
        found.append("".join(words[place : place + 1 + halves]))
        place += 1 + halves
    return found
