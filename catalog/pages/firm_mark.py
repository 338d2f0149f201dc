"""The firm's own mark, as papers print it."""

from django import forms
from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from quoting.platform import clock
from quoting.platform.papers.assets import media_type
from quoting.platform.papers.errors import PaperNotKept
from quoting.platform.papers.mark import mark_bytes, mark_now, remove_mark, set_mark
from quoting.platform.papers.pictures import MAX_BYTES, PictureRefused


class MarkForm(forms.Form):
    file = forms.FileField(
        label="Picture of the mark",
        help_text="PNG, JPEG or SVG, up to 10 MB. It is printed 14 mm high.",
        error_messages={"required": "Choose a picture.", "empty": "The file is empty; choose a picture."},
    )


def firm_mark(request: HttpRequest) -> HttpResponse:
    form = MarkForm(request.POST or None, request.FILES or None)
    if request.method == "POST" and form.is_valid():
        try:
            set_mark(form.cleaned_data["file"].read(MAX_BYTES + 1), by=request.user.full_name, now=clock.now())
        except (PictureRefused, PaperNotKept) as error:
            form.add_error("file", str(error))
        else:
            messages.success(request, "Saved: the mark. Papers made from now on carry it.")
            return redirect("firm_mark")
    status = 422 if form.errors else 200
    return render(request, "catalog/firm_mark.html", {"form": form, "mark": mark_now()}, status=status)


def firm_mark_remove(request: HttpRequest) -> HttpResponse:
    remove_mark(by=request.user.full_name, now=clock.now())
    messages.success(request, "Removed: the mark. Papers made before keep it.")
    return redirect("firm_mark")


def firm_mark_file(request: HttpRequest) -> HttpResponse:
    mark = mark_now()
    if mark is None:
        raise Http404
    try:
        response = HttpResponse(mark_bytes(mark), content_type=media_type(mark.file_name))
    except PaperNotKept:
        return HttpResponse(
            "The mark cannot be read; restore it from the backup.", status=410, content_type="text/plain"
        )
    # Opened by itself it is a download and runs nothing; on our own pages it is an image.
    response["Content-Disposition"] = f'attachment; filename="{mark.file_name}"'
    response["Content-Security-Policy"] = "default-src 'none'; style-src 'unsafe-inline'; sandbox"
    response["X-Content-Type-Options"] = "nosniff"
    response["Cache-Control"] = "private, no-store"
    return response
