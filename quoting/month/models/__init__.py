from quoting.month.models.account_codes import Account, AccountCode
from quoting.month.models.closed_months import CauseSentence, ClosedMonth
from quoting.month.models.overhead import OverheadActual

__all__ = ["Account", "AccountCode", "CauseSentence", "ClosedMonth", "OverheadActual"]
