"""The tables and blocks of the site sheet, as finished text: the paper and the page of a wall set the same."""

from dataclasses import dataclass

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

    by_hand: columns to be filled in on site, left out where nobody can write.
    """

    heading: str
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    words: tuple[int, ...] = (0,)
    notes: tuple[str, ...] = ()
    narrow: bool = False
    by_hand: tuple[int, ...] = ()

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
        return SiteTable(
            self.heading,
            tuple(self.columns[place] for place in columns),
            tuple(tuple(row[place] for place in columns) for row in self.rows),
            tuple(number for number, place in enumerate(columns) if place in self.words),
            self.notes,
            self.narrow,
        )

    def _cells(self, texts: tuple[str, ...]) -> tuple[SiteCell, ...]:
        return tuple(SiteCell(text, place not in self.words, place in self.by_hand) for place, text in enumerate(texts))


@dataclass(frozen=True)
class SiteSection(FinishedText):
    heading: str
    says: tuple[str, ...] = ()
    tables: tuple[SiteTable, ...] = ()
    drawings: tuple[Drawing, ...] = ()


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
