from typing import Any

from rest_framework.negotiation import DefaultContentNegotiation
from rest_framework.request import Request


class AsItIs(DefaultContentNegotiation):
    """The file goes out as it was made, and a refusal as JSON, whatever was asked for."""

    def select_renderer(self, request: Request, renderers: Any, format_suffix: Any = None) -> Any:
        return renderers[0], renderers[0].media_type
