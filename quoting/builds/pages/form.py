"""Up to three other ways to build a job, as forms: read into variants of a document, complaints put at their fields."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.http import QueryDict

from catalog.core.ground.document_reader import DocumentError, DocumentProblem
from catalog.models import Material
from jobs.core.measure.wall_spec import LEVELS
from jobs.jobs.models import Job
from jobs.walls.pages.labels import LEVEL_WORDS, OPTIONS
from quoting.core.prices.variants import MAX_NAME_LENGTH, MAX_VARIANTS
from quoting.platform.pages.entry_form import EntryForm, pick, sentence, text

Document = dict[str, Any]
Options = Sequence[tuple[str, str]]
AS_IT_IS = "as it is"
SIDES = ("left", "right")
# More is built so seldom that it is put in on the wall's own page.
LAYERS = tuple((str(count), str(count)) for count in range(1, 5))
ORDINALS = ("First", "Second", "Third")


@dataclass(frozen=True)
class Offered:
    """What may be chosen: walls of the job, boards and profiles of the catalog."""

    walls: Options
    boards: Options
    profiles: Options

    @classmethod
    def of(cls, job: Job) -> "Offered":
        rows = Material.objects.filter(active=True, kind__in=("board", "trim")).order_by("name", "code")
        by_kind: dict[str, list[tuple[str, str]]] = {"board": [], "trim": []}
        for code, name, kind in rows.values_list("code", "name", "kind"):
            by_kind[kind].append((code, f"{name} ({code})"))
        walls = tuple(job.walls.values_list("key", "name"))
        return cls(walls, by_kind["board"], by_kind["trim"])


class BuildForm(EntryForm):
    name = text("Called", "Empty: first, second or third build.", longest=MAX_NAME_LENGTH)

    def __init__(self, data: QueryDict | None, number: int, offered: Offered) -> None:
        super().__init__(data, prefix=f"b{number}")
        self.number = number
        self.fields["wall"] = pick("Of", offered.walls, nothing="every wall")
        for side in SIDES:
            label = f"{side.capitalize()} face"
            self.fields[f"{side}_layers"] = pick(f"{label}, layers", LAYERS, nothing=AS_IT_IS)
            self.fields[f"{side}_board"] = pick(f"{label}, board", offered.boards, nothing=AS_IT_IS)
            levels = [(str(level), LEVEL_WORDS[level]) for level in LEVELS]
            self.fields[f"{side}_level"] = pick(f"{label}, finish level", levels, nothing=AS_IT_IS)
        self.fields["trim_position"] = pick("Trim", OPTIONS["position"], nothing="all of it")
        self.fields["trim_material"] = pick("Profile", offered.profiles, nothing=AS_IT_IS)
        self.fields["trim_form"] = pick("Had", OPTIONS["form"], nothing=AS_IT_IS)
        for field in self.fields.values():
            field.required = False

    @property
    def title(self) -> str:
        return f"{ORDINALS[self.number]} build"

    def document(self) -> Document:
        result = self.entries()
        wall = {"wall": result["wall"]} if "wall" in result else {}
        return {
            "name": result.get("name", self.title),
            "faces": [{**wall, **self._face(side)} for side in self._sides()],
            "trims": [{**wall, **self._trim()}]
            if {"trim_material", "trim_form", "trim_position"} & set(result)
            else [],
        }

    def _sides(self) -> list[str]:
        sides = self.entries()
        return [side for side in SIDES if any(name.startswith(f"{side}_") for name in sides)]

    def _face(self, side: str) -> Document:
        chosen = {name.removeprefix(f"{side}_"): entry for name, entry in self.entries().items()
                  if name.startswith(f"{side}_")}  # fmt: skip
        return {"face": side} | {name: entry if name == "board" else int(entry) for name, entry in chosen.items()}

    def _trim(self) -> Document:
        named = ("trim_position", "trim_material", "trim_form")
        return {name.removeprefix("trim_"): entry for name, entry in self.entries().items() if name in named}

    def complain_at(self, complaint: DocumentProblem) -> None:
        """path: within this build, such as faces[0].board."""
        match = re.fullmatch(r"(faces|trims)\[(\d+)\]\.?(\w*)", complaint.path)
        if complaint.path == "name":
            name = "name"
        elif match is None:
            name = None
        elif match[3] == "wall":
            name = "wall"
        elif match[1] == "faces":
            side = self._sides()[int(match[2])]
            name = f"{side}_{match[3] if match[3] in ('layers', 'board', 'level') else 'layers'}"
        else:
            name = f"trim_{match[3] if match[3] in ('position', 'material', 'form') else 'material'}"
        label = str(self.fields[name].label) if name else ""
        self.add_error(name, sentence(label, DocumentProblem("", complaint.reason)))


class BuildsForm:
    """All of them together. data: what was chosen, None before anything was."""

    def __init__(self, job: Job, data: QueryDict | None) -> None:
        self.data, self.others = data, list[str]()
        offered = Offered.of(job)
        self.builds = [BuildForm(data, number, offered) for number in range(MAX_VARIANTS)]

    def is_valid(self) -> bool:
        answers = [form.is_valid() for form in self.builds]
        if all(answers) and not self.filled:
            self.others.append("Choose what is to be built another way in at least one build.")
        return all(answers) and bool(self.filled)

    @property
    def filled(self) -> list[BuildForm]:
        return [form for form in self.builds if form.is_filled()]

    def document(self) -> Document:
        return {"variants": [form.document() for form in self.filled]}

    def complain(self, error: DocumentError) -> None:
        for complaint in error.complaints:
            match = re.fullmatch(r"variants\[(\d+)\]\.?(.*)", complaint.path)
            if match is None:
                self.others.append(sentence("", complaint))
            else:
                self.filled[int(match[1])].complain_at(DocumentProblem(match[2], complaint.reason))
