from django.urls import reverse
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import DocumentError, Reader
from jobs.core.measure.wall_document import write_wall
from jobs.deleted.services.deleted import Deletion
from jobs.jobs.services.jobs import job_of
from jobs.walls.api.shapes import WallCopy, WayOutTaken, WaysOut
from jobs.walls.models import Wall
from jobs.walls.services.brought_in import confirm_brought_in
from jobs.walls.services.deleted_walls import delete_wall
from jobs.walls.services.walls import copy_wall, save_wall, wall_document, wall_from_document, wall_of
from jobs.walls.services.ways import take_way, ways_out_of
from quoting.platform import clock
from quoting.platform.api.base import ApiView, document_of, page_of, query_of, tagged, unit_asked, version_seen
from quoting.platform.api.declared import shown
from quoting.platform.api.describing import describe
from quoting.platform.firm_day import day_at_the_firm, signature_of


class Walls(ApiView):
    @describe("list_walls", "The walls of a job, as in a job file.", gives="WallPage", paged=True)
    def get(self, request: Request, key: str) -> Response:
        return page_of(query_of(request), job_of(key).to_core().walls, write_wall)

    @describe(
        "add_wall",
        "A further wall. Its overrides and marks are signed with your name and today.",
        takes="Wall",
        gives="Wall",
        status=201,
        tagged=True,
        units=True,
    )
    def post(self, request: Request, key: str) -> Response:
        wall = save_wall(
            job_of(key),
            wall_from_document(document_of(request), unit_asked(request)),
            seen_version=None,
            signature=signature_of(request.user, clock.now()),
        )
        return added(wall)


class OneWall(ApiView):
    @describe("read_wall", "One wall, as in a job file.", gives="Wall", tagged=True)
    def get(self, request: Request, key: str, wall_key: str) -> Response:
        return answered(wall_of(key, wall_key))

    @describe(
        "change_wall",
        "Make a wall exactly this. Overrides and marks that are new or changed are signed with your name and today.",
        takes="Wall",
        gives="Wall",
        tagged=True,
        guarded="the wall",
        units=True,
    )
    def put(self, request: Request, key: str, wall_key: str) -> Response:
        document = document_of(request)
        if document.get("key") != wall_key:
            raise DocumentError.at("key", f'must be "{wall_key}": the key of a wall does not change')
        wall, seen_version = wall_of(key, wall_key), version_seen(request)
        saved = save_wall(
            wall.job,
            wall_from_document(document, unit_asked(request)),
            seen_version=seen_version,
            signature=signature_of(request.user, clock.now()),
        )
        return answered(saved)

    @describe(
        "delete_wall",
        "Delete a wall. For thirty days it can be put back; Location says where.",
        status=204,
        guarded="the wall",
    )
    def delete(self, request: Request, key: str, wall_key: str) -> Response:
        deletion = Deletion(request.user.full_name, clock.now())
        row = delete_wall(wall_of(key, wall_key), deletion=deletion, seen_version=version_seen(request))
        return Response(status=204, headers={"Location": reverse("api_put_back", args=[key, row.pk])})


class WallCopies(ApiView):
    @describe(
        "copy_wall",
        "Copy this wall in its job or to another. Decisions, marks, readings, offsets and its place in the room stay "
        "behind.",
        takes="WallCopy",
        gives="Wall",
        status=201,
        tagged=True,
    )
    def post(self, request: Request, key: str, wall_key: str) -> Response:
        asked = read(WallCopy, Reader(document_of(request)))
        to = job_of(asked.job) if asked.job else None
        return added(copy_wall(wall_of(key, wall_key), to=to, name=asked.name))


class WallWays(ApiView):
    @describe(
        "list_ways_out",
        "What of this wall is bent tighter than the catalog lets it, each with every way that passes, nearest first.",
        gives="WaysOut",
    )
    def get(self, request: Request, key: str, wall_key: str) -> Response:
        today = day_at_the_firm(clock.now())
        return Response(shown(request, ways_out_of(wall_of(key, wall_key), today), WaysOut))

    @describe(
        "take_way_out",
        "Build this wall by one of its ways out. A curved corner is a decision in your name; other ways leave the "
        "decisions about what they change behind.",
        takes="WayOutTaken",
        gives="Wall",
        tagged=True,
        guarded="the wall",
    )
    def post(self, request: Request, key: str, wall_key: str) -> Response:
        wall, seen_version = wall_of(key, wall_key), version_seen(request)
        way = read(WayOutTaken, Reader(document_of(request))).way
        signature = signature_of(request.user, clock.now())
        return answered(take_way(wall, way, seen_version=seen_version, signature=signature))


class ConfirmedWall(ApiView):
    @describe(
        "confirm_wall",
        "Confirm the marks and decisions of this wall that came with a job file. Their authors stay; from now on "
        "they count for releases.",
        gives="Wall",
        tagged=True,
        guarded="the wall",
    )
    def post(self, request: Request, key: str, wall_key: str) -> Response:
        wall, seen_version = wall_of(key, wall_key), version_seen(request)
        confirm_brought_in(wall, seen_version=seen_version, signature=signature_of(request.user, clock.now()))
        return answered(wall)


def answered(wall: Wall) -> Response:
    return tagged(Response(wall_document(wall)), wall.version)


def added(wall: Wall) -> Response:
    response = tagged(Response(wall_document(wall), status=201), wall.version)
    response["Location"] = reverse("api_wall", args=[wall.job.key, wall.key])
    return response
