import json
from datetime import date

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse

from catalog.models import Material, Price, Supplier
from jobs.jobs.models import Client, Job
from jobs.jobs.services.client_on_paper import party_of_job
from jobs.walls.services.walls import copy_wall
from quoting.job_files.services.job_files import work_up_job
from quoting.pricing.services.pricing import pricing_of
from quoting.quotes.services.quote_paper import QuoteHead, quote_paper
from tests.documents import FIXTURES, document, starter
from tests.stored import stored_book, stored_job
from tests.support import worked
from tests.support.desk import as_, opened, priced_job, queries_of

__all__ = ["as_"]
pytestmark = [pytest.mark.usefixtures("frozen_clock"), pytest.mark.both_engines]


@pytest.fixture
def job(db):
    return stored_job("larkmoor-dental")


@pytest.fixture
def desk(client, make_person):
    client.force_login(make_person("office"))
    return client


@pytest.fixture
def estimator(client, make_person):
    client.force_login(make_person("estimator"))
    return client


@pytest.fixture
def lead(client, make_person):
    client.force_login(make_person("lead"))
    return client


def page_of(client, url_name, *args, query=""):
    answer = client.get(reverse(url_name, args=args) + query)
    assert answer.status_code == 200
    return answer.content.decode()


def test_the_list_shows_open_jobs_and_finds_by_any_word(desk, job):
    assert job.title in page_of(desk, "job_list")
    assert job.title in page_of(desk, "job_list", query="?q=larkmoor+reception")
    assert job.title not in page_of(desk, "job_list", query="?q=nobody")
    assert job.title not in page_of(desk, "job_list", query="?shown=closed")


def test_a_closed_job_leaves_the_open_ones_and_comes_back(desk, job):
    close = reverse("job_close", args=[job.pk])
    desk.post(close, {"seen_version": job.version})
    job.refresh_from_db()
    assert job.closed_on == date(2026, 10, 5)
    assert job.title not in page_of(desk, "job_list")
    assert job.title in page_of(desk, "job_list", query="?shown=closed")
    desk.post(close, {"seen_version": job.version})
    job.refresh_from_db()
    assert job.closed_on is None


def test_a_job_is_not_closed_from_a_page_that_is_old(desk, job):
    desk.post(reverse("job_close", args=[job.pk]), {"seen_version": "99"})
    job.refresh_from_db()
    assert job.closed_on is None


NEW = {"title": "Front screen", "crew": "3", "client": "new", "client_name": "Ardwick Optics", "start_on": "2027-02-01"}


def test_a_job_is_opened_with_a_client_entered_beside_it(desk, db):
    answer = desk.post(reverse("job_add"), NEW | {"note": "Key at the desk"})
    job = Job.objects.get()
    assert answer.url == reverse("job", args=[job.pk])
    assert (job.key, job.client.name, job.crew, job.start_on) == ("J-0001", "Ardwick Optics", 3, date(2027, 2, 1))
    assert (job.note, job.created_by.role) == ("Key at the desk", "office")


def test_an_address_of_two_lines_is_kept_as_a_browser_sends_it(desk):
    # HTML Standard, "constructing the entry list": a text area sends CR LF for every line break.
    desk.post(reverse("job_add"), NEW | {"client_address": "3 Kiln Yard\r\nSallow Reach"})
    assert Job.objects.get().client.address == "3 Kiln Yard\nSallow Reach"


def test_every_wrong_entry_of_a_new_job_is_told_at_once(desk):
    text = desk.post(reverse("job_add"), NEW | {"title": "", "crew": "two", "start_on": "soon", "client_name": ""})
    for entry in ("title", "crew", "start_on", "client_name"):
        assert f'id="id_{entry}_error">' in text.content.decode()


def test_a_job_is_opened_for_a_client_who_is_known(desk, job):
    desk.post(reverse("job_add"), {"title": "Second screen", "client": str(job.client_id)})
    assert Client.objects.count() == 1
    assert Job.objects.get(title="Second screen").client == job.client


