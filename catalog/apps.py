from django.apps import AppConfig


class CatalogConfig(AppConfig):
    name = "catalog"
    default_auto_field = "django.db.models.BigAutoField"

    def ready(self) -> None:
        from catalog.services.changes import watch_the_catalog

        watch_the_catalog()
