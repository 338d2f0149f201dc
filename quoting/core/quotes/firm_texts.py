"""The firm's own words on a quote: standing sentences with the days they hold, and notice packs by place and language.

Nothing here is shipped as law: every sentence and every notice is entered by the firm, on its adviser's word.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Annotated, Any, Literal, get_args

from catalog.core.ground.day_words import day_words
from catalog.core.ground.declared import As, Declared, Items, Refs, Schema, Text, entry_of
from catalog.core.ground.document_reader import Reader
from catalog.core.ground.refusal import EntryError
from jobs.core.measure.findings import Finding

Document = dict[str, Any]
Block = Literal["inclusions", "exclusions", "access", "assumptions", "cautions", "warranty", "terms"]
BLOCKS: tuple[Block, ...] = get_args(Block)
FROM = As(label="In force from", hint="Quotes issued on this day or later carry it.")
TO = As(label="To, the last day", hint="Empty while it holds on.")
MAX_KEY = 60
MAX_PLACE = 100
MAX_NOTICE_LENGTH = 20_000
MAX_NOTICES = 500
_KEY_RE = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_LANGUAGE_RE = re.compile(r"[a-z]{2,3}(-[A-Za-z0-9]{2,8}){0,3}")
KEY_PATTERN, LANGUAGE_PATTERN = f"^{_KEY_RE.pattern}$", f"^{_LANGUAGE_RE.pattern}$"


class TextError(EntryError):
    """A text that cannot be kept; `field` names the entry and the message says what would be right."""

    def __str__(self) -> str:
        return f"{self.field} {self.reason}"


@dataclass(frozen=True)
class QuoteTexts:
    """What the paper says beside the figures; each list is printed under its own heading, empty ones are left out."""

    inclusions: Annotated[tuple[str, ...], Items(Text()), "What is in the price.", As(label="Included")] = ()
    exclusions: Annotated[tuple[str, ...], Items(Text()), "What is not.", As(label="Not included")] = ()
    access: Annotated[
        tuple[str, ...],
        Items(Text()),
        "What is taken for granted of the site and the way to it, beside the firm's standing sentences.",
        As(label="Site and access"),
    ] = ()
    assumptions: Annotated[tuple[str, ...], Items(Text()), "What it rests on."] = ()
    cautions: Annotated[
        tuple[str, ...], Items(Text()), "Cautions to show; they defer to local code and licensed practice."
    ] = ()
    warranty: Annotated[tuple[str, ...], Items(Text()), "The warranty, beside the firm's standing sentences."] = ()
    terms: Annotated[tuple[str, ...], Items(Text()), "The firm's terms, in its own wording."] = ()

    def of(self, block: Block) -> tuple[str, ...]:
        """The sentences of a block, in their order.

        >>> QuoteTexts(terms=("Paid in ten days.",)).of("terms")
        ('Paid in ten days.',)
        """
        sentences: tuple[str, ...] = getattr(self, block)
        return sentences


NO_SENTENCES = QuoteTexts()
HEADINGS: dict[Block, str] = {block: entry_of(QuoteTexts, block).label for block in BLOCKS}
"""What the paper prints above each block; an empty block is left out with its heading."""


@dataclass(frozen=True)
class TextKey(Text):
    """The key of a standing sentence."""

    longest: int = MAX_KEY

    def read(self, reader: Reader, name: str) -> str:
        key = super().read(reader, name)
        if not _KEY_RE.fullmatch(key):
            raise reader.error(name, f'"{key[:40]}" is not the key of a text')
        return key

    def schema(self, refs: Refs) -> Schema:
        return refs.part("text_key")


@dataclass(frozen=True)
class StandardText:
    """One wording, with the days it holds.

    Raises:
        TextError: a key, block or text that is none, or an end before the start.

    >>> StandardText("silica", "cautions", "Sanding makes dust.", date(2026, 1, 1)).holds_on(date(2026, 5, 4))
    True
    """

    key: Annotated[str, Text(MAX_KEY, KEY_PATTERN), "Its name for life; a later wording has the same."]
    block: Annotated[Block, "Where it is printed.", As(label="Where it stands")]
    text: Annotated[str, "The sentence.", As(label="Sentence", rows=3)]
    starts_on: Annotated[date, "First day of issue on which this wording holds.", FROM]
    ends_on: Annotated[date | None, "Last such day; null or nothing while it holds on.", TO] = None

    def __post_init__(self) -> None:
        if len(self.key) > MAX_KEY or not _KEY_RE.fullmatch(self.key):
            message = f'"{self.key[:MAX_KEY]}" is not a key; write small letters, digits, hyphens, as in "heat-kept"'
            raise TextError("key", message)
        if self.block not in BLOCKS:
            raise TextError("block", f'"{self.block}" is not one of {", ".join(BLOCKS)}')
        _need_words("text", self.text)
        _need_order(self.starts_on, self.ends_on)

    def holds_on(self, day: date) -> bool:
        """Whether this wording holds on a day, a later wording of the same key left aside.

        >>> StandardText("a", "terms", "A.", date(2026, 1, 1), date(2026, 1, 31)).holds_on(date(2026, 2, 1))
        False
        """
        return _holds(self.starts_on, self.ends_on, day)


@dataclass(frozen=True)
class NoticePack:
    """One wording, with the days it holds.

    Raises:
        TextError: an entry that is empty or too long, a language that is no tag, or an end before the start.

    >>> NoticePack("Sallow Reach", "en", "2026-1", "Notice", "One.\\n\\nTwo.", date(2026, 1, 1)).paragraphs
    ('One.', 'Two.')
    """

    place: Annotated[
        str, Text(MAX_PLACE), "Where it is asked for, as the firm calls the place.", As(hint="As you call it.")
    ]
    language: Annotated[
        str,
        Text(40, LANGUAGE_PATTERN),
        "Its BCP 47 tag, such as en or fr-CA.",
        As(example="en", hint="Its tag, such as en or fr-CA."),
    ]
    version: Annotated[str, Text(60), "The firm's name for this wording.", As(hint="Your name for this wording.")]
    title: Annotated[str, Text(200), "Its heading on the paper.", As(label="Heading")]
    text: Annotated[
        str,
        Text(MAX_NOTICE_LENGTH),
        "The notice; an empty line parts paragraphs.",
        As(label="Notice", hint="An empty line parts paragraphs.", rows=12),
    ]
    starts_on: Annotated[date, "First day of issue that carries it.", FROM]
    ends_on: Annotated[date | None, "Last such day; null or nothing while there is none.", TO] = None
    source: Annotated[str, "Who gave the wording, and when.", As(label="Who gave the wording, and when")] = ""

    def __post_init__(self) -> None:
        _need_words("place", self.place, MAX_PLACE)
        check_language(self.language)
        _need_words("version", self.version, 60)
        _need_words("title", self.title, 200)
        _need_words("text", self.text, MAX_NOTICE_LENGTH)
        _need_order(self.starts_on, self.ends_on)

    @property
    def paragraphs(self) -> tuple[str, ...]:
        """The notice as paragraphs, line ends within one made spaces."""
        parts = re.split(r"\n\s*\n", self.text.replace("\r\n", "\n"))
        return tuple(" ".join(part.split()) for part in parts if part.strip())


@dataclass(frozen=True)
class NoticeChoice:
    """The notice a job's quote is to carry: of a place, in a language."""

    place: Annotated[str, Text(MAX_PLACE), "As the firm calls it.", As(label="Notice of the place")]
    language: Annotated[
        str,
        Text(40, LANGUAGE_PATTERN),
        "The language it is to be in.",
        As(label="Language of the notice", example="en"),
    ]

    def __post_init__(self) -> None:
        _need_words("place", self.place, MAX_PLACE)
        check_language(self.language)


