from django.urls import path, register_converter
from django.views.generic import RedirectView

from quoting.api import (
    builds,
    catalog,
    clients,
    figures,
    job_files,
    jobs,
    papers,
    pricing,
    quotes,
    templates,
    unknown,
    walls,
    work_up,
)

register_converter(unknown.Whatever, "whatever")

urlpatterns = [
    path("clients", clients.Clients.as_view(), name="api_clients"),
    path("clients/<int:client_id>", clients.OneClient.as_view(), name="api_client"),
    path("jobs", jobs.Jobs.as_view(), name="api_jobs"),
    path("jobs/<str:key>", jobs.OneJob.as_view(), name="api_job"),
    path("jobs/<str:key>/job-file", job_files.JobFileOut.as_view(), name="api_job_file"),
    path("jobs/<str:key>/walls", walls.Walls.as_view(), name="api_walls"),
    path("jobs/<str:key>/walls/<str:wall_key>", walls.OneWall.as_view(), name="api_wall"),
    path("jobs/<str:key>/walls/<str:wall_key>/takeoff", figures.WallTakeoff.as_view(), name="api_wall_takeoff"),
    path("jobs/<str:key>/takeoff", figures.JobTakeoff.as_view(), name="api_takeoff"),
    path("jobs/<str:key>/templates", templates.Templates.as_view(), name="api_templates"),
    path("jobs/<str:key>/templates/<int:template_id>", templates.OneTemplate.as_view(), name="api_template"),
    path(
        "jobs/<str:key>/templates/<int:template_id>/moves",
        templates.TemplateMoves.as_view(),
        name="api_template_moves",
    ),
    path("jobs/<str:key>/schedule", figures.JobSchedule.as_view(), name="api_schedule"),
    path("jobs/<str:key>/builds", builds.JobBuilds.as_view(), name="api_builds"),
    path("jobs/<str:key>/pricing", pricing.JobPricing.as_view(), name="api_pricing"),
    path("jobs/<str:key>/quote", figures.JobQuote.as_view(), name="api_quote"),
    path("jobs/<str:key>/quote/issue", quotes.IssueQuote.as_view(), name="api_quote_issue"),
    path("jobs/<str:key>/quote/approve", quotes.ApproveQuote.as_view(), name="api_quote_approve"),
    path("job-files", job_files.JobFileIn.as_view(), name="api_job_files"),
    path("quotes", quotes.Quotes.as_view(), name="api_quotes"),
    path("quotes/<str:number>", quotes.OneQuote.as_view(), name="api_issued_quote"),
    path("quotes/<str:number>/revisions/<int:revision>", quotes.OneRevision.as_view(), name="api_revision"),
    path(
        "quotes/<str:number>/revisions/<int:revision>/withdraw",
        quotes.WithdrawRevision.as_view(),
        name="api_revision_withdraw",
    ),
    path(
        "quotes/<str:number>/revisions/<int:revision>/paper",
        papers.PaperState.as_view(),
        name="api_paper",
    ),
    path(
        "quotes/<str:number>/revisions/<int:revision>/paper/retry",
        papers.RetryPaper.as_view(),
        name="api_paper_retry",
    ),
    path(
        "quotes/<str:number>/revisions/<int:revision>/paper/file",
        papers.PaperFile.as_view(),
        name="api_paper_file",
    ),
    path("catalog/materials", catalog.Materials.as_view(), name="api_materials"),
    path("catalog/materials/<path:code>", catalog.OneMaterial.as_view(), name="api_material"),
    path("catalog/suppliers", catalog.Suppliers.as_view(), name="api_suppliers"),
    path("catalog/suppliers/<path:code>", catalog.OneSupplier.as_view(), name="api_supplier"),
    path("catalog/firm", catalog.OurFirm.as_view(), name="api_firm"),
    path("work-up", work_up.WorkUpJobFile.as_view(), name="api_work_up"),
    path("takeoff", work_up.TakeoffOfWall.as_view(), name="api_take_off"),
    # People type these two without the slash they are served under.
    path("schema", RedirectView.as_view(pattern_name="api_schema"), name="api_schema_short"),
    path("docs", RedirectView.as_view(pattern_name="api_docs"), name="api_docs_short"),
    path("<whatever:unknown>", unknown.Unknown.as_view(), name="api_unknown"),
]
