"""What a paper says, as finished text: services fill these, the templates only set them in type."""

from dataclasses import dataclass
from itertools import product
from typing import ClassVar

from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.parts import (
    DateLine,
    FinishedText,
    InstalmentLine,
    NoticeText,
    OptionRow,
    Party,
    PriceLine,
    QuoteWall,
    SheetError,
    SheetSize,
    Terms,
    TitleField,
    TrimRow,
)

PART = """{part} h2 {{ margin-top: {gap}mm; }} {part} .conditions section {{ margin-bottom: {gap}mm; }}
{part} tbody th, {part} tbody td {{ padding-top: {row}mm; padding-bottom: {row}mm; }}
{part} ul.marks li {{ margin-bottom: {row}mm; }} {part} .signatures .party .line {{ margin-top: {sign}mm; }}
{part} {{ line-height: {line}; font-size: {size}pt; }} {part} table {{ font-size: {size}pt; }}"""
# As it is, closer, and three times wider: space above a heading and in a row in mm, of a line, size of
# letters, space to sign in.
LAYOUTS = ((), (4.5, 0.6, 1.25, 8.6, 9), (9, 1.9, 1.55, 9.4, 10), (11, 2.3, 1.66, 9.7, 12), (13, 2.9, 1.78, 10, 13))


def _style(trim_is_hidden: str, offered: int, agreed: int) -> str:
    parts = ((".offered", LAYOUTS[offered]), (".agreed", LAYOUTS[agreed]))
    styles = [
        PART.format(part=part, **dict(zip(("gap", "row", "line", "size", "sign"), layout, strict=True)))
        for part, layout in parts
        if layout
    ]
    return "\n".join((f"{trim_is_hidden} .trim-part {{ display: none; }}", *styles))


# The trim stands with what is agreed or with what is offered; the fewer changes, the sooner a layout is tried.
FITS = tuple(
    _style(*change)
    for change in sorted(
        product((".offered", ".agreed"), range(len(LAYOUTS)), range(len(LAYOUTS))),
        key=lambda change: ((change[1] > 0) + (change[2] > 0), change[1] + change[2], change[0] == ".agreed"),
    )
)


@dataclass(frozen=True)
class QuotePaper(FinishedText):
    template: ClassVar[str] = "papers/quote.html"
    fits: ClassVar[tuple[str, ...]] = FITS

    number: str
    revision: str
    job_title: str
    issued_on: str
    valid_until: str
    prepared_by: str
    firm: Party
    client: Party
    walls: tuple[QuoteWall, ...]
    price_lines: tuple[PriceLine, ...]
    total: str
    acceptance: tuple[str, ...]
    net_price: str = ""
    site_lines: tuple[str, ...] = ()
    # The walls standing, and from when to when the work is on site.
    cover: tuple[Drawing, ...] = ()
    on_site: str = ""
    introduction: tuple[str, ...] = ()
    trim: tuple[TrimRow, ...] = ()
    tax_lines: tuple[PriceLine, ...] = ()
    price_notes: tuple[str, ...] = ()
    instalments: tuple[InstalmentLine, ...] = ()
    dates: tuple[DateLine, ...] = ()
    inclusions: tuple[str, ...] = ()
    exclusions: tuple[str, ...] = ()
    assumptions: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    measured_by: str = ""
    sheet_size: SheetSize = "letter"
    language: str = "en"
    access: tuple[str, ...] = ()
    warranty: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    options: tuple[OptionRow, ...] = ()
    allowances: tuple[str, ...] = ()
    notice: NoticeText | None = None
    # How the acceptance can be taken back; empty where no window is stated.
    taking_back: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        super().__post_init__()
        for name in ("walls", "price_lines", "acceptance"):
            if not getattr(self, name):
                raise SheetError(f"{name} is empty; a quotation has at least one entry there.")
        if self.tax_lines and not self.net_price.strip():
            raise SheetError("net_price is empty; it is printed above the tax.")

    @property
    def title(self) -> str:
        return f"Quotation {self.number}, revision {self.revision}: {self.job_title}"

    @property
    def signatories(self) -> tuple[str, str]:
        return self.client.name, self.firm.name

    @property
    def names_client(self) -> bool:
        """Whether the title of the job says already whose it is."""
        return self.client.name.casefold() in self.job_title.casefold()

    @property
    def terms(self) -> tuple[Terms, ...]:
        included = (Terms("Included", self.inclusions), Terms("Not included", self.exclusions))
        return (*(part for part in included if part.items), *self.conditions_of_work)

    @property
    def conditions_of_work(self) -> tuple[Terms, ...]:
        """What the price rests on."""
        parts = (
            Terms("Site and access", self.access),
            Terms("Assumptions", self.assumptions),
            Terms("Cautions", self.cautions, is_caution=True),
            Terms("Warranty", self.warranty),
            Terms("Terms", self.conditions),
        )
        return tuple(part for part in parts if part.items)

    @property
    def title_block(self) -> tuple[TitleField, ...]:
        fields = (
            TitleField("Job", self.job_title),
            TitleField("Quotation", self.number),
            TitleField("Revision", self.revision),
            TitleField("Date", self.issued_on),
            TitleField("Measured by", self.measured_by),
        )
        return tuple(field for field in fields if field.value)
