"""Photos of walls. Pictures are made here with the general library Pillow; JPEG and PNG signatures are those of
ISO/IEC 10918-1 and ISO/IEC 15948."""

from io import BytesIO

import pytest
from django.urls import reverse
from PIL import Image, PngImagePlugin

from catalog.core.ground.document_reader import DocumentError
from jobs.walls.models import WallPhoto
from jobs.walls.services.kept_pictures import photos_folder
from jobs.walls.services.photos import add_photo, paper_photos, show_in_quote, take_down
from quoting.platform.papers.pictures import PictureRefused, clean_picture
from tests.stored import stored_job
from tests.support.desk import DAY, as_, priced_job

pytestmark = pytest.mark.both_engines
__all__ = ["as_"]
CANARY = b"51.4778 N 0.0015 W"


def picture(kind="JPEG", size=(60, 40), **save):
    out = BytesIO()
    Image.new("RGB", size, (200, 60, 20)).save(out, kind, **save)
    return out.getvalue()


@pytest.fixture
def wall(frozen_clock, db, settings, tmp_path):
    frozen_clock.move_to(DAY)
    settings.MEDIA_ROOT = tmp_path
    return stored_job("larkmoor-dental").walls.get()


def added(wall, data, **more):
    given = {"caption": "Bare wall", "by": "Ines Quarrell", "now": DAY}
    return add_photo(wall, data, **(given | more))


def files():
    return sorted(path.name for path in photos_folder().glob("*")) if photos_folder().exists() else []


def test_nothing_but_the_pixels_is_kept():
    exif = Image.Exif()
    exif[0x010E] = CANARY.decode()
    sent = picture(exif=exif, comment=CANARY) + CANARY
    assert sent.count(CANARY) == 3
    assert CANARY not in clean_picture(sent).data
    text = PngImagePlugin.PngInfo()
    text.add_text("Comment", CANARY.decode())
    assert CANARY not in clean_picture(picture("PNG", pnginfo=text) + CANARY).data


def test_a_picture_taken_on_its_side_is_kept_upright():
    exif = Image.Exif()
    exif[0x0112] = 6  # Exif 2.32: the camera was turned; a viewer turns the picture by a quarter.
    stored = clean_picture(picture(size=(60, 40), exif=exif))
    assert (stored.width_px, stored.height_px) == (40, 60)


def test_a_large_picture_is_kept_smaller_and_a_small_one_as_it_is():
    assert clean_picture(picture(size=(3200, 1600))).width_px == 1600
    assert clean_picture(picture(size=(60, 40))).width_px == 60


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (b"", "is empty"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "neither a JPEG nor a PNG"),
        (b"GIF89a" + bytes(20), "neither a JPEG nor a PNG"),
        (b"\xff\xd8\xff" + b"<script>alert(1)</script>", "cannot be read"),
        (picture()[:300], "cannot be read"),
        (picture("PNG")[:60], "cannot be read"),
        (bytes(10 * 1024 * 1024 + 1), "at most 10 MB"),
    ],
    ids=["empty", "svg", "gif", "script", "half a jpeg", "half a png", "large"],
)
def test_what_is_no_picture_is_refused_and_leaves_no_file(wall, data, message):
    with pytest.raises(DocumentError, match=message):
        added(wall, data)
    assert files() == []
    assert not WallPhoto.objects.exists()


def test_a_picture_that_unpacks_to_more_than_can_be_held_is_refused_by_its_head():
    out = BytesIO()
    Image.new("1", (12_000, 12_000)).save(out, "PNG")
    assert len(out.getvalue()) < 100_000
    with pytest.raises(PictureRefused, match="12000 by 12000 pixels"):
        clean_picture(out.getvalue())


def test_wrong_words_leave_no_file_either(wall):
    for change in ({"caption": " "}, {"caption": "x" * 201}, {"kind": "film"}, {"dimension": "pieces[9].rise"}):
        with pytest.raises(DocumentError):
            added(wall, picture(), **change)
    assert files() == []


def test_a_row_that_cannot_be_kept_takes_its_file_with_it(wall, monkeypatch):
    def broken(*args, **kwargs):
        raise RuntimeError("the database is gone")

    monkeypatch.setattr(WallPhoto.objects, "create", broken)
    with pytest.raises(RuntimeError):
        added(wall, picture())
    assert files() == []


def test_the_face_it_shows_stands_beside_it_on_pages_and_papers(as_, wall):
    file = BytesIO(picture())
    file.name = "bare.jpg"
    sent = {"caption": "Bare", "kind": "photo", "face": "left", "file": file}
    page = as_("lead").post(reverse("wall_photos", args=[wall.job_id, wall.key]), sent, follow=True)
    assert "Shows Left face" in page.content.decode()
    assert [photo.about for photo in paper_photos(wall.job, for_client=False)[wall.key]] == ["Left face"]
    with pytest.raises(DocumentError, match="not one of left, right"):
        added(wall, picture(size=(20, 20)), face="inside")


def test_sent_twice_it_is_one_photo_and_one_file(wall):
    assert added(wall, picture()) == added(wall, picture())
    assert len(files()) == 1


