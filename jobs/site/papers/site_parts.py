"""The tables and blocks of the site sheet, as finished text: the paper and the page of a wall set the same."""

from dataclasses import dataclass, replace

from quoting.platform.papers.drawings import Drawing
from quoting.platform.papers.parts import FinishedText, Measure, SheetError
from quoting.platform.papers.photos import PaperPhoto


@dataclass(frozen=True)
class SiteCell:
    text: str
    is_figure: bool
    by_hand: bool = False


@dataclass(frozen=True)
class SiteTable(FinishedText):
    """words: the columns that hold words, from 0; the others hold figures. narrow: may stand beside another.

    by_hand: columns to be filled in on site, left out where nobody can write. front: on which of the two front sheets
    it stands, 0 for one behind them. drawing: which of the section's it belongs under.
    """

    heading: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    words: tuple[int, ...] = (0,)
    notes: tuple[str, ...] = ()
    narrow: bool = False
    by_hand: tuple[int, ...] = ()
    front: int = 0
    drawing: int | None = None

    def __post_init__(self) -> None:
        super().__post_init__()
        for row in self.rows:
            if len(row) != len(self.columns):
                raise SheetError(
                    f"A row of the table {self.heading!r} has {len(row)} cells; it must have {len(self.columns)}."
                )

    @property
    def heads(self) -> tuple[SiteCell, ...]:
        return self._cells(self.columns)

    @property
    def lines(self) -> tuple[tuple[SiteCell, ...], ...]:
        return tuple(self._cells(row) for row in self.rows)

    @property
    def on_screen(self) -> "SiteTable":
        """Without the columns that are filled in by hand."""
        columns = [place for place in range(len(self.columns)) if place not in self.by_hand]
        return replace(
            self,
            columns=tuple(self.columns[place] for place in columns),
            rows=tuple(tuple(row[place] for place in columns) for row in self.rows),
            words=tuple(number for number, place in enumerate(columns) if place in self.words),
            by_hand=(),
        )

    def _cells(self, texts: tuple[str, ...]) -> tuple[SiteCell, ...]:
        return tuple(SiteCell(text, place not in self.words, place in self.by_hand) for place, text in enumerate(texts))


@dataclass(frozen=True)
class SiteSection(FinishedText):
    heading: str
    says: tuple[str, ...] = ()
    tables: tuple[SiteTable, ...] = ()
    drawings: tuple[Drawing, ...] = ()

    @property
    def behind(self) -> tuple[tuple[Drawing | None, SiteTable], ...]:
        """The tables that stand on neither front sheet, each with the drawing it belongs under."""
        return tuple(
            (None if table.drawing is None else self.drawings[table.drawing], table)
            for table in self.tables
            if not table.front
        )

    @property
    def loose(self) -> tuple[Drawing, ...]:
        """Drawings that belong to no table."""
        used = {table.drawing for table in self.tables}
        return tuple(drawing for place, drawing in enumerate(self.drawings) if place not in used)


@dataclass(frozen=True)
class SiteWall(FinishedText):
    """missing: what is not known yet, named; nothing is drawn or listed in its place."""

    key: str
    name: str
    figures: tuple[Measure, ...]
    sections: tuple[SiteSection, ...] = ()
    missing: tuple[str, ...] = ()
    warnings: tuple[str, ...] = ()
    photos: tuple[PaperPhoto, ...] = ()

    @property
    def placing(self) -> tuple[SiteTable, ...]:
        """The first front sheet: where it stands."""
        return self._front(1)

    @property
    def building(self) -> tuple[SiteTable, ...]:
        """The second: studs, sheets and trim."""
        return self._front(2)

    @property
    def sheets_behind(self) -> "tuple[SiteSection, ...]":
        """Sections with something the front sheets do not show."""
        return tuple(section for section in self.sections if section.behind or (section.loose and section.says))

    @property
    def notes(self) -> tuple[str, ...]:
        """What is said of sections that stand on the front sheets alone."""
        alone = (section for section in self.sections[1:] if section not in self.sheets_behind)
        return tuple(sentence for section in alone for sentence in section.says)

    def _front(self, sheet: int) -> tuple[SiteTable, ...]:
        tables = (table for section in self.sections for table in section.tables if table.front == sheet)
        return tuple(sorted(tables, key=lambda table: not table.narrow)) if sheet == 2 else tuple(tables)
