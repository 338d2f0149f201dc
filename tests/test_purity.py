import json
import pkgutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]
PACKAGES = ["catalog.core", "jobs.core", "quoting.core"]


def core_modules():
    for package in PACKAGES:
        folder = ROOT.joinpath(*package.split("."))
        yield package
        yield from (modules.name for modules in pkgutil.walk_packages([str(folder)], f"{package}."))


def loaded_by(modules):
    """What each of these modules is the first to load, all imported by a single fresh interpreter."""
    program = """
import importlib, json, sys
loaded, before = {}, set(sys.modules)
for module in sys.argv[1:]:
    importlib.import_module(module)
    loaded[module] = sorted(set(sys.modules) - before)
    before = set(sys.modules)
print(json.dumps(loaded))
"""
    process = subprocess.run([sys.executable, "-c", program, *modules], cwd=ROOT, capture_output=True, text=True)
    assert process.returncode == 0, process.stderr
    return json.loads(process.stdout)


def impurities(modules):
    for name in modules:
        top = name.partition(".")[0]
        ours = top in ("catalog", "jobs", "quoting")
        plain = ours and (name == top or name == f"{top}.core" or name.startswith(f"{top}.core."))
        standard = top in sys.stdlib_module_names or top.startswith("_sysconfigdata")
        if not plain and not standard:
            yield name


def test_the_core_modules_load_the_standard_library_and_cores_alone():
    loaded = loaded_by(core_modules())
    assert len(loaded) > len(PACKAGES)
    assert {module: result for module in loaded if (result := list(impurities(loaded[module])))} == {}


@pytest.mark.parametrize("module", ["quoting.platform.clock", "quoting.platform.structured_logs", "celery"])
def test_what_is_beside_the_cores_would_be_found_out(module):
    """The control: the test above sees these, after the cores as well."""
    loaded = loaded_by([*PACKAGES, module])
    assert list(impurities(loaded[module]))


@pytest.mark.parametrize("package", ["catalog", "jobs", "quoting"])
def test_the_packages_of_the_apps_stay_empty(package):
    assert (ROOT / package / "__init__.py").read_text() == ""


def test_celery_is_loaded_with_the_apps():
    from celery import current_app

    assert current_app.main == "quoting"
    current_app.loader.import_default_modules()
    assert {"quoting.run_errand", "quoting.beat_worker"} <= set(current_app.tasks)


WRONG_IMPORTS = [
    ("catalog/core/ground/units.py", "import django", "the cores are plain Python"),
    ("catalog/core/ground/units.py", "import catalog.core.leads", "parts of the cores import only parts before them"),
    ("catalog/apps.py", "import jobs.apps", "catalog knows nothing of jobs"),
    ("jobs/apps.py", "import quoting.apps", "of quoting jobs knows the ground alone"),
    ("jobs/jobs/models/clients.py", "import jobs.walls.models", "no circle anywhere"),
    ("quoting/platform/clock.py", "import catalog.apps", "the ground imports catalog.core.ground only"),
    ("quoting/platform/clock.py", "import weasyprint", "only the paper engine imports WeasyPrint"),
]


def test_the_import_contracts_break_when_they_should(tmp_path):
    """The control of `lint-imports`: each wrong import, put into a copy of the packages, breaks its contract."""
    import shutil

    for name in ["catalog", "jobs", "quoting"]:
        shutil.copytree(ROOT / name, tmp_path / name, ignore=shutil.ignore_patterns("__pycache__", "static"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    for file, text, _ in WRONG_IMPORTS:
        with open(tmp_path / file, "a") as copied:
            copied.write(f"\n{text}\n")
    lint = Path(sys.executable).parent / "lint-imports"
    process = subprocess.run([str(lint), "--no-cache"], cwd=tmp_path, capture_output=True, text=True)
    words = " ".join(process.stdout.split())
    assert process.returncode != 0
    assert [
        contract for _, _, contract in WRONG_IMPORTS if contract not in words.partition("Broken contracts")[2]
    ] == []
