"""What was typed on a sheet of sizes, as it is kept until it is signed: plain words that JSON can hold.

`{"instrument": "3", "sizes": {"5": {"typed": ["124.96"], "unit": "mm", "instrument": "3", "reasons": {}}}}`, and under
"record" the fields of the signature.
A size without a figure keeps neither instrument nor unit: it takes those of the size before it.
"""

from collections.abc import Mapping
from typing import Any

LONGEST = {"figure": 120, "reason": 300, "field": 2000}


def merged(entered: Mapping[str, Any], heard: Mapping[str, Any]) -> dict[str, Any]:
    """`heard` is what one page sent, which may be the whole sheet, one size or one spot; the rest stays as it was."""
    sizes = dict(entered.get("sizes", {}))
    for number, one in heard.get("sizes", {}).items():
        kept = _size(sizes.get(number, {}), one)
        if any(text.strip() for text in kept["typed"]):
            sizes[number] = kept
        else:
            sizes.pop(number, None)
    return {
        "sizes": sizes,
        "instrument": _last_instrument(entered.get("instrument", ""), heard.get("sizes", {}), sizes),
        "record": {**entered.get("record", {}), **heard.get("record", {})},
    }


def _size(kept: Mapping[str, Any], heard: Mapping[str, Any]) -> dict[str, Any]:
    typed = list(kept.get("typed", []))
    for spot, text in heard.get("figures", {}).items():
        typed += [""] * (spot + 1 - len(typed))
        typed[spot] = text
    return {
        "typed": typed,
        "unit": heard.get("unit") or kept.get("unit", ""),
        "instrument": heard["instrument"] if "instrument" in heard else kept.get("instrument", ""),
        "reasons": {**kept.get("reasons", {}), **heard.get("reasons", {})},
    }


def _last_instrument(before: str, heard: Mapping[str, Any], sizes: Mapping[str, Any]) -> str:
    """The instrument in hand: of the last size with a figure in it, or else the one that was just chosen."""
    chosen = {number: one["instrument"] for number, one in heard.items() if one.get("instrument")}
    used = [instrument for number, instrument in chosen.items() if number in sizes]
    others = [instrument for instrument in chosen.values() if instrument != before]
    last: str = (used or others or [before])[-1]
    return last


def as_measured(sizes: Mapping[str, Mapping[str, Any]]) -> dict[str, Any]:
    """A sheet that begins with old values put in, for correcting them."""
    last = [one["instrument"] for one in sizes.values()]
    return {"sizes": dict(sizes), "instrument": last[-1] if last else "", "record": {}}
