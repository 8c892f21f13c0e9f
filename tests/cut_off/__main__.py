"""python -m tests.cut_off --times 20"""

import os
import signal
import sys

import django

os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
django.setup()

from tests.cut_off.again import main  # noqa: E402 - its scenery needs Django

signal.signal(signal.SIGTERM, lambda *_: sys.exit("Stopped."))  # and what it serves stops with it
sys.exit(main())
