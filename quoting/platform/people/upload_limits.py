"""Uploads are refused by their stated length, before a byte of them is put anywhere."""

from typing import Any

from django.conf import settings
from django.core.exceptions import RequestDataTooBig
from django.core.files.uploadhandler import FileUploadHandler


class RefuseTooLarge(FileUploadHandler):
    def handle_raw_input(
        self, input_data: Any, META: Any, content_length: int, boundary: Any, encoding: Any = None
    ) -> None:
        if content_length > settings.DATA_UPLOAD_MAX_MEMORY_SIZE:
            most = settings.DATA_UPLOAD_MAX_MEMORY_SIZE // 1_048_576
            raise RequestDataTooBig(f"The upload is larger than {most} MB.")

    def receive_data_chunk(self, raw_data: bytes, start: int) -> bytes:
        return raw_data

    def file_complete(self, file_size: int) -> None:
        return None
