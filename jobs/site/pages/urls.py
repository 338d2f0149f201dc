from django.urls import path

from jobs.site.pages import pages, papers

urlpatterns = [
    path("jobs/<int:job_id>/", pages.site_sheet, name="site_sheet"),
    path("jobs/<int:job_id>/paper/", papers.site_sheet_make, name="site_sheet_make"),
    path("jobs/<int:job_id>/walls/<slug:wall_key>/", pages.site_wall, name="site_wall"),
    path("jobs/<int:job_id>/walls/<slug:wall_key>/drawing.dxf", pages.site_wall_dxf, name="site_wall_dxf"),
    path("jobs/<int:job_id>/walls/<slug:wall_key>/full-size/", papers.full_size_make, name="full_size_make"),
    path("papers/<int:paper_id>/", papers.site_paper, name="site_paper"),
    path("papers/errands/<int:errand_id>/", papers.site_paper_progress, name="site_paper_progress"),
    path("papers/errands/<int:errand_id>/retry/", papers.site_paper_retry, name="site_paper_retry"),
]
