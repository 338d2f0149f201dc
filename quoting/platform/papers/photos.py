"""A photo on its way to a paper: named by the hash of its content, which the renderer is handed beside the text."""

import re
from dataclasses import dataclass


class PhotoError(ValueError):
    pass


FILE_NAME = re.compile(r"[0-9a-f]{64}\.(?:jpg|png|svg)")


@dataclass(frozen=True)
class PaperPhoto:
    file_name: str
    sha256: str
    size_bytes: int
    caption: str
    about: str = ""

    def __post_init__(self) -> None:
        if not self.caption.strip():
            raise PhotoError("caption is empty; every photo on a paper is named.")
        if not FILE_NAME.fullmatch(self.file_name) or not self.file_name.startswith(self.sha256):
            raise PhotoError(f"file_name is {self.file_name!r}; a photo is named by the hash of its content.")

    @property
    def address(self) -> str:
        return f"asset:{self.file_name}"
