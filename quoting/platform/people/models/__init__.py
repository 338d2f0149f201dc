from quoting.platform.people.models.log_ins import GuessCount, KnownPlace
from quoting.platform.people.models.people import Person, Role
from quoting.platform.people.models.sent_forms import SentForm
from quoting.platform.people.models.tokens import Token

__all__ = [
    "GuessCount",
    "KnownPlace",
    "Person",
    "Role",
    "SentForm",
    "Token",
]
