from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class Signature:
    """by: the full name of the person at work. on: the day it is at the firm."""

    by: str
    on: date
