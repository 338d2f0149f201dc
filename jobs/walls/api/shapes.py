"""What is sent of walls beside the walls themselves."""

from dataclasses import dataclass
from typing import Annotated

from catalog.core.ground.declared import As, Text
from quoting.platform.api.declared import request_shapes


@dataclass(frozen=True)
class WallCopy:
    """Where a wall is copied to, and what the copy is called."""

    job: Annotated[str, Text(60), "Key of the job; when left out, the wall's own.", As(example="J-0001")] = ""
    name: Annotated[str, Text(200), "Name of the copy; when left out, one that is free there."] = ""


SHAPES = request_shapes(WallCopy)
