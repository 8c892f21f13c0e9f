"""Tag codes: eight characters that a gloved hand can type and a misreading cannot turn into another tag.

The alphabet is Douglas Crockford's Base 32: the ten figures and the letters without I, L, O and U. Read back, O counts
as 0, and I and L as 1. Each character stands for five bits, an element of the field GF(32).

Seven characters are random; the eighth makes the weighted sum of all eight vanish. The weights are eight distinct
non-zero elements, so that
* one wrong character changes the sum by weight x difference, which is never zero in a field;
* two swapped characters change it by (weight + weight') x difference, which is never zero as the weights differ.
"""

import re
import secrets
import unicodedata
from collections.abc import Callable

ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
LENGTH = 8

_VALUES = {character: value for value, character in enumerate(ALPHABET)}
_CONFUSIONS = str.maketrans({"O": "0", "I": "1", "L": "1"})
_SCANNED = re.compile(r"/T/([^/?#]*)/?(?:[?#].*)?$")  # the end of an address such as HTTP://HOST/T/7K3M9QZ2


class TagError(ValueError):
    """What is wrong with a tag code, as a sentence for whoever typed or scanned it."""


def times(a: int, b: int) -> int:
    """The product of two elements of GF(32), built on the primitive polynomial x^5 + x^2 + 1."""
    product = 0
    while b:
        if b & 1:
            product ^= a
        a <<= 1
        if a & 0b100000:
            a ^= 0b100101
        b >>= 1
    return product


def _powers_of_x(count: int) -> tuple[int, ...]:
    powers = [1]
    while len(powers) < count:
        powers.append(times(powers[-1], 2))
    return tuple(powers)


# x is primitive, so its first 31 powers all differ. The check character has weight 1: it is the sum of the others.
WEIGHTS = tuple(reversed(_powers_of_x(LENGTH)))


_WEIGHED = [{character: times(weight, value) for character, value in _VALUES.items()} for weight in WEIGHTS]


def weighted_sum(code: str) -> int:
    total = 0
    for weighed, character in zip(_WEIGHED, code, strict=False):
        total ^= weighed[character]
    return total


def with_check(seven: str) -> str:
    """The code whose first seven characters are given."""
    return seven + ALPHABET[weighted_sum(seven)]


def new_code(randbelow: Callable[[int], int] = secrets.randbelow) -> str:
    return with_check("".join(ALPHABET[randbelow(32)] for _ in range(LENGTH - 1)))


def normalise(text: str) -> str:
    """The code as it is stored, from what somebody typed, or from a scanned address that ends in /T/CODE."""
    text = unicodedata.normalize("NFKC", text).upper()
    text = "".join(c for c in text if not _is_filler(c))
    if scanned := _SCANNED.search(text):
        text = scanned[1]
    return text if "/" in text else text.translate(_CONFUSIONS)


def _is_filler(character: str) -> bool:
    """Whether it only parts the characters: a space, a hyphen or dash, or something that does not print."""
    return character.isspace() or unicodedata.category(character) in ("Pd", "Cf", "Cc")


def check(text: str) -> str:
    """The code in `text`, as it is stored; raises TagError with a sentence that says what is wrong."""
    code = normalise(text)
    if not code:
        raise TagError(f"There is no tag code here. Type the {LENGTH} characters that stand on the tag.")
    if "/" in code:
        raise TagError("This is an address, but not the address of a tag: that ends in /T/ and a tag code.")
    _refuse_strangers(code)
    if len(code) != LENGTH:
        raise TagError(f"A tag code has {LENGTH} characters and “{code[:40]}” has {len(code)}. Look at the tag again.")
    if weighted_sum(code):
        raise TagError(f"“{grouped(code)}” is not a tag code: one character is misread or two are swapped.")
    return code


def _refuse_strangers(code: str) -> None:
    for character in code:
        if character == "U":
            raise TagError("The letter U never stands in a tag code. Look at the tag again: it may be a V.")
        if character not in _VALUES:
            raise TagError(f"“{character}” never stands in a tag code: only figures, and letters other than U.")


def is_code(text: str) -> bool:
    try:
        check(text)
    except TagError:
        return False
    return True


def grouped(code: str) -> str:
    """As it is shown and printed: 7K3M 9QZ2."""
    return f"{code[:4]} {code[4:]}"


def printed_address(base: str, code: str) -> str:
    """The address in a tag's QR code. Capitals keep it in the alphanumeric mode, and the code small."""
    return f"{base.rstrip('/')}/T/{code}".upper()
