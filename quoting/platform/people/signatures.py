from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class Signature:
    """by: the full name of the person at work. on: the day it is at the firm.

    brings_file: what is signed came with a job file: each statement keeps the author and day the file gives it, and
    this says who brought it in.
    """

    by: str
    on: date
    brings_file: bool = False
