"""Where this service is found by whoever asks: what links to its pages begin with."""

from typing import Any


def origin_of(request: Any) -> str:
    """Scheme, host and port, such as https://quotes.example; hosts are held against ALLOWED_HOSTS."""
    return f"{request.scheme}://{request.get_host()}"
