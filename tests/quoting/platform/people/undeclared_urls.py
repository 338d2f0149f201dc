"""URLs that the access matrix does not know."""

from django.urls import path


def undeclared(request):
    raise AssertionError("no view behind an undeclared URL may run")


urlpatterns = [
    path("log-in/", undeclared, name="login"),
    path("secret/", undeclared, name="not in the matrix"),
    path("api/secret/", undeclared, name="nor this"),
    path("nameless/", undeclared),
]
