"""The lines of a wall's form that are folded: what each says while it is closed, and which are open."""

from collections.abc import Mapping

from jobs.walls.pages.conditions import is_shown
from jobs.walls.pages.entries import Row, WallEntries
from jobs.walls.pages.labels import FIGURES, LABELS, OPTIONS, ROWS, WAYS, Options
from jobs.walls.pages.site_labels import ROOM

# Line -> entries of the wall in it, and lists of rows.
LINES: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "ceiling": (("top", "height_way"), ("stations",)),
    "openings": ((), ("openings",)),
    "boards": (("left-level", "left-painted", "right-level", "right-painted"), ("left-layers", "right-layers")),
    "studs": (("track", "stud", "stud_depth", "stud_spacing", "insulated", "start_end", "end_end", "end_studs"), ()),
    "trims": ((), ("trims",)),
    "readings": (("tape_accuracy",), ("readings", "leans")),
    "room": (tuple(ROOM), ()),
    "offsets": (("offsets_tolerance",), ("offsets",)),
    "kit": ((), ("kit",)),
}
LISTS = {
    "pieces": "pieces",
    "stations": "heights",
    "openings": "openings",
    "left-layers": "boards",
    "right-layers": "boards",
    "trims": "trim",
    "readings": "readings",
    "leans": "leans",
    "offsets": "offsets",
    "kit": "own materials",
}
MAX_TOLD = 4
NAMED = frozenset({"openings", "trims"})


def open_lines(entries: WallEntries, wrong: Mapping[str, object], base: WallEntries | None) -> frozenset[str]:
    """Of lines and rows, those that hold an error or what is typed. base: what the form was opened with."""
    lines = {line for line, (words, rows) in LINES.items() if base and _differs(entries, base, words, rows)}
    for name in ("pieces", *NAMED):
        before = _said(name, base.rows[name] if base else entries.rows[name])
        lines |= {
            f"{name}-{place}" for place, texts in enumerate(_said(name, entries.rows[name])) if texts not in before
        }
    for entry in wrong:
        lines |= {line for line, parts in LINES.items() if _is_in(entry, parts)}
        lines |= {"-".join(entry.split("-")[:2])}
    return frozenset(lines)


def _differs(entries: WallEntries, base: WallEntries, words: tuple[str, ...], rows: tuple[str, ...]) -> bool:
    text = any(entries.one[name] != base.one[name] for name in words)
    return text or any(_said(name, entries.rows[name]) != _said(name, base.rows[name]) for name in rows)


def _said(name: str, rows: list[Row]) -> list[list[str]]:
    """What each row says in the entries it shows; what it does not show does not come back with a form."""
    return [[row.get(leaf, "") if is_shown(name, row, leaf) else "" for leaf in ROWS[name]] for row in rows]


def _is_in(entry: str, parts: tuple[tuple[str, ...], tuple[str, ...]]) -> bool:
    return entry in parts[0] or any(entry == rows or entry.startswith(f"{rows}-") for rows in parts[1])


def changed_words(entries: WallEntries, base: WallEntries) -> str:
    """What a save changed, by the labels of the form: "rise and trim"; empty where nothing was."""
    sentences = [LABELS[name.rpartition("-")[2]] for name, value in entries.one.items() if value != base.one[name]]
    for name, rows in entries.rows.items():
        sentences += _changed_in(name, rows, base.rows[name])
    words = list(dict.fromkeys(f"{text[:1].lower()}{text[1:]}" for text in sentences))
    if len(words) > MAX_TOLD:
        return f"{len(words)} entries"
    return " and ".join([*filter(None, [", ".join(words[:-1])]), *words[-1:]])


def _changed_in(name: str, rows: list[Row], before: list[Row]) -> list[str]:
    if name == "pieces" and len(rows) == len(before):
        pairs = zip(_said(name, rows), _said(name, before), strict=True)
        both = [row for now, then in pairs for row in zip(now, then, ROWS[name], strict=True)]
        return [LABELS[leaf] for now, then, leaf in both if now and now != then]
    return [] if _said(name, rows) == _said(name, before) else [LISTS[name]]


def row_words(name: str, row: Row) -> str:
    if name == "pieces":
        return piece_words(row)
    if name == "openings":
        return ", ".join([row["name"], " × ".join(entry for entry in (row["width"], row["height"]) if entry)]).strip(
            ", "
        )
    return row["name"] if name in NAMED else ""


def way_words(row: Row) -> str:
    label = WAYS.get(row["way"], ("", ()))[0]
    return f"{label[:1].lower()}{label[1:]}"


def piece_words(row: Row) -> str:
    shape = {"straight": "straight", "template": "to a template", "corner": "corner"}.get(row["way"], "arc")
    figures = [
        f"{LABELS[figure].lower()} {row[figure]}"
        for figure in FIGURES
        if row[figure] and is_shown("pieces", row, figure)
    ]
    return ", ".join([shape, *figures])


def line_words(entries: WallEntries, offered: dict[str, Options]) -> dict[str, str]:
    texts, rows = entries.one, entries.rows
    tape = [f"tape ±{texts['tape_accuracy']}"] if texts["tape_accuracy"] else []
    read = [f"{len(rows[name])} {word}" for name, word in (("readings", "read"), ("leans", "lean")) if rows[name]]
    apart = f"at most {texts['stud_spacing']}" if texts["stud_spacing"] else "by the firm's table"
    points = [texts[name] for name in ("room_first", "room_second") if texts[name]]
    return {
        "ceiling": "sloping" if texts["height_way"] == "stations" else _label("top", texts["top"]),
        "openings": ", ".join(row["name"] for row in rows["openings"]) or "none",
        "boards": _boards(entries, dict(offered["board"])),
        "studs": f"{_plain(dict(offered['stud']).get(texts['stud'], texts['stud']))}, {apart}",
        "trims": ", ".join(row["name"] for row in rows["trims"]) or "none",
        "readings": ", ".join([*read, *tape]) or "one",
        "room": " and ".join(points) or "not taped",
        "offsets": str(len(rows["offsets"]) or "none"),
        "kit": str(len(rows["kit"]) or "the firm's kit"),
    }


def _boards(entries: WallEntries, names: dict[str, str]) -> str:
    faces = [_face(entries, face, names) for face in ("left", "right")]
    return f"{faces[0]}, both faces" if faces[0] == faces[1] else f"left {faces[0]}; right {faces[1]}"


def _face(entries: WallEntries, face: str, names: dict[str, str]) -> str:
    boards = [row["board"] for row in entries.rows[f"{face}-layers"]]
    sentences = [f"{boards.count(label)} × {_plain(names.get(label, label))}" for label in dict.fromkeys(boards)]
    return f"{' + '.join(sentences) or 'no board'}, level {entries.one[f'{face}-level']}"


def _label(entry: str, value: str) -> str:
    return dict(OPTIONS[entry]).get(value, value)


def _plain(label: str) -> str:
    """A material by its name; its code stands in the list."""
    return label.rpartition(" (")[0] or label
