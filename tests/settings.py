"""The settings under test: a data folder that is thrown away, and less care where care is only slow."""

import atexit
import os
import shutil
import tempfile

# Before the settings are read, and for the commands that tests start: no test reaches a real register.
os.environ["COTTER_DATA"] = tempfile.mkdtemp(prefix="cotter-tests-")
os.environ.pop("COTTER_DEMO", None)
atexit.register(shutil.rmtree, os.environ["COTTER_DATA"], ignore_errors=True)

from workshop.settings import *  # noqa: E402, F403
from workshop.settings import STATIC_ROOT, STORAGES  # noqa: E402

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = STORAGES | {"staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}}
STATIC_ROOT.mkdir()
HOSTS = ["testserver"]
