"""Mail kept in a folder: each message a file of its own that a mail program opens."""

import os
import uuid
from pathlib import Path

from django.core.mail import EmailMessage
from django.core.mail.backends.filebased import EmailBackend as FolderBackend

from quoting.platform import clock


class EmailBackend(FolderBackend):
    def send_messages(self, email_messages: list[EmailMessage]) -> int:
        for message in email_messages:
            at = clock.now().strftime("%Y%m%d-%H%M%S")
            _write(Path(self.file_path) / f"{at}-{uuid.uuid4().hex[:12]}.eml", message.message().as_bytes())
        return len(email_messages)


def _write(path: Path, content: bytes) -> None:
    """Whole or not at all under its name, and kept through a power cut."""
    part = path.with_suffix(".part")
    with open(part, "wb") as file:
        file.write(content)
        file.flush()
        os.fsync(file.fileno())
    os.replace(part, path)
