import shlex
import socket
import sys
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser
from django.db import connection
from django.db.migrations.executor import MigrationExecutor
from django.http.request import validate_host

from quoting.platform.checks import refuse_to_start_when_wrong
from quoting.platform.environment import read_text
from quoting.platform.errands.supervisor import Child, Supervisor
from quoting.platform.people.models import Person

LOG_INS = "demo-log-ins.txt"
# Each with an address kept for examples, which nobody has.
EVERY_ADDRESS = {"0.0.0.0": (socket.AF_INET, "192.0.2.1"), "::": (socket.AF_INET6, "2001:db8::1")}  # noqa: S104


class Command(BaseCommand):
    help = "Runs web, worker and tick on this machine, and starts again whichever dies."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--address", default=read_text("CURVEWRIGHT_ADDRESS") or "127.0.0.1:8000")

    def handle(self, *args: Any, **options: Any) -> None:
        host, port = parse_address(options["address"])
        refuse_taken_port(host, port)
        # Others' databases are migrated by hand, after a backup; the one that came with the program is not.
        if settings.PRODUCTION:
            refuse_old_tables()
        else:
            self.stdout.write("Setting up; the first time this takes a minute.")
            self.stdout.flush()
            call_command("migrate", interactive=False, verbosity=0)
        call_command("collectstatic", interactive=False, verbosity=0)
        refuse_to_start_when_wrong()
        self.stdout.write(greeting(host, port))
        Supervisor(children(host, port)).run()


def parse_address(text: str) -> tuple[str, int]:
    host, colon, port = text.rpartition(":")
    if not colon or not host or not port.isdigit() or not 0 < int(port) < 65536:
        raise CommandError(f"The address is {text!r}; write it as 127.0.0.1:8000.")
    return host.strip("[]"), int(port)


def refuse_taken_port(host: str, port: int) -> None:
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as error:
            raise CommandError(
                f"{host}:{port} cannot be opened ({error.strerror}); choose another with --address."
            ) from error


def refuse_old_tables() -> None:
    plan = MigrationExecutor(connection)
    if plan.migration_plan(plan.loader.graph.leaf_nodes()):
        raise CommandError("The tables are missing or older than the program: back up, then run manage.py migrate.")


def children(host: str, port: int) -> list[Child]:
    python, manage = sys.executable, str(Path(settings.BASE_DIR) / "manage.py")
    bind = f"{bracketed(host)}:{port}"
    web = [
        "gunicorn",
        "quoting.wsgi",
        "--bind",
        bind,
        "--workers",
        "2",
        "--threads",
        "4",
        "--no-control-socket",
    ]
    if settings.REDIS_URL:
        worker = [python, "-m", "celery", "-A", "quoting.celery", "worker", "--loglevel", "WARNING"]
    else:
        worker = [python, manage, "worker"]
    return [
        Child("web", [python, "-m", *web, "--chdir", str(settings.BASE_DIR), "--log-level", "warning"]),
        Child("worker", worker),
        Child("tick", [python, manage, "tick"]),
    ]


def greeting(host: str, port: int) -> str:
    open_at = bracketed(reachable(host))
    lines = [f"Curvewright is at http://{open_at}:{port}/ (end it with Ctrl-C)."]
    if not validate_host(open_at, settings.ALLOWED_HOSTS):
        named = ",".join([*settings.NAMED_HOSTS, open_at])
        lines += [
            f"Pages are refused there, because {open_at} is not in CURVEWRIGHT_HOSTS. To allow it, end this and start",
            f"  CURVEWRIGHT_HOSTS={named} CURVEWRIGHT_ADDRESS={bracketed(host)}:{port} make serve",
        ]
    log_ins = settings.DATA_DIR / LOG_INS
    if log_ins.exists():
        lines += ["Demo log-ins:", log_ins.read_text().rstrip()]
    elif not Person.objects.exists():
        lines += [
            "Nobody can log in yet. In another window, in this folder:",
            f'  {same_data()}.venv/bin/python manage.py add_owner LOG-IN-NAME --full-name "Your Name"',
            "It prints a password; log in with it, and Today leads on from there.",
        ]
    return "\n".join(lines)


def reachable(host: str) -> str:
    """Where others find this machine, when it listens at every address it has."""
    if host not in EVERY_ADDRESS:
        return host
    family, elsewhere = EVERY_ADDRESS[host]
    with socket.socket(family, socket.SOCK_DGRAM) as probe:
        try:
            # Chooses the way out and sends nothing.
            probe.connect((elsewhere, 9))
        except OSError:
            return socket.gethostname().lower()
        return str(probe.getsockname()[0])


def bracketed(host: str) -> str:
    return f"[{host}]" if ":" in host else host


def same_data() -> str:
    """What a command in another window needs, to work with the data of this one."""
    if read_text("DATABASE_URL"):
        return "DATABASE_URL=... "
    return f"CURVEWRIGHT_DATA={shlex.quote(str(settings.DATA_DIR))} " if read_text("CURVEWRIGHT_DATA") else ""
