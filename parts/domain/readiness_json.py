"""Readiness in the shape that `manage.py readiness --json` prints."""

from typing import Any

from .readiness import Blocker, Readiness, SubReadiness
from .sequence import Order


def as_json(found: Readiness) -> dict[str, Any]:
    return {
        "locomotive": found.locomotive,
        "as_of": found.as_of.isoformat(),
        "subassemblies": [_sub_as_json(sub, found.order) for sub in found.subassemblies],
    }


def _sub_as_json(found: SubReadiness, order: Order) -> dict[str, Any]:
    sub, by_id = found.sub, order.by_id
    return {
        "code": sub.code,
        "name": sub.name,
        "parent": by_id[sub.parent].code if sub.parent in by_id else None,
        "goes_on_after": [by_id[id].code for id in sub.after if id in by_id],
        **found.own._asdict(),
        "branch": found.branch._asdict(),
        "clear_to_assemble": found.clear_to_assemble,
        "complete": found.complete,
        "blockers": [_blocker_as_json(blocker) for blocker in found.blockers],
    }


def _blocker_as_json(blocker: Blocker) -> dict[str, Any]:
    return {
        "position": blocker.position,
        "side": blocker.side,
        "axle": blocker.axle,
        "end": blocker.end,
        "tag": blocker.tag,
        "need": str(blocker.need),
        "reasons": list(blocker.reasons),
        "since": blocker.since.isoformat() if blocker.since else None,
        "due": blocker.due.isoformat() if blocker.due else None,
        "holds_up": blocker.holds_up,
    }
