from django.http import Http404
from django.urls.converters import StringConverter
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from quoting.platform.api.base import ApiView


class Whatever(StringConverter):
    """Nothing and line ends too, which Django's `path` leaves out."""

    regex = r"[\s\S]*"


@extend_schema(exclude=True)
class Unknown(ApiView):
    """A path the API does not have is told in JSON, like everything else here."""

    def get(self, request: Request, unknown: str) -> Response:
        raise Http404

    post = put = patch = delete = get
