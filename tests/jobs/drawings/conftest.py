from pathlib import Path

import pytest

from tests.jobs.drawings.reading import TEXT_CLASS

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="session")
def paper_style() -> str:
    return (ROOT / "templates/papers/drawing.css").read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def page_style() -> str:
    return (ROOT / "quoting/static/quoting/drawing.css").read_text(encoding="utf-8")


@pytest.fixture(scope="session")
def text_sizes(paper_style: str) -> dict[str, float]:
    return {name: float(size) for name, size in TEXT_CLASS.findall(paper_style)}
