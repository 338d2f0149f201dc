from quoting.life.models.follow_ups import FollowUp
from quoting.life.models.lives import KeptLife
from quoting.life.models.outcomes import OutcomeKind, QuoteOutcome

__all__ = ["FollowUp", "KeptLife", "OutcomeKind", "QuoteOutcome"]
