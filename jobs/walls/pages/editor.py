"""One wall being edited: what is typed of it, worked up and stored. Only `save` stores anything."""

from dataclasses import dataclass
from datetime import date
from functools import cached_property

from django.http import Http404, HttpRequest, QueryDict
from django.shortcuts import get_object_or_404
from django.utils.text import slugify

from catalog.core.ground.document_reader import DocumentError
from catalog.core.ground.units import BareLengthUnit, System
from catalog.core.materials.catalog_data import Catalog
from catalog.services.book import book_of
from jobs.core.measure.curve import curve_of
from jobs.core.measure.survey import SurveyError
from jobs.core.measure.wall_spec import WallSpec
from jobs.core.takeoff.held_templates import with_templates
from jobs.core.takeoff.wall_work_up import WallWorkUp, survey_of
from jobs.held_templates.services.templates import templates_of
from jobs.jobs.models import Job
from jobs.walls.models import Wall
from jobs.walls.pages.decisions import reasons_in, with_decisions
from jobs.walls.pages.figures import WallFigures
from jobs.walls.pages.fitting import refuse_unfitted
from jobs.walls.pages.form.typed_wall import TypedWall, first_typed, thinnest_board, typed_from_post, typed_of
from jobs.walls.pages.form.wall_form import Offered, WallForm, offered_materials, spec_of, survey_complaint
from jobs.walls.services.brought_in import still_known
from jobs.walls.services.compute_limits import check_size
from jobs.walls.services.dimension_signatures import marked_on, with_marks_signed
from jobs.walls.services.kept_faces import kept_faces_of
from jobs.walls.services.wall_cache import QUICK, cached_wall_work_up
from jobs.walls.services.walls import free_wall_key, save_wall
from jobs.walls.services.ways import built_by
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.people.signatures import Signature

MAX_KEY = 40
NEW = "new-wall"
WAY = "way:"


@dataclass
class WallEditor:
    """wall: None while it is not stored. by: who is at work."""

    job: Job
    wall: Wall | None
    book: Catalog
    today: date
    by: str

    @cached_property
    def stored(self) -> WallSpec | None:
        return self.wall.to_core() if self.wall else None

    @property
    def system(self) -> System:
        return self.book.firm.display_units

    @property
    def unit(self) -> BareLengthUnit:
        return "in" if self.system == "imperial" else "mm"

    @property
    def key(self) -> str:
        return self.wall.key if self.wall else NEW

    @property
    def signed(self) -> tuple[str, str]:
        return self.by, self.today.isoformat()

    @cached_property
    def offered(self) -> Offered:
        return offered_materials()

    @cached_property
    def base(self) -> TypedWall:
        """What the form is opened with."""
        return typed_of(self.stored, self.system) if self.stored else first_typed(self.offered, thinnest_board())

    def form(self, data: QueryDict | None = None, opened: str = "") -> WallForm:
        typed = self.base if data is None else typed_from_post(data, self.base)
        return WallForm(typed, self.offered, self.base, opened)

    def again(self, form: WallForm) -> WallForm:
        """A form after one of its buttons changed what stands in it."""
        return WallForm(form.typed, self.offered, self.base, form.opened)

    def stored_figures(self, form: WallForm) -> WallFigures | None:
        """Of the wall as it is stored; a wall that cannot be worked up is told in the form."""
        if self.stored is None:
            return None
        try:
            return self._figures(self.stored, QueryDict(), None)
        except SurveyError as error:
            form.complain(survey_complaint(error, self.key))
            return None

    def figures(self, form: WallForm, data: QueryDict) -> WallFigures | None:
        """Of what is typed; what is wrong with it is told in the form, and nothing is shown."""
        try:
            document = form.document(self.key, self.stored, self.signed)
            # A wall draws before it is called anything; the name is asked for when it is saved.
            spec = spec_of(document | {"name": document["name"] or "Wall"}, self.unit)
            return self._figures(still_known(spec, self.stored), data, QUICK)
        except DocumentError as error:
            form.complain(error)
        except SurveyError as error:
            form.complain(survey_complaint(error, self.key))
        return None

    def _figures(self, spec: WallSpec, data: QueryDict, rounds: int | None) -> WallFigures:
        work_up = with_templates(self._work_up(spec, rounds), templates_of(self.job))
        return WallFigures(work_up, self.book, self.today, reasons_in(data))

    def _work_up(self, spec: WallSpec, rounds: int | None) -> WallWorkUp:
        kept = kept_faces_of(self.job.pk, self.wall.key) if self.wall else ()
        return cached_wall_work_up(spec, self.book, self.today, board_rounds=rounds, kept_faces=kept)

    def save(self, form: WallForm, data: QueryDict, seen_version: int | None) -> Wall:
        """Stores the wall, built by the way out that is pressed; raises DocumentError or ChangedMeanwhile, and then
        nothing is stored."""
        key = self.wall.key if self.wall else new_key(self.job, form.typed.texts["name"])
        refuse_unfitted(form)
        document = form.document(key, self.stored, self.signed)
        spec = spec_of(with_decisions(document, data, self.key, self.by, self.today), self.unit)
        try:
            curve_of(survey_of(spec, self.book.materials))
            check_size([spec])
        except SurveyError as error:
            raise survey_complaint(error, key) from error
        # A stored mark comes back with its name; whatever else is said is said by who saves. A decision has its name
        # already: the service would take a reason written again for the decision that stands.
        marked, signature = marked_on(self.wall or Wall(job=self.job)), Signature(self.by, self.today)
        spec = with_marks_signed(spec, marked, signature)
        pressed, _, way = data.get("do", "").partition(WAY)
        if way and not pressed:
            spec = built_by(self._work_up(spec, QUICK), self.book, way, signature)
        return save_wall(self.job, spec, seen_version=seen_version)


def new_key(job: Job, name: str) -> str:
    key = slugify(name.replace("_", "-"))[:MAX_KEY].strip("-") or "wall"
    return free_wall_key(job, key) if job.walls.filter(key=key).exists() else key


def find_editor(request: HttpRequest, job_id: int, wall_key: str | None) -> WallEditor:
    job = get_object_or_404(Job.objects.select_related("client"), pk=job_id)
    wall = None
    if wall_key is not None:
        wall = job.walls.filter(key=wall_key).first()
        if wall is None:
            raise Http404(f'The job has no wall "{wall_key}".')
    return WallEditor(job, wall, book_of(), day_at_the_firm(clock.now()), request.user.full_name)
