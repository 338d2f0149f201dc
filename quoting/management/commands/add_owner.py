from typing import Any

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import OperationalError, ProgrammingError, connection

from quoting.platform.people.models import Role
from quoting.platform.people.services.people import add_person


class Command(BaseCommand):
    help = "Adds an owner, who can then add everyone else on the People page. Prints a first password once."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("login_name")
        parser.add_argument("--full-name", default="", help="As papers name who prepared them.")

    def handle(self, *args: Any, **options: Any) -> None:
        login_name = options["login_name"]
        try:
            person, password = add_person(login_name, options["full_name"] or login_name, Role.OWNER)
        except ValidationError as error:
            message = "; ".join(f"{field}: {' '.join(sentences)}" for field, sentences in error.message_dict.items())
            raise CommandError(message) from error
        except (OperationalError, ProgrammingError) as error:
            raise CommandError(
                f"{where().capitalize()} is not set up yet, or busy. Run manage.py migrate, or start the service "
                "(make serve) and wait for its address; then run this again."
            ) from error
        self.stdout.write(f"{person.login_name} may log in as owner, with {where()}. Password, shown once: {password}")


def where() -> str:
    if connection.vendor == "sqlite":
        return f"the data in {settings.DATA_DIR}"
    return f"the database {connection.settings_dict['NAME']}"
