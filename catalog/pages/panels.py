"""What other rooms show on the catalog's pages: each adds its own as the service starts (`quoting/hooks.py`)."""

from collections.abc import Callable
from typing import Any

panels: dict[str, Callable[..., Any]] = {}
"""`planned`: planned days of a material; `score`, `scores`: how a supplier, and each, kept its days."""
