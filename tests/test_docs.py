"""DEVELOPERS.md against the tree: short, and naming nothing that is not there."""

import re
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
GUIDE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
NAMED = re.findall(r"`([^`\s]+)`", re.sub(r"```.*?```", "", GUIDE, flags=re.DOTALL))
# Made as the service runs, or in each room that needs it.
MADE = {"var/", "models/", "services/", "pages/", "api/", "papers/"}


def rooms_drawn():
    app = ""
    for name in re.findall(r"^( *[a-z_/ ]+?)(?:  |$)", re.search(r"```(.*?)```", GUIDE, re.DOTALL)[1], re.MULTILINE):
        app = app if name.startswith(" ") else name
        yield from (f"{app}{room}" for room in name.split()) if name.startswith(" ") else [name]


def test_the_guide_for_developers_stays_short():
    assert len(GUIDE.splitlines()) <= 150


def test_every_folder_and_file_the_guide_names_exists():
    paths = {name for name in NAMED if "/" in name} - MADE | set(rooms_drawn())
    assert {"jobs/walls", "quoting/field_checks", "catalog/core/ground", "fixtures/"} <= paths
    assert [path for path in sorted(paths) if not (ROOT / path).exists()] == []


def test_every_module_the_guide_names_exists():
    modules = {name for name in NAMED if re.fullmatch(r"\w+\.py", name)}
    present = {path.name for app in ("catalog", "jobs", "quoting", "tests") for path in (ROOT / app).rglob("*.py")}
    assert len(modules) > 30
    assert modules - present - {"pyproject.toml"} == set()


def test_every_make_target_is_in_the_guide_and_no_other():
    makefile = (ROOT / "Makefile").read_text(encoding="utf-8")
    targets = set(re.search(r"^\.PHONY: (.*)$", makefile, re.MULTILINE)[1].split())
    assert set(re.findall(r"`make ([a-z-]+)`", GUIDE)) == targets
