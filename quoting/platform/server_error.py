from django.http import HttpRequest, HttpResponse
from django.views.defaults import server_error

from quoting.platform.middleware import is_api
from quoting.platform.problems import problem


def server_error_page(request: HttpRequest) -> HttpResponse:
    """Django's, but for programs."""
    if is_api(request):
        return problem(500, "It failed here; the log says why. Read what you changed before you send it again.")
    return server_error(request)
