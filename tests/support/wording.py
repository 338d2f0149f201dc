"""What the product says: the words of every template and every text in its Python, with the place of each.

A value that is filled in stands as "X". Docstrings, comments, migrations, what columns note of themselves and the
commands, audit and invented firm of whoever runs the service are left out.
"""

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
NOT_ON_SCREENS = ("migrations", "management", "audit", "audit_checks.py", "demo", "errands", "environment.py")
BREAKS = re.compile(r"{%\s*(?:if|elif|else|endif|for|endfor|empty|include|block|endblock|with|endwith)\b.*?%}", re.S)
NOTES = re.compile(r"{#.*?#}|{%\s*comment.*?endcomment\s*%}|<!--.*?-->|<(script|style)\b.*?</\1>", re.S)
INLINE = re.compile(r"</?(?:a|b|strong|em|span|q|code|abbr|i|small|time)\b[^>]*>")
SPOKEN = re.compile(r'<[^>]*?(?:aria-label|title|placeholder|alt)="([^"]*)"[^>]*>')
BUTTON = re.compile(r"<button\b(?P<attributes>(?:{[{%].*?[%}]}|[^>])*)>(?P<words>.*?)</button>", re.S)
FIELD_MAKERS = ("text", "day", "pick", "typed", "figure", "CharField", "ChoiceField", "BooleanField", "As", "Field")


class Said(NamedTuple):
    place: str
    words: str


@cache
def said() -> tuple[Said, ...]:
    return (*said_in_templates(), *said_in_python())


def said_in_templates() -> Iterator[Said]:
    for path in sorted([*ROOT.glob("templates/**/*.html"), *ROOT.glob("templates/**/*.txt")]):
        for words in _spoken(path.read_text(encoding="utf-8")):
            yield Said(str(path.relative_to(ROOT)), words)


def buttons() -> Iterator[Said]:
    for path in sorted(ROOT.glob("templates/**/*.html")):
        for found in BUTTON.finditer(NOTES.sub("", path.read_text(encoding="utf-8"))):
            for words in _spoken(re.sub(r'<span class="visually-hidden">.*?</span>', "", found["words"], flags=re.S)):
                yield Said(str(path.relative_to(ROOT)), words)


def _spoken(markup: str) -> Iterator[str]:
    flat = re.sub(r"{{.*?}}", "X", BREAKS.sub("\n", NOTES.sub("", markup)), flags=re.S)
    flat = INLINE.sub("", re.sub(r"{%.*?%}", "X", flat, flags=re.S))
    for line in re.sub(r"<[^>]*>", "\n", SPOKEN.sub(r"\n\1\n", flat)).split("\n"):
        if re.search(r"[A-Za-z]{2}", line):
            yield " ".join(line.split())


def said_in_python() -> Iterator[Said]:
    for path, tree in _modules():
        silent = set(_silent(tree))
        for node in ast.walk(tree):
            words = _text(node)
            if words is not None and id(node) not in silent and _is_for_people(words):
                yield Said(f"{path.relative_to(ROOT)}:{node.lineno}", " ".join(words.split()))


def labels() -> Iterator[Said]:
    """Of form fields: the first text a maker of fields is given, or what it is given as `label`."""
    for path, tree in _modules():
        if "models" in path.parts:
            continue
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and _name(node.func) in FIELD_MAKERS:
                named = [each.value for each in node.keywords if each.arg == "label"]
                words = _text((named or [*node.args, None])[0])
                if words:
                    yield Said(f"{path.relative_to(ROOT)}:{node.lineno}", words)


def sentences(words: str) -> Iterator[str]:
    yield from re.split(r"(?<=[.?!])\s+", words)


@cache
def _modules() -> tuple[tuple[Path, ast.Module], ...]:
    return tuple(_read_modules())


def _read_modules() -> Iterator[tuple[Path, ast.Module]]:
    for app in ("catalog", "jobs", "quoting"):
        for path in sorted((ROOT / app).rglob("*.py")):
            if not set(path.parts) & set(NOT_ON_SCREENS):
                yield path, ast.parse(path.read_text(encoding="utf-8"))


def _silent(tree: ast.Module) -> Iterator[int]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr):
            yield id(node.value)
        elif isinstance(node, ast.JoinedStr):
            yield from (id(value) for value in node.values)
        elif isinstance(node, ast.Call) and _name(node.func).endswith(("Field", "ForeignKey", "column")):
            yield from (id(each.value) for each in node.keywords if each.arg == "help_text")
        elif isinstance(node, ast.Assert):
            yield from (id(each) for each in ast.walk(node))


def _text(node: ast.AST | None) -> str | None:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        return node.value
    if isinstance(node, ast.JoinedStr):
        return "".join(str(each.value) if isinstance(each, ast.Constant) else "X" for each in node.values)
    return None


def _is_for_people(words: str) -> bool:
    """Two words or more; no markup, no rules of a paper, no statement of the database."""
    return re.search(r"[a-z]{2} [a-zX]", words) is not None and not re.search(r"<|; }|\$\$", words)


def _name(function: ast.expr) -> str:
    return function.attr if isinstance(function, ast.Attribute) else getattr(function, "id", "")
