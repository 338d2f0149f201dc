from django.http import HttpRequest
from drf_spectacular.extensions import OpenApiAuthenticationExtension
from rest_framework.authentication import BaseAuthentication
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request

from quoting.platform.people.models import Person


class TokenAuthentication(BaseAuthentication):
    """`Authorization: Bearer TOKEN`, or the log-in of a page of ours.

    AccessMiddleware has already read the token and checked it against the matrix; this hands its finding on.
    """

    def authenticate(self, request: Request) -> tuple[Person, str] | None:
        wanted: HttpRequest = request._request
        person = getattr(wanted, "token_person", None)
        if person is not None:
            return person, "token"
        user = getattr(wanted, "user", None)
        if user is None or not user.is_authenticated or not user.is_active:
            return None
        self._enforce_csrf(wanted)
        return user, "session"

    def authenticate_header(self, request: Request) -> str:
        return 'Bearer realm="api"'

    def _enforce_csrf(self, request: HttpRequest) -> None:
        # DRF exempts its views from Django's check, which a log-in by cookie still needs.
        from rest_framework.authentication import CSRFCheck

        check = CSRFCheck(lambda wanted: None)
        check.process_request(request)
        reason = check.process_view(request, None, (), {})
        if reason:
            raise PermissionDenied(f"CSRF check failed: {reason}")


class TokenScheme(OpenApiAuthenticationExtension):  # type: ignore[no-untyped-call]
    target_class = TokenAuthentication
    name = "token"

    def get_security_definition(self, auto_schema: object) -> dict[str, str]:
        return {"type": "http", "scheme": "bearer", "description": "A token made on the account page."}
