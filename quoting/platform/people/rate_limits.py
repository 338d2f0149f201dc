"""How often one address may ask for what anybody may open. Counted in this process alone, and in no row: looking
at a page changes nothing, and a limit that holds once per web process is limit enough."""

import ipaddress
import threading
from collections import OrderedDict
from dataclasses import dataclass, field
from datetime import datetime

from django.conf import settings
from django.http import HttpRequest

MAX_ADDRESSES = 10_000


@dataclass
class RateLimit:
    """At most so many in each window of so many seconds, for each address."""

    most: int
    window_s: int
    _seen: OrderedDict[str, tuple[int, int]] = field(default_factory=OrderedDict)
    _lock: threading.Lock = field(default_factory=threading.Lock)

    def takes(self, address: str, now: datetime) -> bool:
        window = int(now.timestamp()) // self.window_s
        with self._lock:
            began, count = self._seen.pop(address, (window, 0))
            count = count + 1 if began == window else 1
            self._seen[address] = (window, count)
            while len(self._seen) > MAX_ADDRESSES:
                self._seen.popitem(last=False)
        return count <= self.most

    def forget(self) -> None:
        with self._lock:
            self._seen.clear()


def address_of(request: HttpRequest) -> str:
    """Who asks. Behind our own proxy it is the last entry, the one the proxy wrote; earlier ones anyone can forge."""
    message = request.META.get("REMOTE_ADDR", "")
    if settings.BEHIND_PROXY:
        message = request.META.get("HTTP_X_FORWARDED_FOR", "").rpartition(",")[2].strip() or message
    try:
        return str(ipaddress.ip_address(message))
    except ValueError:
        return ""


def network_of(request: HttpRequest) -> str:
    """The address, or what one line to the internet is given: whoever has an IPv6 line has 2^64 addresses."""
    address = address_of(request)
    if not address:
        return ""
    parsed = ipaddress.ip_address(address)
    if isinstance(parsed, ipaddress.IPv4Address):
        return address
    return str(parsed.ipv4_mapped or ipaddress.ip_network((parsed, 64), strict=False))
