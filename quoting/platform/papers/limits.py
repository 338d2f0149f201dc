from dataclasses import dataclass

MEGABYTE = 1024 * 1024


@dataclass(frozen=True)
class RenderLimits:
    """What one render may use. Measured: a quotation of twelve walls takes under 3 s and 200 MB."""

    wall_seconds: float = 60.0
    memory_mb: int = 1024
    html_bytes: int = 8 * MEGABYTE
    pdf_bytes: int = 40 * MEGABYTE
    image_bytes: int = 24 * MEGABYTE

    def __post_init__(self) -> None:
        for name in ("wall_seconds", "memory_mb", "html_bytes", "pdf_bytes", "image_bytes"):
            value = getattr(self, name)
            if isinstance(value, bool) or not value > 0 or value == float("inf"):
                raise ValueError(f"{name} is {value!r}; a limit must be a number greater than zero.")
