"""Runs a command with DATABASE_URL naming a throwaway PostgreSQL: python -m tests.on_postgresql COMMAND..."""

import os
import signal
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.servers import CannotBeHad, ends_with_parent, own_postgresql
from tests.service import MIGRATED, Template


def main(command: list[str]) -> int:
    try:
        with own_postgresql() as url:
            print("The suite on PostgreSQL", flush=True)
            os.environ |= {"DATABASE_URL": url, "CURVEWRIGHT_MODE": "embedded"}
            with TemporaryDirectory(prefix="curvewright-template-") as folder:
                # Walking through the migrations takes longer than many tests: once, and copied from there.
                os.environ[MIGRATED] = Template(Path(folder)).name
            return subprocess.run(command, preexec_fn=ends_with_parent(signal.SIGTERM)).returncode
    except CannotBeHad as reason:
        if os.environ.get("CURVEWRIGHT_REQUIRE_ALL"):
            sys.exit(f"PostgreSQL is required here and cannot be had: {reason}")
        print(f"The suite on PostgreSQL is skipped: {reason}", flush=True)
        return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
