"""Photos and sketches of a wall: taken on site by whoever stands there, shown to the client only where ticked."""

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render

from catalog.core.ground.document_reader import DocumentError
from jobs.walls.models import Wall, WallPhoto
from jobs.walls.models.photos import PHOTO_FACES, PHOTO_KINDS
from jobs.walls.pages.changes import wall_or_404
from jobs.walls.pages.shown import shown
from jobs.walls.services.kept_pictures import photo_bytes
from jobs.walls.services.photos import add_photo, dimension_words, show_in_quote, take_down
from quoting.platform import clock
from quoting.platform.firm_day import day_at_the_firm
from quoting.platform.models.pictures import KeptPicture
from quoting.platform.pages.entry_form import EntryForm, pick, text
from quoting.platform.papers.errors import PaperNotKept

MEDIA_TYPES = {"jpg": "image/jpeg", "png": "image/png"}


class PhotoForm(EntryForm):
    file = forms.FileField(
        label="Picture",
        help_text="A JPEG or PNG of at most 10 MB. Place, date and camera are taken out.",
        widget=forms.ClearableFileInput(attrs={"accept": "image/jpeg,image/png"}),
    )
    caption = text("What is to be seen", longest=200)
    kind = pick("It is a", PHOTO_KINDS)
    face = pick("Face", PHOTO_FACES, nothing="neither in particular")
    dimension = pick("Shows how it was measured", (), nothing="no dimension in particular")

    def __init__(self, request: HttpRequest, wall: Wall) -> None:
        super().__init__(request.POST or None)
        self.files = request.FILES
        self.fields["dimension"].choices += list(dimension_words(wall).items())  # type: ignore[attr-defined]

    def taken(self) -> tuple[bytes, dict[str, str]]:
        file = self.cleaned_data["file"]
        words = {name: self.cleaned_data[name] or "" for name in ("caption", "kind", "face", "dimension")}
        return (file.read() if file else b""), words


def wall_photos(request: HttpRequest, job_id: int, wall_key: str) -> HttpResponse:
    wall = wall_or_404(job_id, wall_key)
    form = PhotoForm(request, wall)
    if request.method == "POST" and form.is_valid():
        data, words = form.taken()
        try:
            add_photo(wall, data, **words, by=request.user.full_name, now=clock.now())
        except DocumentError as error:
            form.complain(error)
        else:
            messages.success(request, "Photo saved.")
            return redirect("wall_photos", job_id, wall_key)
    context = {
        "job": wall.job,
        "wall": wall,
        "form": form,
        "today": day_at_the_firm(clock.now()),
    }
    return render(request, "walls/photos.html", context | shown(request, wall), status=form.status())


def wall_photo_file(request: HttpRequest, photo_id: int) -> HttpResponse:
    return photo_response(photo_or_404(photo_id))


def photo_response(photo: KeptPicture) -> HttpResponse:
    try:
        return picture_response(photo)
    except PaperNotKept:
        message = "The picture cannot be read; restore it from the backup."
        return HttpResponse(message, status=410, content_type="text/plain")


def picture_response(photo: KeptPicture) -> HttpResponse:
    """Raises PaperNotKept."""
    suffix = photo.file_name.rpartition(".")[2]
    response = HttpResponse(photo_bytes(photo), content_type=MEDIA_TYPES[suffix])
    # Opened by itself it is a download, whatever it holds; on our own pages it is an image and nothing else.
    response["Content-Disposition"] = f'attachment; filename="photo-{photo.pk}.{suffix}"'
    response["X-Content-Type-Options"] = "nosniff"
    response["Cache-Control"] = "private, no-store"
    return response


def wall_photo_in_quote(request: HttpRequest, photo_id: int) -> HttpResponse:
    photo = photo_or_404(photo_id)
    show_in_quote(photo, request.POST.get("in_quote") == "yes")
    message = "is in the client's next quote" if photo.in_quote else "is not shown to the client"
    messages.success(request, f"“{photo.caption}” {message}.")
    return back_to(photo)


def wall_photo_take_down(request: HttpRequest, photo_id: int) -> HttpResponse:
    photo = photo_or_404(photo_id)
    take_down(photo, by=request.user.full_name, now=clock.now())
    messages.success(request, f"“{photo.caption}” is taken down. Papers made before keep it.")
    return back_to(photo)


def photo_or_404(photo_id: int) -> WallPhoto:
    return get_object_or_404(WallPhoto.objects.select_related("wall"), pk=photo_id, taken_down_at=None)


def back_to(photo: WallPhoto) -> HttpResponse:
    if photo.wall is None:
        return redirect("job", photo.job_id)
    return redirect("wall_photos", photo.job_id, photo.wall.key)
