from jobs.site.pages import pages, papers
from quoting.platform.people.access import STAFF, route

urlpatterns = [
    route("jobs/<int:job_id>/site/", pages.site_sheet, GET=STAFF),
    route("jobs/<int:job_id>/site/paper/", papers.site_sheet_make, POST=STAFF),
    route("jobs/<int:job_id>/site/walls/<slug:wall_key>/", pages.site_wall, GET=STAFF),
    route("jobs/<int:job_id>/site/walls/<slug:wall_key>/drawing.dxf", pages.site_wall_dxf, GET=STAFF),
    route("jobs/<int:job_id>/site/walls/<slug:wall_key>/full-size/", papers.full_size_make, POST=STAFF),
    route("site/papers/<int:paper_id>/", papers.site_paper, GET=STAFF),
    route("site/papers/errands/<int:errand_id>/", papers.site_paper_progress, GET=STAFF),
    route("site/papers/errands/<int:errand_id>/retry/", papers.site_paper_retry, POST=STAFF),
]
