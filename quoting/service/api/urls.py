from django.urls import include, path, register_converter
from django.views.generic import RedirectView
from drf_spectacular.views import SpectacularAPIView

from quoting.platform.api import unknown
from quoting.platform.people.access import DESK, STAFF, route
from quoting.service.api import docs, own_day, samples

register_converter(unknown.Whatever, "whatever")

urlpatterns = [
    route("schema/", SpectacularAPIView, "api_schema", GET=STAFF),
    route("docs/", docs.rooms, "api_docs", GET=STAFF),
    route("docs/shapes/<str:name>/", docs.shape, "api_shape", GET=STAFF),
    route("docs/<slug:name>/", docs.room, "api_room", GET=STAFF),
    # People type these two without the slash they are served under.
    route("schema", RedirectView.as_view(pattern_name="api_schema"), "api_schema_short", GET=STAFF),
    route("docs", RedirectView.as_view(pattern_name="api_docs"), "api_docs_short", GET=STAFF),
    route("today", own_day.OwnDay, GET=STAFF),
    route("jobs/<str:key>/samples", samples.Samples, both=DESK),
    route("jobs/<str:key>/samples/<int:sample_id>/agreed", samples.AgreeSample, POST=DESK),
    path("", include("quoting.job_files.api.urls")),
    path("", include("quoting.builds.api.urls")),
    # Before the quotes by their number: quotes/out is none.
    path("", include("quoting.life.api.urls")),
    path("", include("quoting.month.api.urls")),
    path("", include("quoting.quotes.api.urls")),
    path("", include("quoting.client.api.urls")),
    path("", include("quoting.payment_requests.api.urls")),
    path("", include("quoting.record.api.urls")),
    path("", include("quoting.texts.api.urls")),
    path("", include("quoting.changes.api.urls")),
    path("", include("quoting.job_money.api.urls")),
    path("", include("quoting.field_checks.api.urls")),
    path("", include("jobs.jobs.api.urls")),
    path("", include("jobs.deleted.api.urls")),
    path("", include("jobs.whole_jobs.api.urls")),
    path("", include("jobs.walls.api.urls")),
    path("", include("jobs.held_templates.api.urls")),
    path("", include("jobs.plans.api.urls")),
    path("", include("jobs.schedule.api.urls")),
    path("", include("jobs.hours.api.urls")),
    path("", include("jobs.site.api.urls")),
    path("", include("jobs.stock.api.urls")),
    path("", include("jobs.orders.api.urls")),
    path("", include("jobs.buying.api.urls")),
    path("", include("jobs.deliveries.api.urls")),
    path("", include("jobs.bills.api.urls")),
    path("", include("jobs.finish.api.urls")),
    path("", include("catalog.api.urls")),
    route("<whatever:unknown>", unknown.Unknown, both=STAFF, PUT=STAFF, PATCH=STAFF, DELETE=STAFF),
]
