"""Settings of the pages. Importing this writes nothing: folders and keys are made by the command that serves."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from csp.constants import NONE, SELF
from platformdirs import user_data_path

DATA = Path(os.environ.get("BENCHMATES_DATA") or user_data_path("benchmates", appauthor=False))
_secret = DATA / "secret"
SECRET_KEY = _secret.read_text() if _secret.is_file() else secrets.token_urlsafe(48)

DEBUG = False
ALLOWED_HOSTS = ["127.0.0.1", "localhost", "testserver"]
ROOT_URLCONF = "benchmates.web.site.urls"
ASGI_APPLICATION = "benchmates.web.site.asgi.application"
USE_TZ = True
TIME_ZONE = "Europe/London"
LANGUAGE_CODE = "en-gb"
USE_I18N = False
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

INSTALLED_APPS = [
    "django.contrib.sessions",
    "django.contrib.staticfiles",
    "django.contrib.messages",
    "django_htmx",
    "csp",
    "benchmates.web.site",
    "benchmates.web.people",
    "benchmates.web.lessons",
    "benchmates.web.runs",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "benchmates.web.site.middleware.StaticFiles",
    "csp.middleware.CSPMiddleware",
    "benchmates.web.site.middleware.QuietPages",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "benchmates.web.site.middleware.WhoIsAsking",
    "benchmates.web.site.middleware.TroubleInWords",
    "django_htmx.middleware.HtmxMiddleware",
]

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.messages.context_processors.messages",
            ],
            "builtins": ["benchmates.web.people.templatetags.sheet"],
        },
    }
]

# IMMEDIATE takes the write lock at the start, so two teachers wait for each other instead of failing halfway; WAL
# lets readers go on meanwhile; FULL means that what was answered is on the disk. Never ATOMIC_REQUESTS: a page
# may wait for groups, and a waiting page must hold no lock.
DATABASES = {
    "default": {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": DATA / "benchmates.sqlite3",
        "OPTIONS": {
            "transaction_mode": "IMMEDIATE",
            "timeout": 20,
            "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;",
        },
    }
}

PASSWORD_HASHERS = ["django.contrib.auth.hashers.Argon2PasswordHasher"]
SESSION_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_NAME = "benchmates"
SESSION_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_NAME = "benchmates_form"
CSRF_FAILURE_VIEW = "benchmates.web.site.views.form_too_old"
MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"
# The link carries the key in its address: never hand that address on.
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
DATA_UPLOAD_MAX_MEMORY_SIZE = 12 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5000

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "font-src": [SELF],
        "img-src": [SELF],
        "connect-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    }
}

STATIC_URL = "/static/"
WHITENOISE_USE_FINDERS = True
WHITENOISE_MAX_AGE = 0

# How long a page waits for groups before it shows that they are being made, and when making them must stop.
WAIT_SECONDS = 2.0
SOLVE_SECONDS = 4.0
SOLVE_IN = "child"  # "here" runs in the asking process, for tests

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "loggers": {"django.request": {"handlers": ["console"], "level": "ERROR", "propagate": False}},
}
