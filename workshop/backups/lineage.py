"""After a restore: the chain tells of it in a link of its own, which begins a new lineage, so that papers printed since
the backup are known for what they are."""

import json

from django.conf import settings

from core.domain import codes
from core.domain.schema import Schema
from core.log import chain

from . import schema
from .common import RESTORED


def tell_the_chain() -> bool:
    """Once the register is of this version. True if a restore was told now."""
    mark = settings.DATA / RESTORED
    if not mark.exists() or schema.of_register() is not Schema.CURRENT:
        return False
    chain.append([], lineage=codes.new_code(4), restored=json.loads(mark.read_text("utf-8")))
    mark.unlink()
    return True
