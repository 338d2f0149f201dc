"""What any page that shows the photos of a wall says of them."""

from typing import Any

from django.http import HttpRequest

from jobs.walls.models import Wall
from jobs.walls.services.photos import about_words, dimension_words, photos_of
from quoting.platform.people import access


def shown(request: HttpRequest, wall: Wall) -> dict[str, Any]:
    """The photos of a wall with what each is about, for any page that shows them."""
    rows = list(photos_of(wall))
    words = dimension_words(wall) if any(row.dimension for row in rows) else {}
    return {
        "photos": [(row, about_words(row, words)) for row in rows],
        "may_tick": access.is_allowed(access.role_of(request.user), "wall_photo_in_quote", "POST"),
    }
