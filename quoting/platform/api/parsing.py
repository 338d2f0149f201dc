from collections.abc import Mapping
from typing import IO, Any

from rest_framework.parsers import BaseParser

from catalog.core.ground.document_reader import DocumentError, parse_document
from catalog.core.ground.refusal import Refused

MAX_FILE = 10 * 1024 * 1024


class BodyTooLarge(Refused):
    status = 413


class DocumentParser(BaseParser):
    """JSON as job files are read: exact numbers, no NaN, no key given twice, no bottomless nesting."""

    media_type = "application/json"

    def parse(
        self, stream: IO[Any], media_type: str | None = None, parser_context: Mapping[str, Any] | None = None
    ) -> dict[str, Any]:
        data = stream.read(MAX_FILE + 1)
        if len(data) > MAX_FILE:
            raise BodyTooLarge("The body is larger than 10 MB; a job file is a few hundred kilobytes at most.")
        try:
            text = data.decode("utf-8-sig")
        except UnicodeDecodeError as error:
            raise DocumentError.at("", f"the body is not UTF-8 text (byte {error.start})") from error
        return parse_document(text)
