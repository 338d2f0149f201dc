from quoting.models.people import Person, Role

__all__ = ["Person", "Role"]
