from quoting.life.models.lives import KeptLife
from quoting.life.models.outcomes import OutcomeKind, QuoteOutcome

__all__ = ["KeptLife", "OutcomeKind", "QuoteOutcome"]
