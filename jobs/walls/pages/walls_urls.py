from django.urls import path

from jobs.walls.pages import changes, page, quantity

urlpatterns = [
    path("jobs/<int:job_id>/add-wall/", page.wall_sheet, name="wall_add"),
    path("jobs/<int:job_id>/add-wall/preview/", page.wall_preview, name="wall_add_preview"),
    path("jobs/<int:job_id>/walls/<slug:wall_key>/", page.wall_sheet, name="wall"),
    path("jobs/<int:job_id>/walls/<slug:wall_key>/preview/", page.wall_preview, name="wall_preview"),
    path("jobs/<int:job_id>/walls/<slug:wall_key>/copy/", changes.wall_copy, name="wall_copy"),
    path("jobs/<int:job_id>/walls/<slug:wall_key>/delete/", changes.wall_delete, name="wall_delete"),
    path("jobs/<int:job_id>/walls/<slug:wall_key>/quantity/", quantity.wall_quantity, name="wall_quantity"),
]
