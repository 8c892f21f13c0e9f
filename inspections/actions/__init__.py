"""The only writers of examinations, of what was decided of them, and of what pieces are measured and judged by."""

from .conceding import concede, concede_fit
from .deciding import decide, decide_each
from .signing import sign

__all__ = ["concede", "concede_fit", "decide", "decide_each", "sign"]
