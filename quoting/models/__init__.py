from quoting.models.errands import Errand, ErrandState
from quoting.models.heartbeats import Heartbeat
from quoting.models.people import Person, Role
from quoting.models.tokens import Token

__all__ = ["Errand", "ErrandState", "Heartbeat", "Person", "Role", "Token"]
