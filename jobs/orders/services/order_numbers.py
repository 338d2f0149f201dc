import re
from collections.abc import Callable
from contextlib import suppress

from django.db import IntegrityError, transaction

from jobs.orders.models import Order

TRIES_FOR_A_NUMBER = 20


def next_order_number() -> str:
    numbers = Order.objects.filter(number__startswith="O-").values_list("number", flat=True)
    taken = [int(number[2:]) for number in numbers if re.fullmatch(r"O-[0-9]{1,9}", number)]
    return f"O-{max(taken, default=0) + 1:04d}"


def numbered(make: Callable[[str], Order]) -> Order:
    """The order made with the next number; of two who take one at the same moment the second takes the next."""
    for _ in range(TRIES_FOR_A_NUMBER - 1):
        with suppress(IntegrityError), transaction.atomic():
            return make(next_order_number())
    return make(next_order_number())
