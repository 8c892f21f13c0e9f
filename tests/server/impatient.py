"""The settings of a server with little patience for strangers, so that a test need not wait half a minute for it."""

from workshop.serving import strangers
from workshop.settings import *  # noqa: F403

strangers.SILENT_S, strangers.UNFINISHED_S, strangers.LOOK_EVERY_S = 2, 4, 1
