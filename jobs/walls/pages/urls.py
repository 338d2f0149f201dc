from jobs.walls.pages import changes, first_wall, page, pages, quantity
from quoting.platform.people.access import DESK, STAFF, route

urlpatterns = [
    route("jobs/<int:job_id>/add-wall/", page.wall_sheet, "wall_add", both=DESK),
    route("jobs/<int:job_id>/add-wall/preview/", page.wall_preview, "wall_add_preview", POST=DESK),
    route("jobs/<int:job_id>/walls/", first_wall.job_walls, "job_walls", GET=STAFF),
    route("jobs/<int:job_id>/walls/<slug:wall_key>/", page.wall_sheet, "wall", GET=STAFF, POST=DESK),
    route("jobs/<int:job_id>/walls/<slug:wall_key>/preview/", page.wall_preview, "wall_preview", POST=DESK),
    route("jobs/<int:job_id>/walls/<slug:wall_key>/copy/", changes.wall_copy, "wall_copy", both=DESK),
    route("jobs/<int:job_id>/walls/<slug:wall_key>/confirm/", changes.wall_confirm, "wall_confirm", POST=DESK),
    route("jobs/<int:job_id>/walls/<slug:wall_key>/delete/", changes.wall_delete, "wall_delete", both=DESK),
    route("jobs/<int:job_id>/walls/<slug:wall_key>/quantity/", quantity.wall_quantity, "wall_quantity", both=DESK),
    route("jobs/<int:job_id>/walls/<slug:wall_key>/photos/", pages.wall_photos, "wall_photos", both=STAFF),
    route("photos/<int:photo_id>/", pages.wall_photo_file, "wall_photo_file", GET=STAFF),
    route("photos/<int:photo_id>/in-quote/", pages.wall_photo_in_quote, "wall_photo_in_quote", POST=DESK),
    route("photos/<int:photo_id>/take-down/", pages.wall_photo_take_down, "wall_photo_take_down", POST=STAFF),
]
