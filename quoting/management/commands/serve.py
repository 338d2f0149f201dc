import socket
import sys
from pathlib import Path
from typing import Any

from django.conf import settings
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError, CommandParser

from quoting.platform.environment import read_text
from quoting.platform.errands.supervisor import Child, Supervisor
from quoting.platform.people.models import Person

LOG_INS = "demo-log-ins.txt"


class Command(BaseCommand):
    help = "Runs web, worker and tick on this machine, and starts again whichever dies."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--address", default=read_text("CURVEWRIGHT_ADDRESS") or "127.0.0.1:8000")

    def handle(self, *args: Any, **options: Any) -> None:
        host, port = parse_address(options["address"])
        refuse_taken_port(host, port)
        # Others' databases are migrated by hand, after a backup; the one that came with the program is not.
        if not settings.PRODUCTION:
            self.stdout.write("Setting up; the first time this takes a minute.")
            self.stdout.flush()
            call_command("migrate", interactive=False, verbosity=0)
        call_command("collectstatic", interactive=False, verbosity=0)
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


def children(host: str, port: int) -> list[Child]:
    python, manage = sys.executable, str(Path(settings.BASE_DIR) / "manage.py")
    bind = f"[{host}]:{port}" if ":" in host else f"{host}:{port}"
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
    shown = f"[{host}]" if ":" in host else host
    lines = [f"Curvewright is at http://{shown}:{port}/ (end it with Ctrl-C)."]
    log_ins = settings.DATA_DIR / LOG_INS
    if log_ins.exists():
        lines += ["Demo log-ins:", log_ins.read_text().rstrip()]
    elif not Person.objects.exists():
        lines += [
            "Nobody can log in yet. In another window, in this folder:",
            '  .venv/bin/python manage.py add_owner LOG-IN-NAME --full-name "Your Name"',
            "It prints a password; log in with it, and Today leads on from there.",
        ]
    return "\n".join(lines)
