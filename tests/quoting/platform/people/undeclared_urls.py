"""URLs that state no roles, or not under a name of their own."""

from django.urls import path

from quoting.platform.people.access import EVERYONE, route


def undeclared(request):
    raise AssertionError("no view behind an undeclared URL may run")


urlpatterns = [
    path("log-in/", undeclared, name="login"),
    path("secret/", undeclared, name="without roles"),
    path("api/secret/", undeclared, name="nor this"),
    path("nameless/", undeclared),
    route("twice/", undeclared, "twice", both=EVERYONE),
    path("once-more/", undeclared, name="twice"),
]
