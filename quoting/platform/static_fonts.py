"""Serves the pages' one font family from its installed package, under static "fonts/"."""

from collections.abc import Iterable, Iterator
from typing import Any

from django.contrib.staticfiles.finders import BaseFinder
from django.core.files.storage import FileSystemStorage

from quoting.platform.papers.assets import FONT_NAMES, font_folder

PREFIX = "fonts"
SERVED = (*FONT_NAMES, "LICENSE.txt")


class PackagedFonts(BaseFinder):
    def __init__(self, *args: Any, **kwargs: Any) -> None:
        self.storage = FileSystemStorage(location=font_folder())
        self.storage.prefix = PREFIX

    def list(self, ignore_patterns: Iterable[str] | None) -> Iterator[tuple[str, FileSystemStorage]]:
        for name in SERVED:
            yield name, self.storage

    def find(self, path: str, find_all: bool = False) -> Any:
        folder, _, name = path.partition("/")
        result = [str(font_folder() / name)] if folder == PREFIX and name in SERVED else []
        if find_all:
            return result
        return result[0] if result else []
