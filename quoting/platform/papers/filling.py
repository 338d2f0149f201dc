"""How full the sheets of a paper are, and the layout of it that fills them best. Used inside the seal alone."""

import time
from collections.abc import Callable, Iterable, Sequence
from typing import Any

FULL_ENOUGH = 0.6
# White no higher than this belongs to what stands around it, in CSS pixels (14 mm).
WHITE_PX = 14 * 96 / 25.4
# What leaves something on the sheet: letters, drawings and photos.
INKED = ("TextBox", "InlineReplacedBox", "BlockReplacedBox")


def fullness(pages: Sequence[Any]) -> float:
    """Of the emptiest sheet: the share of its height, margins left out, that holds something."""
    return min(_share(page._page_box) for page in pages)


def _share(sheet: Any) -> float:
    used, reached = 0.0, None
    for top, low in sorted(_spans(sheet.children[0])):
        if reached is None or top - reached > WHITE_PX:
            used += low - top
        else:
            used += max(0.0, low - reached)
        reached = low if reached is None else max(reached, low)
    return float(used / sheet.height)


def _spans(box: Any) -> Iterable[tuple[float, float]]:
    for child in box.descendants():
        if type(child).__name__ in INKED and isinstance(child.height, int | float):
            yield child.position_y, child.position_y + child.height


def best_filled(layout: Callable[[str], Any], fits: Iterable[str], seconds: float) -> Any:
    """layout: sets the paper with a style sheet added. fits: the styles to try, the dearest to the eye first.

    Stops at the first layout whose sheets are all full enough; else takes the fullest one it came by in the time.
    """
    best, most, began = None, -1.0, time.monotonic()
    for style in fits or ("",):
        if best is None or time.monotonic() - began < seconds:
            made = layout(style)
            full = fullness(made.pages)
            if full > most:
                best, most = made, full
            if most >= FULL_ENOUGH:
                break
    return best
