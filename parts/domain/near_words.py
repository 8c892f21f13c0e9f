"""The words that a mistyped one may have been meant as."""

from collections.abc import Iterable

SHORTEST = 4
FAR = 3


def slips(typed: str, meant: str, most: int) -> int:
    """How many letters are wrong, missing, too many, or swapped with their neighbour; `most + 1` if more than `most`.

    The optimal string alignment distance.

    >>> slips("axelbox", "axlebox", 2), slips("hornstya", "hornstay", 2), slips("rod", "boiler", 2)
    (1, 1, 3)
    """
    if abs(len(typed) - len(meant)) > most:
        return most + 1
    before: list[int] = []
    row = list(range(len(meant) + 1))
    for i, letter in enumerate(typed, 1):
        last, before, row = before, row, [i]
        for j, other in enumerate(meant, 1):
            cost = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (letter != other))
            if i > 1 and j > 1 and letter == meant[j - 2] and typed[i - 2] == other:
                cost = min(cost, last[j - 2] + 1)
            row.append(cost)
        if min(row) > most:
            return most + 1
    return min(row[-1], most + 1)


def nearest(typed: str, known: Iterable[str], most: int = 3) -> list[str]:
    """The known words that are fewest slips away, one in short words and two in long ones; beginnings of words too, as
    somebody may still be typing, and singulars of what was typed.

    >>> nearest("axelbox", ["axle", "axlebox", "boiler"])
    ['axlebox']
    >>> nearest("axelb", ["axle", "axlebox", "boiler"])
    ['axlebox']
    """
    if len(typed) < SHORTEST or any(c.isdecimal() for c in typed):
        return []
    allowed = 1 if len(typed) < 7 else 2
    found = []
    for word in dict.fromkeys(known):
        if len(word) < SHORTEST or _unlike(typed, word):
            continue
        away = min(slips(typed, word, allowed) * 2, slips(typed, word[: len(typed)], allowed) * 2 + 1)
        if away <= allowed * 2 + 1:
            found.append((away, word))
    best = min(found, default=(0, ""))[0]
    return [word for away, word in sorted(found) if away // 2 == best // 2][:most]


def _unlike(typed: str, word: str) -> bool:
    """Cheaply told: too few letters in common to be worth counting slips."""
    return len(set(typed) - set(word)) > FAR - 1 or len(word) < len(typed) - 2
