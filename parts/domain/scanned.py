"""What the square patterns in a photo of a tag say: codes of tags, and what is none."""

from collections.abc import Iterable
from dataclasses import dataclass

from .tagcodes import TagError, check

LONGEST_SHOWN = 60


@dataclass(frozen=True)
class Scanned:
    """Codes of tags, each once and in the order found, and whatever else the patterns said, shortened for a page."""

    codes: tuple[str, ...] = ()
    others: tuple[str, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.codes or self.others)


def scanned(texts: Iterable[str]) -> Scanned:
    """Sort what was read.

    >>> scanned(["HTTP://COTTER.EXAMPLE/T/00000000", "https://shop.example/offers"])
    Scanned(codes=('00000000',), others=('https://shop.example/offers',))
    """
    codes, others = [], []
    for text in texts:
        try:
            codes.append(check(text))
        except TagError:
            others.append(" ".join(text.split())[:LONGEST_SHOWN])
    return Scanned(tuple(dict.fromkeys(codes)), tuple(dict.fromkeys(others)))
