"""Runs a command as if the machine stood at 10:00 UTC of another day: python -m tests.on_day DAY COMMAND...

libfaketime cannot: left to move the monotonic clock it makes every wait with a time limit last for years, and kept
from it, it makes time.sleep fail. Where no C compiler is found, the service alone is told the day.
"""

import os
import shutil
import subprocess
import sys
import tempfile
from datetime import UTC, date, datetime, time
from pathlib import Path

from quoting.platform.clock import SystemClock

AHEAD = "WALL_CLOCK_AHEAD_S"
SOURCE = Path(__file__).with_suffix(".c")


def shifted(day: date, folder: str) -> dict[str, str]:
    compiler = shutil.which("cc")
    if compiler is None:
        print("No C compiler is found, so the machine's own clock stays as it is.", flush=True)
        return {}
    library = Path(folder, "on_day.so")
    subprocess.run([compiler, "-shared", "-fPIC", "-o", library, SOURCE, "-ldl"], check=True)
    Path(folder).chmod(0o755)  # PostgreSQL runs as another user
    ahead = int((datetime.combine(day, time(10), UTC) - SystemClock().now()).total_seconds())
    ahead += int(os.environ.get(AHEAD, "0"))  # the machine may stand on another day already
    return {"LD_PRELOAD": str(library), AHEAD: str(ahead)}


def main(day: str, command: list[str]) -> int:
    with tempfile.TemporaryDirectory(prefix="cw-day-") as folder:
        moved = shifted(date.fromisoformat(day), folder)
        print(f"As if it were {day}", flush=True)
        return subprocess.run(command, env=os.environ | moved | {"CURVEWRIGHT_TODAY": day}).returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], sys.argv[2:]))