@dataclass(frozen=True)
class FirmTexts:
    """What the firm says on every quote.

    Raises:
        TextError: a wording or a notice given twice for a day, or one key in two blocks.
    """

    document_name = "texts"

    standard: Annotated[
        tuple[StandardText, ...],
        "Sentences on every quote while they hold, each wording once a key and day.",
    ] = ()
    notices: Annotated[
        tuple[NoticePack, ...],
        Items(Declared(NoticePack), MAX_NOTICES),
        "Every version of every notice, as the firm entered it, once a place, language and day.",
    ] = ()
    notice_required_at: Annotated[
        tuple[str, ...], Items(Text()), "Places where no quote goes out without its notice."
    ] = ()

    def __post_init__(self) -> None:
        _once("standard", ((text.key, text.starts_on) for text in self.standard))
        _once("notices", ((notice.place, notice.language, notice.starts_on) for notice in self.notices))
        blocks: dict[str, Block] = {}
        for entry in self.standard:
            if blocks.setdefault(entry.key, entry.block) != entry.block:
                raise TextError("standard", f'has "{entry.key}" in two blocks; a key stays in one')
        for place in self.notice_required_at:
            _need_words("notice_required_at", place, MAX_PLACE)

    def in_force(self, day: date) -> tuple[StandardText, ...]:
        """The wording of each key that holds on a day: the latest that has begun, unless it has ended.

        >>> old = StandardText("a", "terms", "Old.", date(2026, 1, 1))
        >>> new = StandardText("a", "terms", "New.", date(2026, 6, 1))
        >>> [one.text for one in FirmTexts((old, new)).in_force(date(2026, 6, 1))]
        ['New.']
        """
        latest: dict[str, StandardText] = {}
        for text in self.standard:
            known = latest.get(text.key)
            if text.starts_on <= day and (known is None or known.starts_on < text.starts_on):
                latest[text.key] = text
        return tuple(entry for entry in self.standard if latest.get(entry.key) is entry and entry.holds_on(day))

    def notice_on(self, choice: NoticeChoice, day: date) -> NoticePack | None:
        """The version of a notice in force on a day, None when there is none.

        >>> FirmTexts().notice_on(NoticeChoice("Sallow Reach", "en"), date(2026, 5, 4)) is None
        True
        """
        begun = [
            notice
            for notice in self.notices
            if (notice.place, notice.language.lower()) == (choice.place, choice.language.lower())
            and notice.starts_on <= day
        ]
        latest = max(begun, key=lambda pack: pack.starts_on, default=None)
        return latest if latest is not None and _holds(latest.starts_on, latest.ends_on, day) else None


