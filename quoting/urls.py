from django.contrib.auth.views import LoginView, LogoutView
from django.urls import include, path
from django.views.generic import RedirectView

from quoting.platform.people.access import EVERYONE, STAFF, route
from quoting.service.pages.moved import moved_routes

handler400 = "quoting.platform.refused_host.bad_request_page"
handler500 = "quoting.platform.server_error.server_error_page"
log_in = LoginView.as_view(template_name="people/login.html", redirect_authenticated_user=True)

urlpatterns = [
    route("", RedirectView.as_view(pattern_name="today"), "home", GET=STAFF),
    route("log-in/", log_in, "login", both=EVERYONE),
    route("log-out/", LogoutView.as_view(), "logout", POST=STAFF),
    path("", include("quoting.service.pages.urls")),
    path("", include("quoting.service.people.pages.urls")),
    path("", include("quoting.service.audit.pages.urls")),
    path("", include("quoting.alerts.pages.urls")),
    path("", include("quoting.job_files.pages.urls")),
    path("", include("quoting.builds.pages.urls")),
    path("", include("quoting.pricing.pages.urls")),
    path("", include("quoting.quotes.pages.urls")),
    path("", include("quoting.client.pages.urls")),
    path("", include("quoting.payment_requests.pages.urls")),
    path("", include("quoting.life.pages.urls")),
    path("", include("quoting.month.pages.urls")),
    path("", include("quoting.record.pages.urls")),
    path("", include("quoting.texts.pages.urls")),
    path("", include("quoting.changes.pages.urls")),
    path("", include("quoting.job_money.pages.urls")),
    path("", include("quoting.field_checks.pages.urls")),
    path("", include("jobs.jobs.pages.urls")),
    path("", include("jobs.hours.pages.urls")),
    path("", include("jobs.deleted.pages.urls")),
    path("", include("jobs.whole_jobs.pages.urls")),
    path("", include("jobs.walls.pages.urls")),
    path("", include("jobs.held_templates.pages.urls")),
    path("", include("jobs.items.pages.urls")),
    path("", include("jobs.plans.pages.urls")),
    path("", include("jobs.schedule.pages.urls")),
    path("", include("jobs.stock.pages.urls")),
    path("", include("jobs.dates.pages.urls")),
    path("", include("jobs.buying.pages.urls")),
    path("", include("jobs.orders.pages.urls")),
    path("", include("jobs.bills.pages.urls")),
    path("", include("jobs.finish.pages.urls")),
    path("", include("jobs.deliveries.pages.urls")),
    path("", include("jobs.site.pages.urls")),
    path("", include("catalog.pages.urls")),
    *moved_routes(),
    path("api/", include("quoting.service.api.urls")),
]