@pytest.mark.parametrize(
    ("entry", "typed", "says"),
    [
        ("title", "", "Title is missing"),
        ("crew", "0", "People in the crew"),
        ("crew", "two", "People in the crew"),
        ("start_on", "soon", "First working day on site"),
        ("client_name", "", "Client must not be empty"),
        ("client", "999999", "not one of those offered"),
        ("title", "x" * 201, "200"),
    ],
)
def test_a_wrong_entry_of_a_job_is_told_and_nothing_is_kept(desk, db, entry, typed, says):
    answer = desk.post(reverse("job_add"), NEW | {entry: typed})
    assert answer.status_code == 422
    beside = answer.content.decode().split(f'id="id_{entry}_error">')[1].split("</div>")[0]
    assert says in beside
    assert not Job.objects.exists()


def test_a_change_of_the_job_is_kept_and_what_is_emptied_is_empty(desk, job):
    url = reverse("job_change", args=[job.pk])
    data = {"title": "New title", "client": str(job.client_id), "crew": "2", "seen_version": str(job.version)}
    assert desk.post(url, data).status_code == 302
    job.refresh_from_db()
    assert (job.title, job.start_on, job.site_address) == ("New title", None, "")
    assert job.walls.count() == 1


def test_of_two_who_change_a_job_the_second_is_told(desk, job):
    url = reverse("job_change", args=[job.pk])
    data = {"title": "One", "client": str(job.client_id), "crew": "2", "seen_version": str(job.version)}
    desk.post(url, data)
    answer = desk.post(url, data | {"title": "Other"})
    assert answer.status_code == 409
    assert "Nothing was saved" in answer.content.decode()
    assert Job.objects.get().title == "One"


def test_the_quantities_of_a_job_stand_under_buying_with_their_cost(desk, job):
    page = page_of(desk, "job_quantities", job.pk)
    for message in ("Larkmoor Dental", "Gypsum board, 1/4 in", "Rounding", "USD"):
        assert message in page


def test_an_s_curve_has_its_picture_on_the_job(desk):
    job = stored_job("merrow-finch-boutique")
    page = page_of(desk, "job", job.pk)
    assert "<title>Lobby S-curve, standing</title>" in page


def test_the_lead_sees_the_job_and_its_quantities_without_money_or_supplier(lead, job):
    page = page_of(lead, "job_quantities", job.pk) + page_of(lead, "job", job.pk)
    assert "Gypsum board, 1/4 in" in page
    assert "USD" not in page
    for supplier in Supplier.objects.all():
        assert supplier.name not in page
        assert supplier.code not in page


def test_a_missing_price_is_named_to_the_desk_and_kept_from_the_lead(desk, client, make_person, job):
    Price.objects.filter(pack__material__code="GB-14").delete()
    message = "no price for"
    assert message in page_of(desk, "job_cautions", job.pk)
    assert "price missing" in page_of(desk, "job_quantities", job.pk)
    client.force_login(make_person("lead"))
    assert message not in page_of(client, "job_cautions", job.pk)


def test_a_job_whose_wall_gives_no_wall_says_so_and_still_opens(desk, job):
    Material.objects.get(code="GB-14").facts.filter(name="thickness_mm").delete()
    page = page_of(desk, "job", job.pk)
    assert "states no thickness" in page
    assert reverse("wall", args=[job.pk, "reception-screen"]) in page


def test_before_the_firm_is_entered_a_job_still_opens(desk, db):
    desk.post(reverse("job_add"), NEW)
    assert "The firm is not entered yet" in page_of(desk, "job", Job.objects.get().pk)


def test_the_sheet_asks_no_more_of_the_database_for_more_walls(desk, job):
    page = reverse("job", args=[job.pk])
    number = queries_of(desk, page)
    for _ in range(3):
        copy_wall(job.walls.first())
    assert queries_of(desk, page) <= number


def upload(client, data, **more):
    file = SimpleUploadedFile("job.json", data if isinstance(data, bytes) else json.dumps(data, default=str).encode())
    return client.post(reverse("job_import"), {"file": file, **more})


def fixture_bytes(name):
    return (FIXTURES / "jobs" / f"{name}.json").read_bytes()


