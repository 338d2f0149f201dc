from typing import Any

from django.apps import AppConfig
from django.db.models.signals import post_migrate
from django.utils.module_loading import autodiscover_modules


class QuotingConfig(AppConfig):
    name = "quoting"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        # Here and not in quoting/__init__.py: importing quoting.core must not load Django or Celery.
        from simple_history.signals import pre_create_historical_record

        from quoting import celery, hooks  # noqa: F401
        from quoting.platform import checks  # noqa: F401
        from quoting.platform.errands import tasks  # noqa: F401 - register themselves

        autodiscover_modules("errand_kinds", "chores", "audit_checks")
        post_migrate.connect(freeze_again, sender=self)
        pre_create_historical_record.connect(date_by_the_clock)


def freeze_again(using: str, **about: object) -> None:
    from django.db import connections

    from quoting.platform.immutable_tables import freeze

    freeze(connections[using])


def date_by_the_clock(history_instance: Any, **about: object) -> None:
    from quoting.platform import clock

    history_instance.history_date = clock.now()
