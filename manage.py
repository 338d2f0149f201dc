#!/usr/bin/env python
import os
import sys

from django.core.management import execute_from_command_line

READER_GONE = 141
"""What a shell gives for a command whose reader closed early: 128 and the number of SIGPIPE."""

if __name__ == "__main__":
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "quoting.settings")
    try:
        execute_from_command_line(sys.argv)
        sys.stdout.flush()
    except BrokenPipeError:
        # What is left unwritten would fail once more as Python ends.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        sys.exit(READER_GONE)
