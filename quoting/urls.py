from django.contrib.auth.views import LoginView, LogoutView
from django.urls import include, path
from django.views.generic import RedirectView
from drf_spectacular.views import SpectacularAPIView, SpectacularSwaggerSplitView

from quoting.views import account, feeds, health, history, mail_wishes, papers_made, people, today

urlpatterns = [
    path("", RedirectView.as_view(pattern_name="today"), name="home"),
    path("today/", today.today, name="today"),
    path("", include("quoting.views.jobs.urls")),
    path("", include("quoting.views.job_dates.urls")),
    path("", include("quoting.views.walls.urls")),
    path("", include("quoting.views.held_templates.urls")),
    path("", include("quoting.views.photos.urls")),
    path("", include("quoting.views.builds.urls")),
    path("", include("quoting.views.plans.urls")),
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
    path("account/mail/times/", mail_wishes.times_change, name="alert_times"),
    path("account/calendar/", feeds.feed_make, name="feed_make"),
    path("account/calendar/withdraw/", feeds.feed_withdraw, name="feed_withdraw"),
    path("calendar/<str:secret>.ics", feeds.calendar_feed, name="calendar_feed"),
    path("people/", people.people_list, name="people"),
    path("people/add/", people.person_add, name="person_add"),
    path("people/<int:person_id>/", people.person_change, name="person_change"),
    path("people/<int:person_id>/new-password/", people.person_new_password, name="person_new_password"),
    path("catalog/", include("quoting.views.catalog.urls")),
    path("order-dates/", include("quoting.views.order_dates.urls")),
    path("receiving/", include("quoting.views.receiving.urls")),
    path("", include("quoting.views.order_events.urls")),
    path("quotes/", include("quoting.views.quotes.urls")),
    path("q/", include("quoting.views.client.urls")),
    path("texts/", include("quoting.views.texts.urls")),
    path("changes/", include("quoting.views.changes.urls")),
    path("site/", include("quoting.views.site.urls")),
    path("papers/<int:paper_id>/", papers_made.paper, name="paper"),
    path("papers/errands/<int:errand_id>/", papers_made.paper_progress, name="paper_progress"),
    path("papers/errands/<int:errand_id>/retry/", papers_made.paper_retry, name="paper_retry"),
    path("history/jobs/<int:job_id>/", history.job_history, name="job_history"),
    path("health/live", health.live, name="health_live"),
    path("health/ready", health.ready, name="health_ready"),
    path("api/schema/", SpectacularAPIView.as_view(), name="api_schema"),
    path(
        "api/docs/",
        SpectacularSwaggerSplitView.as_view(url_name="api_schema", template_name="api/docs.html"),
        name="api_docs",
    ),
    path("api/", include("quoting.api.urls")),
]
