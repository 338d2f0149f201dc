from django.core.exceptions import DisallowedHost
from django.http import HttpRequest, HttpResponse, HttpResponseBadRequest, JsonResponse
from django.http.request import split_domain_port
from django.template.loader import render_to_string
from django.views.defaults import bad_request

from quoting.platform.middleware import is_api


def bad_request_page(request: HttpRequest, exception: Exception) -> HttpResponse:
    """Django's, but for a host name nobody allowed: whoever set the service up must see which."""
    host, _ = split_domain_port(request.META.get("HTTP_HOST", ""))
    if not isinstance(exception, DisallowedHost) or not host:
        return bad_request(request, exception)
    if is_api(request):
        return JsonResponse({"detail": f"This address, {host}, is not in CURVEWRIGHT_HOSTS."}, status=400)
    return HttpResponseBadRequest(render_to_string("400_host.html", {"host": host}))
