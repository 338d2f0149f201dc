from django.apps import AppConfig
from django.db.models.signals import post_migrate
from django.utils.module_loading import autodiscover_modules


class QuotingConfig(AppConfig):
    name = "quoting"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        # Here and not in quoting/__init__.py: importing quoting.core must not load Django or Celery.
        from quoting import (
            celery,  # noqa: F401
            hooks,  # noqa: F401
        )
        from quoting.platform import checks  # noqa: F401

        autodiscover_modules("errand_kinds", "chores", "audit_checks")
        post_migrate.connect(freeze_again, sender=self)


def freeze_again(using: str, **about: object) -> None:
    from django.db import connections

    from quoting.platform.immutable_tables import freeze

    freeze(connections[using])
