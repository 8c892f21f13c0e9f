"""Words as they are looked for: whatever the case, the accents, the hyphens and the spaces.

Everything that is to be found is folded once, when it changes, into a text of words with two spaces before each. So
three characters, which is what an index of trigrams looks up, are enough to ask for a word that *begins* with one or
two letters ("  l", " lh"), and three letters or more are found anywhere in a word.
"""

import re
import unicodedata
from collections.abc import Iterable
from functools import lru_cache

GAP = "  "
MOST_WORDS = 6
LONGEST_JOINED = 40
_UNLIKE = str.maketrans({"ø": "o", "đ": "d", "ð": "d", "ł": "l", "ħ": "h", "æ": "ae", "œ": "oe", "þ": "th", "ı": "i"})
"""Letters that Unicode does not take apart into a plain letter and a mark."""
_CONFUSED = str.maketrans({"o": "0", "i": "1", "l": "1"})
"""What stands for what in a tag code, which never holds these letters."""


def plain(text: str) -> str:
    """Small letters without accents; what is neither letter nor figure becomes a space.

    >>> plain("Crosshead (née GÜLLY), 7/8")
    'crosshead  nee gully   7 8'
    """
    apart = unicodedata.normalize("NFKD", text.casefold()).translate(_UNLIKE)
    return "".join(c if c.isalnum() else " " for c in apart if not unicodedata.combining(c))


def joined(text: str) -> str:
    """With nothing between its words.

    >>> joined("GW-7 / b")
    'gw7b'
    """
    return "".join(plain(text).split())


def folded(texts: Iterable[str], codes: Iterable[str] = ()) -> str:
    """What is kept to be looked through: the words of each text, whole and in their parts, and each short text joined.
    Tag codes stand behind a mark, so that no word of one or two letters is found where one begins by chance.

    >>> folded(["slide bar", "GW-7"], ["7K3M9QZ2"])
    '  slide  bar  slidebar  gw  7  gw7  =7k3m9qz2  '
    """
    words = [word for text in texts if text for word in _words(text)]
    words += [f"={joined(code)}" for code in codes]
    return GAP + GAP.join(dict.fromkeys(words)) + GAP if words else ""


@lru_cache(maxsize=4096)
def _words(text: str) -> tuple[str, ...]:
    """Kept, since the names of a register repeat a thousand times."""
    chunks = [joined(chunk) for chunk in text.split()]
    whole = joined(text)
    return (*plain(text).split(), *filter(None, chunks), *([whole] if len(whole) <= LONGEST_JOINED else []))


def asked(text: str) -> list[str]:
    """The words of a question: what somebody writes with a hyphen or a stop is one word.

    >>> asked("  GW-7  Slide ")
    ['gw7', 'slide']
    """
    return list(dict.fromkeys(word for chunk in text.split() if (word := joined(chunk))))[:MOST_WORDS]


def looked_up(word: str) -> str:
    """The characters to look for: one or two letters only where a word begins."""
    return (GAP + word)[-3:] if len(word) < 3 else word


def spellings(word: str) -> list[str]:
    """The word, and how it may stand on a tag: O read for 0, I and L for 1. Of plain words nobody means that.

    >>> spellings("7kol"), spellings("oil")
    (['7kol', '7k01'], ['oil'])
    """
    if len(word) < 4 or not re.search(r"\d", word) or (other := word.translate(_CONFUSED)) == word:
        return [word]
    return [word, other]
