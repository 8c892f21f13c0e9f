"""Django's settings. What an installation may choose comes from the environment; README.md lists it."""

import os
from pathlib import Path
from typing import Any

import dj_database_url
from csp.constants import NONE, SELF

from core.disk import data_folder
from core.disk.data_folder import is_demo

DATA = data_folder.data_folder()
DEMO = is_demo()
DEBUG = os.environ.get("COTTER_DEBUG", "") == "1"
# "both" while phones still have something under http: no redirect, no HSTS, no secure cookies until it was sent.
HTTPS = os.environ.get("COTTER_HTTPS", "") in ("1", "both")
ONLY_HTTPS = os.environ.get("COTTER_HTTPS", "") == "1"
SECRET_KEY = data_folder.secret_key(DATA)


def names_in(variable: str) -> list[str]:
    """The names in a variable, separated by commas or spaces."""
    return os.environ.get(variable, "").replace(",", " ").lower().split()


INSTALLED_APPS = [
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "django_htmx",
    "template_partials",
    "csp",
    "core",
    "parts",
    "inspections",
    "workshop",
]

MIDDLEWARE = [
    "workshop.middleware.answer_to_own_names_only",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "workshop.middleware.send_pages_small",
    "csp.middleware.CSPMiddleware",
    "workshop.middleware.ask_for_nothing_but_the_camera",
    "core.disk.disk_space.keep_space_for_signing_in",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "workshop.accounts.middleware.keep_the_session_a_week",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "workshop.middleware.tell_fragments_from_pages",
    "workshop.middleware.say_whose_it_is",
    "workshop.middleware.refuse_too_much_at_once",
    "workshop.middleware.own_up_to_trouble_with_the_disk",
    "workshop.outbox.middleware.answer_once",
    "core.web.two_at_once.take_what_is_ticked",
]

ROOT_URLCONF = "workshop.urls"
WSGI_APPLICATION = "workshop.wsgi.application"
ROOT = os.path.dirname(os.path.dirname(os.path.abspath(__file__)))

TAGS_OF_ROOMS = [
    f"{path.parent.parent.name}.{path.parent.name}.template_tags"
    for app in ("parts", "inspections")
    for path in sorted(Path(ROOT, app).glob("*/template_tags.py"))
]
"""A room with template tags of its own has them in its `template_tags.py`."""

LOADERS = ["django.template.loaders.filesystem.Loader", "django.template.loaders.app_directories.Loader"]
"""Named here, though template_partials would set the same: it does so once, and a process may read settings again."""

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [os.path.join(ROOT, "templates")],
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "workshop.navigation.context.frame",
            ],
            "loaders": [("template_partials.loader.Loader", [("django.template.loaders.cached.Loader", LOADERS)])],
            "builtins": [
                "django.templatetags.static",
                "template_partials.templatetags.partials",
                "core.templatetags.look",
                *TAGS_OF_ROOMS,
            ],
        },
    }
]

# --- the database -------------------------------------------------------------------------------------------------

# The demo never looks at DATABASE_URL: it must not reach a real register.
DATABASE_URL = "" if DEMO else os.environ.get("DATABASE_URL", "")
DATABASES: dict[str, Any] = {
    "default": dj_database_url.parse(DATABASE_URL, conn_health_checks=True)
    if DATABASE_URL
    else {"ENGINE": "django.db.backends.sqlite3", "NAME": DATA / data_folder.DATABASE}
}
DATABASES["default"]["CONN_MAX_AGE"] = None
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    # Immediate transactions wait their turn; deferred ones fail at once with "database is locked" when two upgrade.
    # FULL, since NORMAL in WAL mode may roll back the last commits on a power cut.
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;",
    }
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

# --- files --------------------------------------------------------------------------------------------------------

