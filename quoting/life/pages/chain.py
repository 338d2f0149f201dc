"""A job's life as the chain of dimensions that pages draw."""

from datetime import date

from django.utils.safestring import SafeString, mark_safe

from jobs.drawings.job_chain import Station, job_chain_short_svg, job_chain_svg
from quoting.core.life.stations import LABELS
from quoting.life.services.reading import ReadLife
from quoting.platform.screen_days import day_words, with_day_words


def chain_of(read: ReadLife) -> tuple[Station, ...]:
    life, passed = read.life, read.life.passed
    stations = [
        Station(
            LABELS[entry.station],
            day_words(entry.on) if entry.on else "",
            "passed" if entry.on else "lacks",
            entry.lack,
        )
        for entry in passed[:-1]
    ]
    here = passed[-1]
    state, note = ("stopped", _why(read)) if life.end else ("current", _note(read, here.on))
    stations.append(Station(LABELS[here.station], day_words(here.on) if here.on else "", state, note))
    for station, on in life.ahead:
        by = "by " if station in ("signed", "ordered") else ""
        stations.append(Station(LABELS[station], f"{by}{day_words(on)}" if on else "", "ahead"))
    return tuple(stations)


def _why(read: ReadLife) -> str:
    end = read.life.end
    assert end is not None, "only a chain that ended is asked"
    return ": ".join(text for text in (f"{end.label} {day_words(end.on)}", with_day_words(end.why).rstrip(".")) if text)


def _note(read: ReadLife, since: date | None) -> str:
    """How long the quotation lies with the client."""
    if read.life.station != "sent" or since is None:
        return ""
    days = (read.today - since).days
    return "sent today" if not days else f"{days} day{'' if days == 1 else 's'} with the client"


def drawn(read: ReadLife) -> tuple[SafeString, SafeString]:
    """For a desk, and for a phone."""
    stations = chain_of(read)
    return mark_safe(job_chain_svg(stations)), mark_safe(job_chain_svg(stations, "phone"))


def drawn_short(read: ReadLife) -> SafeString:
    return mark_safe(job_chain_short_svg(chain_of(read)))
