import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "quoting.settings")
application = get_wsgi_application()

from quoting.platform.checks import refuse_to_start_when_wrong  # noqa: E402

refuse_to_start_when_wrong()
