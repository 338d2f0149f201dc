from quoting.platform.people.models.log_ins import GuessCount, KnownPlace
from quoting.platform.people.models.people import Person, Role
from quoting.platform.people.models.sent_forms import SentForm
from quoting.platform.people.models.tokens import Token
from quoting.platform.people.models.visits import LastVisit

__all__ = [
    "GuessCount",
    "KnownPlace",
    "LastVisit",
    "Person",
    "Role",
    "SentForm",
    "Token",
]