def test_a_job_file_comes_in_and_goes_out_again(estimator, db):
    stored_book(starter(), "starter")
    answer = upload(estimator, fixture_bytes("larkmoor-dental"))
    job = Job.objects.get()
    assert answer.url == reverse("job", args=[job.pk])
    out = estimator.get(reverse("job_export", args=[job.pk]))
    assert out["Content-Disposition"] == f'attachment; filename="{job.key}.json"'
    assert json.loads(out.content)["job"]["title"] == job.title


def test_a_wrong_job_file_is_named_place_by_place_and_nothing_is_kept(estimator, db):
    wrong = document("jobs/larkmoor-dental.json")
    wrong["walls"][0]["pieces"][0]["rise"] = "0 in"
    wrong["walls"][0]["colour"] = "blue"
    answer = upload(estimator, wrong)
    page = answer.content.decode()
    assert answer.status_code == 422
    assert "<code>walls[0].pieces[0].rise</code>" in page
    assert not Job.objects.exists()


@pytest.mark.parametrize("data", [b"", b"\xff\xfe", b"[]", b"{", b'{"a": NaN}', b"[" * 5000, b'{"format": "x"}'])
def test_what_is_no_job_file_is_refused_in_words(estimator, db, data):
    answer = upload(estimator, data)
    assert answer.status_code == 422
    assert not Job.objects.exists()


def test_a_job_file_of_a_known_key_replaces_only_when_asked(estimator, job):
    assert upload(estimator, fixture_bytes("larkmoor-dental")).status_code == 422
    assert upload(estimator, fixture_bytes("larkmoor-dental"), replace="on").status_code == 302
    assert Job.objects.count() == 1


def without_pricing(name):
    return {part: value for part, value in document(f"jobs/{name}.json").items() if part != "pricing"}


def test_the_office_takes_a_job_file_out_without_how_it_is_priced(desk, client, make_person):
    """The control: of the same job, someone who sets prices takes the whole."""
    out = reverse("job_export", args=[priced_job().pk])
    written = json.loads(desk.get(out).content)
    assert "pricing" not in written
    assert "margin" not in json.dumps(written)
    client.force_login(make_person("estimator"))
    assert json.loads(client.get(out).content)["pricing"]["policy"]["target_margin"]


def test_the_office_brings_no_pricing_in(desk):
    job = priced_job()
    before = pricing_of(job)
    answer = upload(desk, fixture_bytes("larkmoor-dental"), replace="on")
    assert answer.status_code == 422
    assert "<code>pricing</code>" in answer.content.decode()
    assert "is for estimators and owners alone" in answer.content.decode()
    assert upload(desk, without_pricing("larkmoor-dental"), replace="on").status_code == 302
    assert pricing_of(job) == before


def test_a_client_is_changed_for_all_their_jobs(desk, job):
    url = reverse("client_change", args=[job.client_id])
    assert url in page_of(desk, "job_list", query=f"?client={job.client_id}")
    assert desk.get(reverse("client_list")).url == reverse("job_list")
    desk.post(url, {"name": "Larkmoor Dental Rooms", "email": "desk@larkmoor.example"} | opened(desk, url))
    assert "Larkmoor Dental Rooms" in page_of(desk, "job", job.pk)
    assert desk.post(url, {"name": ""} | opened(desk, url)).status_code == 422


def test_the_clients_purchase_order_stands_in_the_job_the_api_and_on_its_papers(as_, estimator, frozen_clock, db):
    frozen_clock.move_to(worked.NOW)
    job = worked.small_job()
    office = as_("office")
    form = office.get(reverse("job_change", args=[job.pk])).context["form"]
    entries = {name: form[name].value() or "" for name in form.fields} | {"purchase_order": "PO-4711"}
    entries["seen_version"] = job.version
    assert office.post(reverse("job_change", args=[job.pk]), entries).status_code == 302
    job.refresh_from_db()
    assert estimator.get(f"/api/jobs/{job.key}").json()["job"]["purchase_order"] == "PO-4711"
    head = QuoteHead("Q-1", "1", "Ines Quarrell")
    for party in (quote_paper(work_up_job(job, worked.TODAY), head).client, party_of_job(job)):
        assert party.lines[-1] == "Purchase order PO-4711"
