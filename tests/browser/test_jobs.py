import pytest

pytestmark = pytest.mark.browser
JOBS = ("larkmoor-dental", "merrow-finch-boutique", "brightwell-childcare")


@pytest.fixture
def jobs(stored_job):
    return [stored_job(name) for name in JOBS]


def test_every_page_of_jobs_is_whole_in_a_browser(visit, jobs):
    job = jobs[0]
    wall = job.walls.get()
    for path in (
        "/today/",
        "/jobs/",
        "/jobs/new/",
        "/jobs/import/",
        "/jobs/clients/",
        f"/jobs/{job.pk}/",
        f"/jobs/{jobs[2].pk}/",
        f"/jobs/{job.pk}/change/",
        f"/jobs/{job.pk}/add-wall/",
        f"/jobs/{job.pk}/walls/{wall.key}/",
        f"/jobs/{jobs[1].pk}/walls/{jobs[1].walls.get().key}/",
        f"/jobs/{job.pk}/walls/{wall.key}/copy/",
        f"/jobs/{job.pk}/walls/{wall.key}/delete/",
        f"/jobs/{job.pk}/walls/{wall.key}/quantity/?line={wall.key}/left/layer-1/board",
    ):
        visit(path)


def test_a_lead_reads_the_wall_and_the_job_and_can_change_neither(visit, jobs):
    job = jobs[0]
    page = visit(f"/jobs/{job.pk}/walls/{job.walls.get().key}/", role="lead")
    assert page.locator("svg").count() >= 2
    assert page.locator("main input, main select, main button").count() == 0
    page = visit(f"/jobs/{job.pk}/", role="lead")
    assert page.locator("main form").count() == 0
    visit("/today/", role="lead")


def test_a_new_firm_is_told_how_to_start(visit):
    page = visit("/today/")
    assert page.get_by_role("link", name="Enter the firm").is_visible()
