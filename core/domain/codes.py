"""The secret on a sign-in card or an invitation: sixteen characters, 80 random bits, in the alphabet of the tags.

So many bits can neither be guessed nor searched for, unlike those of a password: a plain hash of them is safe to keep.
"""

import hashlib
import secrets

from parts.domain.tagcodes import ALPHABET, normalise

LENGTH = 16


def new_code(length: int = LENGTH) -> str:
    return "".join(secrets.choice(ALPHABET) for _ in range(length))


def read(text: str) -> str:
    """The code in what was typed or scanned, the card's whole address included; empty if there is none."""
    code = normalise(text.strip().rstrip("/").rpartition("/")[2])
    return code if len(code) == LENGTH and set(code) <= set(ALPHABET) else ""


def hashed(code: str) -> str:
    return hashlib.sha256(code.encode()).hexdigest()


def grouped(code: str) -> str:
    """As it is printed: 7K3M 9QZ2 4T0X BBN8."""
    return " ".join(code[i : i + 4] for i in range(0, len(code), 4))


def printed_address(base: str, word: str, code: str) -> str:
    """In capitals throughout, which keeps a QR code small: HTTP://COTTER.LOCAL:8000/JOIN/7K3M…"""
    return f"{base.rstrip('/')}/{word}/{code}".upper()
