from django.http import Http404
from drf_spectacular.utils import extend_schema
from rest_framework.request import Request
from rest_framework.response import Response

from quoting.api.base import ApiView


@extend_schema(exclude=True)
class Unknown(ApiView):
    """A path the API does not have is told in JSON, like everything else here."""

    def get(self, request: Request, unknown: str) -> Response:
        raise Http404

    post = put = patch = delete = get
