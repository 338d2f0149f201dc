from django.contrib.auth.views import LoginView, LogoutView
from django.urls import include, path
from django.views.generic import RedirectView
from drf_spectacular.views import SpectacularAPIView, SpectacularSwaggerSplitView

from jobs.deliveries.pages import planned
from quoting.alerts.pages import feeds, mail_preferences
from quoting.changes.pages import substituting
from quoting.client.pages import money
from quoting.field_checks.pages import field_check
from quoting.service.audit.pages import health
from quoting.service.pages import history, job, papers_made, today
from quoting.service.people.pages import account, people
from quoting.texts.pages import starter

handler400 = "quoting.platform.pages.refused_host.bad_request_page"
handler500 = "quoting.platform.pages.server_error.server_error_page"
urlpatterns = [
    path("", RedirectView.as_view(pattern_name="today"), name="home"),
    path("today/", today.today, name="today"),
    path("", include("jobs.jobs.pages.urls")),
    path("", include("quoting.job_files.pages.urls")),
    path("jobs/<int:job_id>/", job.job_sheet, name="job"),
    path("jobs/<int:job_id>/payments/", money.payments, name="payments"),
    path("payments/<int:payment_id>/undo/", money.payment_undo, name="payment_undo"),
    path("jobs/<int:job_id>/substitutions/", substituting.substitutions, name="substitutions"),
    path("site/jobs/<int:job_id>/walls/<slug:wall_key>/field-check/", field_check.field_check, name="field_check"),
    path("catalog/start/", starter.catalog_start, name="catalog_start"),
    path("catalog/materials/<int:material_id>/history/", history.material_history, name="material_history"),
    path("catalog/materials/<int:material_id>/planned/", planned.planned_accept, name="planned_accept"),
    path("catalog/materials/<int:material_id>/planned/end/", planned.planned_end, name="planned_end"),
    path("", include("jobs.schedule.pages.urls")),
    path("", include("jobs.walls.pages.walls_urls")),
    path("", include("jobs.held_templates.pages.urls")),
    path("", include("jobs.walls.pages.photos_urls")),
    path("", include("quoting.builds.pages.urls")),
    path("", include("jobs.plans.pages.urls")),
    path(
        "log-in/",
        LoginView.as_view(template_name="people/login.html", redirect_authenticated_user=True),
        name="login",
    ),
    path("log-out/", LogoutView.as_view(), name="logout"),
    path("account/", account.account, name="account"),
    path("account/password/", account.OwnPassword.as_view(), name="account_password"),
    path("account/tokens/", account.token_make, name="token_make"),
    path("account/tokens/<int:token_id>/withdraw/", account.token_withdraw, name="token_withdraw"),
    path("account/mail/", account.wish_set, name="mail_wish_set"),
    path("account/mail/times/", mail_preferences.times_change, name="alert_times"),
    path("account/calendar/", feeds.feed_make, name="feed_make"),
    path("account/calendar/withdraw/", feeds.feed_withdraw, name="feed_withdraw"),
    path("calendar/<str:secret>.ics", feeds.calendar_feed, name="calendar_feed"),
    path("people/", people.people_list, name="people"),
    path("people/add/", people.person_add, name="person_add"),
    path("people/<int:person_id>/", people.person_change, name="person_change"),
    path("people/<int:person_id>/new-password/", people.person_new_password, name="person_new_password"),
    path("people/<int:person_id>/log-out/", people.person_log_out, name="person_log_out"),
    path("catalog/", include("catalog.pages.urls")),
    path("order-dates/", include("jobs.dates.pages.urls")),
    path("", include("jobs.orders.pages.urls")),
    path("receiving/", include("jobs.deliveries.pages.receiving_urls")),
    path("", include("jobs.deliveries.pages.order_events_urls")),
    path("quotes/", include("quoting.quotes.pages.quotes_urls")),
    path("q/", include("quoting.client.pages.urls")),
    path("texts/", include("quoting.texts.pages.urls")),
    path("changes/", include("quoting.changes.pages.urls")),
    path("site/", include("jobs.site.pages.urls")),
    path("papers/<int:paper_id>/", papers_made.paper, name="paper"),
    path("papers/errands/<int:errand_id>/", papers_made.paper_progress, name="paper_progress"),
    path("papers/errands/<int:errand_id>/retry/", papers_made.paper_retry, name="paper_retry"),
    path("history/jobs/<int:job_id>/", history.job_history, name="job_history"),
    path("health/live", health.live, name="health_live"),
    path("health/ready", health.ready, name="health_ready"),
    path("api/schema/", SpectacularAPIView.as_view(), name="api_schema"),
    path(
        "api/docs/",
        SpectacularSwaggerSplitView.as_view(url_name="api_schema", template_name="service/docs.html"),
        name="api_docs",
    ),
    path("api/", include("quoting.service.api.urls")),
]
