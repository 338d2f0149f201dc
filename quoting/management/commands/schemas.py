import json
from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand

from quoting.core.quotes.file_schemas import made_anew, schema_text


class Command(BaseCommand):
    help = "Writes the JSON Schemas of fixtures/schema anew, from what the code declares."

    def handle(self, *args: Any, **options: Any) -> None:
        for path in sorted((settings.BASE_DIR / "fixtures" / "schema").glob("*.schema.json")):
            path.write_text(schema_text(made_anew(json.loads(path.read_text(encoding="utf-8")))), encoding="utf-8")
            self.stdout.write(path.name)