def test_only_what_is_ticked_goes_to_the_client_and_nothing_that_was_taken_down(wall):
    first, second = added(wall, picture()), added(wall, picture(size=(50, 50)), dimension="pieces[0].rise")
    both = paper_photos(wall.job, for_client=False)[wall.key]
    assert [photo.about for photo in both] == ["", "piece 1, rise"]
    assert paper_photos(wall.job, for_client=True) == {}
    show_in_quote(second, True)
    assert [photo.file_name for photo in paper_photos(wall.job, for_client=True)[wall.key]] == [second.file_name]
    take_down(second, by="Ines Quarrell", now=DAY)
    assert paper_photos(wall.job, for_client=True) == {}
    assert first.file_name in files()
    assert second.file_name in files()


def test_the_lead_adds_a_picture_on_site_and_everyone_sees_it_safely(as_, wall):
    lead, page = as_("lead"), reverse("wall_photos", args=[wall.job_id, wall.key])
    file = BytesIO(picture())
    file.name = "../../etc/cron.d/x.php"
    answer = lead.post(
        page, {"file": file, "caption": "Chord <b>and</b> rise", "kind": "photo", "dimension": "pieces[0].rise"}
    )
    assert answer.status_code == 302
    photo = WallPhoto.objects.get()
    assert files() == [f"{photo.sha256}.jpg"]
    for shown in (
        page,
        reverse("site_wall", args=[wall.job_id, wall.key]),
    ):
        text = lead.get(shown).content.decode()
        assert reverse("wall_photo_file", args=[photo.pk]) in text
        assert "Chord &lt;b&gt;and&lt;/b&gt; rise" in text
    sent = lead.get(reverse("wall_photo_file", args=[photo.pk]))
    assert (sent["Content-Type"], sent["X-Content-Type-Options"]) == ("image/jpeg", "nosniff")
    assert sent["Content-Disposition"].startswith("attachment")
    assert lead.post(reverse("wall_photo_in_quote", args=[photo.pk]), {"in_quote": "yes"}).status_code == 403
    as_("estimator").post(reverse("wall_photo_in_quote", args=[photo.pk]), {"in_quote": "yes"})
    assert WallPhoto.objects.get().in_quote
    lead.post(reverse("wall_photo_take_down", args=[photo.pk]))
    assert lead.get(reverse("wall_photo_file", args=[photo.pk])).status_code == 404


def test_a_refused_picture_is_told_beside_its_field(as_, wall):
    page = reverse("wall_photos", args=[wall.job_id, wall.key])
    file = BytesIO(b"%PDF-1.7 not a picture")
    file.name = "wall.jpg"
    lead = as_("lead")
    answer = lead.post(page, {"file": file, "caption": "Wall", "kind": "photo"})
    assert answer.status_code == 422
    assert "neither a JPEG nor a PNG" in answer.content.decode()
    nothing = lead.post(page, {"caption": "Wall", "kind": "photo"})
    assert "The file is empty" in nothing.content.decode()


def test_nobody_without_a_log_in_gets_a_picture(client, wall):
    photo = added(wall, picture())
    answer = client.get(reverse("wall_photo_file", args=[photo.pk]))
    assert answer.status_code == 302
    assert "/log-in/" in answer["Location"]


def test_an_upload_far_too_large_is_refused_before_it_is_put_anywhere(as_, wall):
    file = BytesIO(bytes(13 * 1024 * 1024))
    file.name = "wall.jpg"
    page = reverse("wall_photos", args=[wall.job_id, wall.key])
    lead = as_("lead")
    lead.raise_request_exception = False
    assert lead.post(page, {"file": file, "caption": "Wall", "kind": "photo"}).status_code in (400, 413)
    assert files() == []


def test_the_site_sheet_shows_the_photos_in_its_paper(as_, wall):
    from pypdf import PdfReader

    from quoting.platform.errands.models import Errand
    from quoting.platform.errands.services.errands import run_errand
    from quoting.platform.papers.models import Paper
    from quoting.platform.papers.papers import paper_bytes

    added(wall, picture(), caption="Bare wall seen from the door")
    as_("lead").post(reverse("site_sheet_make", args=[wall.job_id]), {"size": "letter"})
    run_errand(Errand.objects.get(kind="render_site_sheet").pk, "w")
    pages = PdfReader(BytesIO(paper_bytes(Paper.objects.get()))).pages
    assert "Bare wall seen from the door" in "".join(page.extract_text() for page in pages)
    # A renderer lists what a paper shows with every page of it.
    assert len({image.name for page in pages for image in page.images}) == 1


def test_the_clients_paper_shows_a_wall_with_its_ticked_photos(frozen_clock, db, settings, tmp_path):
    from quoting.job_files.services.job_files import work_up_job
    from quoting.platform.papers.typeset import paper_html
    from quoting.quotes.services.quote_paper import QuoteHead, quote_paper

    frozen_clock.move_to(DAY)
    settings.MEDIA_ROOT = tmp_path
    job = priced_job()
    shown, kept_back = added(job.walls.get(), picture()), added(job.walls.get(), picture(size=(50, 50)))
    show_in_quote(shown, True)
    photos = paper_photos(job, for_client=True)
    html = paper_html(quote_paper(work_up_job(job, DAY.date()), QuoteHead("Q-1", "1", "Ines Quarrell"), photos))
    assert f"asset:{shown.file_name}" in html
    assert kept_back.file_name not in html
