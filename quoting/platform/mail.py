"""What every mail that somebody writes has: addresses and a message within bounds."""

from django.core.exceptions import ValidationError
from django.core.validators import validate_email

from catalog.core.ground.refusal import Refused

MAX_ADDRESSES = 5
MAX_MESSAGE = 5000


def addresses_of(text: str) -> list[str]:
    addresses = list(dict.fromkeys(part for part in text.replace(";", ",").replace(",", " ").split() if part))
    if not addresses:
        raise Refused("The address to send to is missing; write one such as name@firm.example.")
    if len(addresses) > MAX_ADDRESSES or len(", ".join(addresses)) > 254:
        raise Refused(f"There are {len(addresses)} addresses; send to at most {MAX_ADDRESSES} short ones at once.")
    for address in addresses:
        try:
            validate_email(address)
        except ValidationError as error:
            raise Refused(f"{address[:100]!r} is not a mail address; write one such as name@firm.example.") from error
    return addresses


def message_text(text: str) -> str:
    message = text.replace("\r\n", "\n").strip()
    if len(message) > MAX_MESSAGE or "\0" in message:
        raise Refused(f"The message is {len(message):,} characters long; write at most {MAX_MESSAGE:,}.")
    return message
