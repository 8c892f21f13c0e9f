"""What is said of the tag of a piece that has just been entered."""

from parts.domain.tagcodes import grouped


def tagged(done: str, code: str, given: str) -> str:
    """`given`: the tag that was scanned or typed, which hangs on it. Another was issued just now and is not even
    printed."""
    if given:
        return f"{done}, and tagged."
    return f"{done}. Its tag, {grouped(code)}, is still to be printed and tied on."
