"""A picture somebody sends, made into one we made: only its pixels are kept, turned upright, at most so large."""

import warnings
from dataclasses import dataclass
from io import BytesIO
from typing import Literal

from PIL import Image, ImageOps

Kind = Literal["JPEG", "PNG"]
MAX_BYTES = 10 * 1024 * 1024
MAX_PIXELS = 40_000_000
MAX_SIDE_PX = 12_000
# Enough for a sheet of paper at 200 dots to the inch; a phone takes far more.
KEPT_SIDE_PX = 1_600
JPEG_QUALITY = 85
FIRST_BYTES: dict[bytes, Kind] = {b"\xff\xd8\xff": "JPEG", b"\x89PNG\r\n\x1a\n": "PNG"}
SUFFIX: dict[Kind, str] = {"JPEG": ".jpg", "PNG": ".png"}


class PictureRefused(ValueError):
    """Why a file is no picture that can be kept, as a sentence."""


@dataclass(frozen=True)
class Picture:
    data: bytes
    suffix: str
    width_px: int
    height_px: int


def clean_picture(data: bytes) -> Picture:
    """Nothing of the file itself is kept: no place, no date, no camera, no comment, nothing behind the picture."""
    if not data:
        raise PictureRefused("The file is empty; choose a photo or a sketch.")
    if len(data) > MAX_BYTES:
        raise PictureRefused(
            f"The file is {len(data) / 1_048_576:.1f} MB; at most {MAX_BYTES // 1_048_576} MB can be taken. Send it "
            "smaller."
        )
    kind = next((kind for first, kind in FIRST_BYTES.items() if data.startswith(first)), None)
    if kind is None:
        raise PictureRefused("The file is neither a JPEG nor a PNG, whatever it is called; send it as one of them.")
    try:
        with warnings.catch_warnings():
            # What Pillow only warns of is refused; of the size the head is asked, below.
            warnings.simplefilter("error")
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            upright = _upright(data, kind)
    except PictureRefused:
        raise
    except Image.DecompressionBombError as error:
        raise PictureRefused(f"The {kind} is too large: at most {MAX_PIXELS // 1_000_000} million pixels.") from error
    except Exception as error:
        # A broken file may fail in any way the decoder knows.
        raise PictureRefused(f"The {kind} cannot be read ({type(error).__name__}); it may be cut off.") from error
    out = BytesIO()
    if kind == "JPEG":
        upright.save(out, "JPEG", quality=JPEG_QUALITY, optimize=True)
    else:
        upright.save(out, "PNG", optimize=True)
    return Picture(out.getvalue(), SUFFIX[kind], upright.width, upright.height)


def _upright(data: bytes, kind: Kind) -> Image.Image:
    with Image.open(BytesIO(data), formats=[kind]) as opened:
        # The size stands in the head of the file, before anything is unpacked.
        width, height = opened.size
        if width * height > MAX_PIXELS or max(width, height) > MAX_SIDE_PX:
            raise PictureRefused(
                f"The picture is {width} by {height} pixels; at most {MAX_PIXELS // 1_000_000} million, and "
                f"{MAX_SIDE_PX} along a side, can be taken."
            )
        opened.draft("RGB", (KEPT_SIDE_PX, KEPT_SIDE_PX))
        turned = ImageOps.exif_transpose(opened)
        turned.thumbnail((KEPT_SIDE_PX, KEPT_SIDE_PX))
        shown = turned.convert("RGBA") if turned.mode in ("RGBA", "LA", "PA", "P") else turned.convert("RGB")
        # On a sheet of its own, so that nothing the file says beside its pixels comes along.
        sheet = Image.new("RGB", shown.size, "white")
        sheet.paste(shown, mask=shown.getchannel("A") if shown.mode == "RGBA" else None)
        return sheet