def texts_of_quote(firm: FirmTexts, own: QuoteTexts, left_out: Iterable[str], day: date) -> QuoteTexts:
    """Bring the firm's standing sentences and a job's own together.

    Args:
        firm: the firm's texts. own: the sentences of this job. left_out: keys that do not go on this job's quote.
        day: the day the quote is issued.

    Returns:
        For each block the standing sentences that hold on the day, then the job's own. A sentence said twice, in
        whichever blocks, is printed once: among the cautions if it is one, else where it comes first.

    Raises:
        Nothing of its own; a key that no text has leaves nothing out.

    Source: own rule.

    >>> firm = FirmTexts((StandardText("dust", "cautions", "Dust.", date(2026, 1, 1)),))
    >>> texts_of_quote(firm, QuoteTexts(cautions=("Dust.", "Noise.")), (), date(2026, 5, 4)).cautions
    ('Dust.', 'Noise.')
    """
    gone = set(left_out)
    texts = [text for text in firm.in_force(day) if text.key not in gone]
    before: set[str] = set()
    words: dict[str, tuple[str, ...]] = {}
    for block in sorted(BLOCKS, key=lambda word: word != "cautions"):
        sentences = (*(text.text for text in texts if text.block == block), *own.of(block))
        words[block] = tuple(text for text in sentences if not _said_before(text, before))
    return QuoteTexts(**words)


def _said_before(text: str, texts: set[str]) -> bool:
    words = " ".join(text.split()).rstrip(". ").casefold()
    known = words in texts
    texts.add(words)
    return known


def notice_of_quote(
    firm: FirmTexts, choice: NoticeChoice | None, day: date
) -> tuple[NoticePack | None, tuple[Finding, ...]]:
    """The notice a quote carries, and what is wrong about it.

    Args:
        firm: the firm's texts. choice: the place and language of the job, None when none is chosen. day: of issue.

    Returns:
        The version in force, and findings: a gap where the firm says the place asks for a notice and none is in
        force in that language, a caution where it does not say so, or where a choice may have been forgotten.

    Source: own rule; what a place asks for is the firm's to enter on its adviser's word.

    >>> firm = FirmTexts(notice_required_at=("Sallow Reach",))
    >>> notice_of_quote(firm, NoticeChoice("Sallow Reach", "en"), date(2026, 5, 4))[1][0].weight
    'gap'
    """
    key = "pricing/notice"
    if choice is None:
        if not firm.notice_required_at:
            return None, ()
        places = ", ".join(firm.notice_required_at)
        message = (
            "No place is chosen for notices, so the quote carries none. The firm requires them for work at: "
            f"{places}. Choose the place if this job is at one of them."
        )
        return None, (Finding(key, "caution", message),)
    pack = firm.notice_on(choice, day)
    if pack is not None:
        return pack, ()
    what = f"No notice for {choice.place} in the language {choice.language} is in force on {day_words(day)}"
    if choice.place in firm.notice_required_at:
        message = f"{what}, and the firm requires one there: enter it with the day it starts, or choose another place."
        return None, (Finding(key, "gap", message),)
    return None, (Finding(key, "caution", f"{what}; the quote carries none."),)


def check_language(tag: str) -> None:
    """Refuse what is no language tag. Raises TextError. Source: the form of a BCP 47 tag (RFC 5646), simplified.

    >>> check_language("fr-CA")
    """
    if not _LANGUAGE_RE.fullmatch(tag):
        raise TextError("language", f'"{tag[:40]}" is not a language tag; write one such as en, fr or fr-CA')


def _need_words(field: str, text: str, longest: int = 2_000) -> None:
    if not text.strip() or len(text) > longest:
        raise TextError(field, f"must be text of 1 to {longest:,} characters")


def _need_order(starts_on: date, ends_on: date | None) -> None:
    if ends_on is not None and ends_on < starts_on:
        raise TextError("ends_on", f"is {day_words(ends_on)}, before it starts on {day_words(starts_on)}")


def _holds(starts_on: date, ends_on: date | None, day: date) -> bool:
    return starts_on <= day and (ends_on is None or day <= ends_on)


def _once(field: str, keys: Iterable[Sequence[object]]) -> None:
    seen: set[tuple[object, ...]] = set()
    for key in keys:
        if tuple(key) in seen:
            raise TextError(field, f"has {' '.join(str(part) for part in key)} twice; give each once")
        seen.add(tuple(key))


NO_TEXTS = FirmTexts()
