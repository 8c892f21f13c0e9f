"""python -m tests.cut_off --times 20"""

import os
import sys

import django

os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
django.setup()

from tests.cut_off.again import main  # noqa: E402 - its scenery needs Django

sys.exit(main())
