"""The settings under test: a data folder that is thrown away, and less care where care is only slow."""

import atexit
import os
import shutil
import tempfile

# Before the settings are read, and for the commands that tests start: no test reaches a real register.
os.environ["COTTER_DATA"] = tempfile.mkdtemp(prefix="cotter-tests-")
os.environ.pop("COTTER_DEMO", None)
atexit.register(shutil.rmtree, os.environ["COTTER_DATA"], ignore_errors=True)

from functools import lru_cache  # noqa: E402
from typing import Any  # noqa: E402

from django.contrib.staticfiles.storage import StaticFilesStorage  # noqa: E402
from django.db.backends.sqlite3.base import SQLiteCursorWrapper  # noqa: E402
from django.db.models.expressions import Col  # noqa: E402

from workshop.settings import *  # noqa: E402, F403
from workshop.settings import DATABASES, STATIC_ROOT, STORAGES  # noqa: E402

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
STORAGES = STORAGES | {"staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}}
StaticFilesStorage.url = lru_cache(StaticFilesStorage.url)  # type: ignore[method-assign]  # as workshop/serving/static_files.py has it
STATIC_ROOT.mkdir()
HOSTS = ["testserver"]

if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    # A worker asks a thousand different statements, each again and again: what is made of one is kept.
    DATABASES["default"]["OPTIONS"]["cached_statements"] = 1000
    django_made: Any = SQLiteCursorWrapper.convert_query
    kept = lru_cache(4000)(lambda query: django_made(None, query))

    def convert_query(cursor, query, *, param_names=None):
        return kept(query) if param_names is None else django_made(cursor, query, param_names=param_names)

    SQLiteCursorWrapper.convert_query = convert_query  # type: ignore[method-assign]  # Django has no other place for it

# To tell one column from another, Django binds the signature of `Col` to what it was made with: a quarter of what
# making a statement with an order costs.
Col.identity = property(lambda col: (type(col), col.alias, col.target, col.output_field))  # type: ignore[assignment]  # it keeps it