STATIC_URL = "static/"
STATICFILES_DIRS = [os.path.join(ROOT, "static")]
STATIC_ROOT = DATA / data_folder.STATIC
MEDIA_ROOT = DATA / data_folder.PICTURES
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage", "OPTIONS": {"location": MEDIA_ROOT}},
    # No address leads to either of these; a view serves `pictures`, and only a backup reaches `originals`.
    "pictures": {"BACKEND": "django.core.files.storage.FileSystemStorage", "OPTIONS": {"location": MEDIA_ROOT}},
    "originals": {
        "BACKEND": "django.core.files.storage.FileSystemStorage",
        "OPTIONS": {"location": DATA / data_folder.ORIGINALS},
    },
    "papers": {
        "BACKEND": "django.core.files.storage.FileSystemStorage",
        "OPTIONS": {"location": DATA / data_folder.PAPERS},
    },
    # A name with the content's hash in it may be cached for ever.
    "staticfiles": {"BACKEND": "workshop.serving.static_files.StaticFiles"},
}
FILE_UPLOAD_PERMISSIONS = 0o600
if DEBUG:
    STORAGES["staticfiles"] = {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"}
    WHITENOISE_USE_FINDERS = WHITENOISE_AUTOREFRESH = True

# --- people and sessions ------------------------------------------------------------------------------------------

AUTH_USER_MODEL = "core.Person"
LOGIN_URL = "/sign-in/"
LOGIN_REDIRECT_URL = LOGOUT_REDIRECT_URL = "/"
# scrypt as Django sets it (N=2**14, r=8, p=5) took 0.11 s and 16 MiB where this was written, PBKDF2 0.18 s, which costs
# a guesser with graphics cards far less. Older hashes still work, and are made anew at the next sign-in.
PASSWORD_HASHERS = [
    "django.contrib.auth.hashers.ScryptPasswordHasher",
    "django.contrib.auth.hashers.PBKDF2PasswordHasher",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in ("UserAttributeSimilarityValidator", "MinimumLengthValidator", "CommonPasswordValidator")
] + [{"NAME": "core.accounts.passwords.NotMadeOfTheName"}]
SESSION_COOKIE_AGE = (
    7 * 24 * 60 * 60
)  # on a phone; using it begins the week anew. See workshop/accounts/middleware.py for tablets
# Cookies know a host, not a port: the demo beside a real register must not sign its people out.
SESSION_COOKIE_NAME = "cotter_demo_session" if DEMO else "cotter_session"
CSRF_COOKIE_NAME = "cotter_demo_csrf" if DEMO else "cotter_csrf"
TABLET_COOKIE_NAME = "cotter_demo_tablet" if DEMO else "cotter_tablet"

# --- what may reach us, and what a page may do --------------------------------------------------------------------

HOSTS = names_in("COTTER_HOSTS")
# Django cannot say "any address of a private network", so answer_to_own_names_only refuses names in its place.
ALLOWED_HOSTS = ["*"]

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
        "base-uri": [NONE],
    }
}
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"

SECURE_SSL_REDIRECT = SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = ONLY_HTTPS
if HTTPS:
    # `manage.py serve` lets this header through only from the proxy that COTTER_PROXY names.
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
    CSRF_TRUSTED_ORIGINS = [f"https://{name}" for name in HOSTS]
if ONLY_HTTPS:
    SECURE_HSTS_SECONDS = 365 * 24 * 60 * 60
    SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = True
else:
    # On the shed's own network there is no certificate, so these four, which all ask for HTTPS, have no answer there:
    # HSTS, redirect to HTTPS, and the secure flag of the session's and the form's cookie.
    SILENCED_SYSTEM_CHECKS = ["security.W004", "security.W008", "security.W012", "security.W016"]
    # A browser ignores this header without HTTPS, and complains of it on every page.
    SECURE_CROSS_ORIGIN_OPENER_POLICY = None

LARGEST_UPLOAD = 256 * 1024 * 1024  # ten photos as large as they may be; the server itself reads up to twice as much
LARGEST_OF_STRANGERS = 64 * 1024  # before anybody has signed in there is nothing to send but short forms
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5000  # a page of ticked rows
TRUSTED_PROXY = os.environ.get("COTTER_PROXY", "127.0.0.1")

ADDRESS = os.environ.get("COTTER_ADDRESS", "").strip()  # printed on every tag, so it is set once and never guessed
if DEMO and not ADDRESS:
    ADDRESS = "http://cotter.local:8000"

# --- language, time, log ------------------------------------------------------------------------------------------

LANGUAGE_CODE = "en-gb"
TIME_ZONE = os.environ.get("COTTER_TIME_ZONE", "Europe/London")
USE_TZ = True
USE_THOUSAND_SEPARATOR = False

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["stderr"], "level": "INFO"},
    "loggers": {
        # Django hangs handlers of its own on this one; without them each line would come twice.
        "django": {"handlers": [], "level": "INFO", "propagate": True},
        "django.server": {"handlers": [], "level": "INFO", "propagate": True},
        # A page that is not there is no news, and one warning per refused form says nothing either.
        "django.request": {"level": "ERROR"},
        # "Task queue depth is 1" says only that a fifth request waited for a thread.
        "waitress.queue": {"level": "CRITICAL"},
    },
}
