"""Settings, read from the environment. README.md lists every variable."""

import gc
from pathlib import Path

from csp.constants import NONE, SELF

from quoting.platform import environment as env

# What a process imports stays to its end: looking through it again and again took a sixth of each start.
gc.set_threshold(200_000, 20, 20)

BASE_DIR = Path(__file__).resolve().parent.parent
DATA_DIR = env.data_dir(BASE_DIR / "var")
MEDIA_ROOT = DATA_DIR / "files"

# "embedded" is one machine and no server to install; "production" is whatever others can reach.
MODE = env.read_choice(
    "CURVEWRIGHT_MODE",
    ("embedded", "production"),
    "production" if env.read_text("DATABASE_URL") else "embedded",
)
PRODUCTION = MODE == "production"
DEBUG = env.read_flag("CURVEWRIGHT_DEBUG")
SECRET_KEY = env.secret_key(DATA_DIR)
NAMED_HOSTS = env.read_list("CURVEWRIGHT_HOSTS")
ALLOWED_HOSTS = ["localhost", "127.0.0.1", "[::1]", *NAMED_HOSTS]
CSRF_TRUSTED_ORIGINS = env.read_list("CURVEWRIGHT_ORIGINS")
# Set only behind a proxy that always overwrites X-Forwarded-Proto.
BEHIND_PROXY = env.read_flag("CURVEWRIGHT_BEHIND_PROXY")

INSTALLED_APPS = [
    "catalog",
    "jobs",
    "quoting",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "csp",
    "django_htmx",
    "drf_spectacular",
    "rest_framework",
    "simple_history",
]

MIDDLEWARE = [
    "quoting.platform.middleware.RequestIdMiddleware",
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "quoting.platform.middleware.AccessMiddleware",
    "quoting.platform.middleware.ReadOnceMiddleware",
    "quoting.platform.middleware.FirmZoneMiddleware",
    "simple_history.middleware.HistoryRequestMiddleware",
    "quoting.platform.people.log_ins.LogInMiddleware",
    # Calls the view itself, so nothing may come after it.
    "quoting.platform.middleware.SentOnceMiddleware",
]

ROOT_URLCONF = "quoting.urls"
WSGI_APPLICATION = "quoting.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            # Every form that writes has the CSRF token, and so the key it is answered once by.
            "builtins": [
                "quoting.templatetags.form_key",
                "quoting.templatetags.error_summary",
                "quoting.templatetags.undo",
            ],
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ],
        },
    }
]

DATABASES = {"default": env.database(DATA_DIR)}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "quoting.Person"
AUTHENTICATION_BACKENDS = ["quoting.platform.people.log_ins.CountedBackend"]
PASSWORD_HASHERS = ["quoting.platform.people.password_hashing.Argon2OneAtATime"]
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 10},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.NumericPasswordValidator"},
]
LOGIN_URL = "login"
LOGIN_REDIRECT_URL = "home"
LOGOUT_REDIRECT_URL = "login"

SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
SESSION_COOKIE_AGE = 14 * 24 * 3600
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = PRODUCTION
CSRF_COOKIE_HTTPONLY = False
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
SECURE_SSL_REDIRECT = PRODUCTION
# The probe of a load balancer speaks plain HTTP from inside.
SECURE_REDIRECT_EXEMPT = [r"^health/"]
# By choice, and for this host alone: a browser that was told holds to it, whatever becomes of the certificate.
SECURE_HSTS_SECONDS = env.read_whole("CURVEWRIGHT_HSTS_SECONDS", 0)
if BEHIND_PROXY:
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")

CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "form-action": [SELF],
        "frame-ancestors": [NONE],
        "base-uri": [NONE],
        "object-src": [NONE],
    }
}

LANGUAGE_CODE = "en"
USE_I18N = False
USE_TZ = True
# Only until a firm with a zone of its own is entered; see quoting/platform/firm_day.py.
TIME_ZONE = env.read_zone("CURVEWRIGHT_TIME_ZONE", "UTC")
# Amounts on pages and papers; documents, CSV and what is typed have a point and no separators everywhere.
MONEY_LOCALE = env.read_locale("CURVEWRIGHT_MONEY_LOCALE", "en_US")

