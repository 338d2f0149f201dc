"""Whose name stands under a decision: that of whoever takes it, on the day it is taken."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from jobs.core.measure.brought_in import BroughtIn
from jobs.core.measure.findings import Override
from jobs.core.measure.wall_spec import WallSpec
from quoting.platform.models.columns import quantized_or_none
from quoting.platform.people.signatures import Signature


def signed(
    decisions: Iterable[Override], stored: Iterable[Override], signature: Signature | None
) -> tuple[Override, ...]:
    """The decisions as they may be kept: one that stands already as it was signed, any other signed anew.

    signature: None keeps the names that are given, for what comes in by nobody in particular.
    """
    decisions = tuple(decisions)
    if signature is None or signature.brings_file:
        came = BroughtIn(signature.by, signature.on) if signature else None
        return with_what_came(decisions, stored, came)
    standing = {_matter(override): override for override in stored}
    anew = {"by": signature.by, "on": signature.on.isoformat()}
    return tuple(standing.get(_matter(decision)) or replace(decision, **anew) for decision in decisions)


def with_what_came(
    decisions: Iterable[Override], stored: Iterable[Override], came: BroughtIn | None = None
) -> tuple[Override, ...]:
    """The decisions as given, one that stands already with how it came here. came: how any other comes now."""
    standing = {(_matter(override), override.by, override.on): override for override in stored}

    def how(override: Override) -> BroughtIn | None:
        known = standing.get((_matter(override), override.by, override.on))
        return known.brought_in if known else came

    return tuple(replace(decision, brought_in=how(decision)) for decision in decisions)


def signed_wall(spec: WallSpec, stored: Iterable[Override], signature: Signature | None) -> WallSpec:
    return replace(spec, overrides=signed(spec.overrides, stored, signature))


def _matter(decision: Override) -> tuple[Any, ...]:
    # The value as its column keeps it, so that what was read out and sent back is the same decision.
    return decision.key, decision.reason, quantized_or_none(decision.value)
