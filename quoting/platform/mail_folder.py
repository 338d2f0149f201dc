"""Mail kept in a folder: each message a file of its own that a mail program opens."""

import uuid
from pathlib import Path

from django.core.mail import EmailMessage
from django.core.mail.backends.filebased import EmailBackend as FolderBackend

from quoting.platform import clock
from quoting.platform.papers.filing import write_then_rename


class EmailBackend(FolderBackend):
    def send_messages(self, email_messages: list[EmailMessage]) -> int:
        for message in email_messages:
            at = clock.now().strftime("%Y%m%d-%H%M%S")
            name = f"{at}-{uuid.uuid4().hex[:12]}.eml"
            write_then_rename(Path(self.file_path), name, message.message().as_bytes())
        return len(email_messages)
