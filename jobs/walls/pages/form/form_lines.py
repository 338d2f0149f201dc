"""What each line of a wall's form says while it is closed, and what a save changed."""

from collections.abc import Mapping

from jobs.walls.pages.form.form_parts import PARTS, RowsOf, Section
from jobs.walls.pages.form.marks import MARK
from jobs.walls.pages.form.part_form import Options, Typed
from jobs.walls.pages.form.typed_wall import TypedWall
from jobs.walls.pages.form.words import TOPS

MAX_NAMED = 4


def line_words(typed: TypedWall, offered: Mapping[str, Options]) -> dict[str, str]:
    texts = typed.texts
    count = {name: len(typed.rows(name)) for name in ("readings", "leans", "offsets-points", "kit")}
    tape = [f"tape ±{texts['tape_accuracy']}"] if texts.get("tape_accuracy") else []
    read = [f"{count[name]} {word}" for name, word in (("readings", "read"), ("leans", "lean")) if count[name]]
    apart = f"at most {texts['stud_spacing']}" if texts.get("stud_spacing") else "by the firm's table"
    fixed = [texts[name] for name in ("room-first", "room-second") if texts.get(name)]
    stud = texts.get("stud", "")
    return {
        "ceiling": "sloping" if texts.get("height_way") == "stations" else TOPS.get(texts.get("top", ""), ""),
        "openings": ", ".join(row["name"] for row in typed.rows("openings")) or "none",
        "boards": _boards(typed, dict(offered.get("board", ()))),
        "studs": f"{_plain(dict(offered.get('stud', ())).get(stud, stud))}, {apart}",
        "trims": ", ".join(row["name"] for row in typed.rows("trims")) or "none",
        "readings": ", ".join([*read, *tape]) or "none",
        "room": " and ".join(fixed) or "not taped",
        "offsets": str(count["offsets-points"] or "none"),
        "kit": str(count["kit"] or "the firm's kit"),
    }


def _boards(typed: TypedWall, names: Mapping[str, str]) -> str:
    left, right = (_face(typed, face, names) for face in ("left", "right"))
    return f"{left}, both faces" if left == right else f"left {left}; right {right}"


def _face(typed: TypedWall, face: str, names: Mapping[str, str]) -> str:
    boards = [row.get("board", "") for row in typed.rows(f"{face}-layers")]
    layers = [f"{boards.count(code)} × {_plain(names.get(code, code))}" for code in dict.fromkeys(boards)]
    return f"{' + '.join(layers) or 'no board'}, level {typed.texts.get(f'{face}-level', '')}"


def _plain(label: str) -> str:
    """A material by its name; its code stands in the list."""
    return label.rpartition(" (")[0] or label


def changed_words(typed: TypedWall, base: TypedWall) -> str:
    """What a save changed, by the labels of the form: "rise and trim"; empty where nothing was."""
    labels: list[str] = []
    for section in (section for part in PARTS for section in part.sections):
        labels += _changed_entries(section, typed, base)
        labels += [label for rows in section.rows for label in _changed_rows(rows, typed, base)]
    words = list(dict.fromkeys(f"{text[:1].lower()}{text[1:]}" for text in labels))
    if len(words) > MAX_NAMED:
        return f"{len(words)} entries"
    return " and ".join([*filter(None, [", ".join(words[:-1])]), *words[-1:]])


def _changed_entries(section: Section, typed: TypedWall, base: TypedWall) -> list[str]:
    if section.form is None:
        return []
    at = f"{section.prefix}-" if section.prefix else ""
    return [
        str(field.label)
        for leaf, field in section.form.base_fields.items()
        if typed.texts.get(at + leaf, "") != base.texts.get(at + leaf, "")
    ]


def _changed_rows(rows: RowsOf, typed: TypedWall, base: TypedWall) -> list[str]:
    pairs = [
        (_entered(rows, now), _entered(rows, before))
        for now, before in zip(typed.rows(rows.name), base.rows(rows.name), strict=False)
    ]
    if len(typed.rows(rows.name)) != len(base.rows(rows.name)):
        return [rows.words]
    differing = [leaf for now, before in pairs for leaf in now if now[leaf] != before.get(leaf)]
    if rows.name != "pieces":
        return [rows.words] if differing or any(now.keys() != before.keys() for now, before in pairs) else []
    return [str(rows.form.base_fields[leaf].label) for leaf in differing]


def _entered(rows: RowsOf, row: Typed) -> Typed:
    """What a row says in the entries it shows; what it does not show does not come back with a form."""
    said = {leaf: text for leaf, text in row.items() if text and not leaf.endswith(MARK) and leaf != "was"}
    return {leaf: text for leaf, text in said.items() if _is_shown(rows, row, leaf)}


def _is_shown(rows: RowsOf, row: Typed, leaf: str) -> bool:
    asked, words = rows.form.when.get(leaf, ("", ()))
    return not asked or row.get(asked, "") in words or ("*" in words and bool(row.get(asked)))
