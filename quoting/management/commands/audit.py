import sys
from typing import Any

from django.core.management.base import BaseCommand

from quoting.platform import clock
from quoting.service.audit.services.audit import audit


class Command(BaseCommand):
    help = "Checks what must always hold. Ends with 1 when something does not."

    def handle(self, *args: Any, **options: Any) -> None:
        words = audit(clock.now())
        for name, sentences in words.items():
            self.stdout.write(f"{name}: {'in order' if not sentences else f'{len(sentences)} found'}")
            for sentence in sentences:
                self.stdout.write(f"  - {sentence}")
        if any(words.values()):
            sys.exit(1)
