from django.urls import path

from jobs.walls.pages import pages

urlpatterns = [
    path("jobs/<int:job_id>/walls/<slug:wall_key>/photos/", pages.wall_photos, name="wall_photos"),
    path("photos/<int:photo_id>/", pages.wall_photo_file, name="wall_photo_file"),
    path("photos/<int:photo_id>/in-quote/", pages.wall_photo_in_quote, name="wall_photo_in_quote"),
    path("photos/<int:photo_id>/take-down/", pages.wall_photo_take_down, name="wall_photo_take_down"),
]
