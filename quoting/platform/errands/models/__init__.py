from quoting.platform.errands.models.errands import Errand, ErrandState
from quoting.platform.errands.models.heartbeats import Heartbeat

__all__ = [
    "Errand",
    "ErrandState",
    "Heartbeat",
]