STATIC_URL = "/static/"
STATIC_ROOT = DATA_DIR / "static"
STATICFILES_FINDERS = [
    "django.contrib.staticfiles.finders.AppDirectoriesFinder",
    "quoting.platform.static_fonts.PackagedFonts",
]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.ManifestStaticFilesStorage"},
}
# Sheets and JSON are small; a larger upload is refused before it is read.
DATA_UPLOAD_MAX_MEMORY_SIZE = 12 * 1024 * 1024
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5000
FILE_UPLOAD_HANDLERS = [
    "quoting.platform.people.upload_limits.RefuseTooLarge",
    "django.core.files.uploadhandler.MemoryFileUploadHandler",
    "django.core.files.uploadhandler.TemporaryFileUploadHandler",
]

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": ["quoting.platform.people.authentication.TokenAuthentication"],
    # Who may do what is stated beside each URL and asked before its view is reached.
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.AllowAny"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["quoting.platform.api.parsing.DocumentParser"],
    "EXCEPTION_HANDLER": "quoting.platform.api.errors.explain",
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
    "DEFAULT_PAGINATION_CLASS": "rest_framework.pagination.LimitOffsetPagination",
    "PAGE_SIZE": 100,
    "COERCE_DECIMAL_TO_STRING": True,
    "UNAUTHENTICATED_USER": "django.contrib.auth.models.AnonymousUser",
}
SPECTACULAR_SETTINGS = {
    "TITLE": "Curvewright",
    "DESCRIPTION": "Takeoff, quotes and order dates for curved interior walls.",
    "VERSION": "1",
    # JSON Schema as the job file's own schema is written in.
    "OAS_VERSION": "3.1.0",
    "POSTPROCESSING_HOOKS": ["quoting.service.api.components.add_components"],
    "SERVE_INCLUDE_SCHEMA": False,
    "SERVE_PERMISSIONS": ["rest_framework.permissions.AllowAny"],
    "SERVE_AUTHENTICATION": None,
}

globals().update(env.mail_settings(DATA_DIR))
# Where clients reach their page, when that is another address than the one the office works at.
CLIENT_ORIGIN = env.read_origin("CURVEWRIGHT_CLIENT_ORIGIN")

REDIS_URL = env.redis_url()
CELERY_BROKER_URL = REDIS_URL or "memory://"
CELERY_TASK_IGNORE_RESULT = True
CELERY_TASK_SERIALIZER = "json"
CELERY_ACCEPT_CONTENT = ["json"]
CELERY_TASK_ACKS_LATE = True
CELERY_WORKER_PREFETCH_MULTIPLIER = 1
CELERY_TASK_TIME_LIMIT = 600
CELERY_BROKER_CONNECTION_RETRY_ON_STARTUP = True
CELERY_BROKER_CONNECTION_MAX_RETRIES = None
# A page rings the doorbell while someone waits for it: a broker that is down may cost a second, no more.
CELERY_BROKER_CONNECTION_TIMEOUT = 1.0
CELERY_BROKER_TRANSPORT_OPTIONS = (
    {"socket_connect_timeout": 1.0, "socket_timeout": 5.0, "visibility_timeout": 900} if REDIS_URL else {}
)
CELERY_WORKER_HIJACK_ROOT_LOGGER = False

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"json": {"()": "quoting.platform.structured_logs.JsonFormatter"}},
    "handlers": {"stderr": {"class": "logging.StreamHandler", "formatter": "json"}},
    "root": {"handlers": ["stderr"], "level": env.read_text("CURVEWRIGHT_LOG_LEVEL", "INFO").upper()},
    "loggers": {
        "django": {"handlers": [], "propagate": True},
        "django.server": {"handlers": [], "propagate": True},
        "fontTools": {"level": "ERROR"},
        "weasyprint": {"level": "ERROR"},
    },
}

# HSTS is the office's choice (W004); hosts beside this one are not ours to bind (W005 subdomains, W021 preload).
SILENCED_SYSTEM_CHECKS = ["security.W004", "security.W005", "security.W021"]
