from quoting.platform.people.models.people import Person, Role
from quoting.platform.people.models.tokens import Token

__all__ = [
    "Person",
    "Role",
    "Token",
]
