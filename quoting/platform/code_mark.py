"""A mark over the source of packages, by which what they once worked out says that it is of the same rules."""

import hashlib
from functools import cache
from importlib.util import find_spec
from pathlib import Path


@cache
def code_mark(*packages: str) -> str:
    """Another mark after any change of their code, so that nobody has to remember to count a version up."""
    digest = hashlib.sha256()
    for package in packages:
        for path in _sources(package):
            digest.update(f"{package} {path.name} ".encode())
            digest.update(path.read_bytes())
    return digest.hexdigest()


def _sources(package: str) -> list[Path]:
    spec = find_spec(package)
    folders = spec.submodule_search_locations if spec else None
    sources = sorted(path for folder in folders or () for path in Path(folder).rglob("*.py"))
    if not sources:
        raise LookupError(f"The source of {package} is not here.")
    return sources
