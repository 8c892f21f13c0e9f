"""PINs: four to six figures that one can type with gloves on, and not those that anybody would try first.

Which are tried first is common practice, no source: one figure repeated, runs up or down, pairs and halves repeated,
years, and a few patterns of the keypad.
"""

import re

SHORTEST, LONGEST = 4, 6
KEYPAD = {"2580", "0852", "1470", "1397", "147258", "159357", "159753", "1590", "3570", "1379", "7139", "123321"}
PATTERN = re.compile(rf"[0-9]{{{SHORTEST},{LONGEST}}}")


def is_pin(text: str) -> bool:
    return PATTERN.fullmatch(text) is not None


def why_not(pin: str) -> str:
    """Why this PIN is not taken; empty if it is.

    >>> why_not("4071"), why_not("1234")
    ('', 'Choose another: that one is easy to guess.')
    """
    if not is_pin(pin):
        return f"A PIN is {SHORTEST} to {LONGEST} figures, and nothing else."
    if _is_common(pin):
        return "Choose another: that one is easy to guess."
    return ""


def _is_common(pin: str) -> bool:
    steps = {(int(b) - int(a)) % 10 for a, b in zip(pin, pin[1:], strict=False)}
    if steps in ({0}, {1}, {9}):  # 7777, 2345, 8901, 4321
        return True
    if any(len(pin) % n == 0 and pin == pin[:n] * (len(pin) // n) for n in (2, 3)):  # 1212, 123123
        return True
    if len(pin) in (4, 6) and len(set(pin)) == 2 and re.fullmatch(r"(\d)\1+(\d)\2+", pin):  # 1122
        return True
    if len(pin) == 4 and 1900 <= int(pin) <= 2099:
        return True
    return pin in KEYPAD
