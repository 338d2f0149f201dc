import json
import logging
import re
from contextvars import ContextVar
from datetime import UTC, datetime

request_id: ContextVar[str] = ContextVar("request_id", default="")

# Secrets of ours are 43 characters of base64url; ids, hashes cut short and words are shorter.
LONG_SECRET = re.compile(r"[A-Za-z0-9_\-]{40,}")
BEARER = re.compile(r"(?i)(bearer\s+)\S+")
URL_PASSWORD = re.compile(r"(\w+://[^\s:/@]*:)[^\s@]+@")


def without_secrets(text: str) -> str:
    text = BEARER.sub(r"\1[left out]", text)
    text = URL_PASSWORD.sub(r"\1[left out]@", text)
    return LONG_SECRET.sub("[left out]", text)


class JsonFormatter(logging.Formatter):
    """One JSON object a line. Extra fields are given as extra={"fields": {...}}."""

    def format(self, record: logging.LogRecord) -> str:
        entry: dict[str, object] = {
            "at": datetime.fromtimestamp(record.created, UTC).isoformat(timespec="milliseconds"),
            "level": record.levelname.lower(),
            "logger": record.name,
            "message": without_secrets(record.getMessage()),
        }
        if request_id.get():
            entry["request_id"] = request_id.get()
        for name, value in getattr(record, "fields", {}).items():
            entry[name] = without_secrets(value) if isinstance(value, str) else value
        if record.exc_info:
            entry["exception"] = without_secrets(self.formatException(record.exc_info))
        return json.dumps(entry, default=str, ensure_ascii=False)
