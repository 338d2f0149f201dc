from django.apps import AppConfig
from django.utils.module_loading import autodiscover_modules


class QuotingConfig(AppConfig):
    name = "quoting"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        # Here and not in quoting/__init__.py: importing quoting.core must not load Django or Celery.
        from quoting import celery, checks  # noqa: F401

        autodiscover_modules("errand_kinds")
