from django.core.exceptions import DisallowedHost
from django.http import HttpRequest, HttpResponse, HttpResponseBadRequest
from django.http.request import split_domain_port
from django.template.loader import render_to_string
from django.views.defaults import bad_request

from quoting.platform.middleware import is_api
from quoting.platform.problems import problem


def bad_request_page(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Django's, but for a host name nobody allowed: whoever set the service up must see which."""
    host, _ = split_domain_port(request.META.get("HTTP_HOST", ""))
    named = isinstance(exception, DisallowedHost) and bool(host)
    if is_api(request):
        sentence = f"This address, {host}, is not in CURVEWRIGHT_HOSTS." if named else "This request could not be read."
        return problem(400, sentence)
    if not named:
        return bad_request(request, exception)
    return HttpResponseBadRequest(render_to_string("400_host.html", {"host": host}))
