"""A drawing of the wall's page, wide and once more for a phone; the page shows one of them."""

from dataclasses import dataclass

from catalog.drawings.lettering import PX_A_MM
from catalog.drawings.svg import Picture

# The column of drawings beside the form is 756 px on a desk of 1280.
COLUMN_MM = 756 / PX_A_MM


@dataclass(frozen=True)
class Redrawn:
    wide: Picture
    narrow: Picture
