import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "quoting.settings")

app = Celery("quoting")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.set_default()
app.autodiscover_tasks(["quoting.platform.errands"])
