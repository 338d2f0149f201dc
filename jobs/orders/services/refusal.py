from catalog.core.ground.refusal import Refused

MAX_REQUEST_KEY = 100


def refuse_wrong_key(request_key: str) -> None:
    if not 0 < len(request_key) <= MAX_REQUEST_KEY or not request_key.isprintable():
        raise Refused("A request is named by 1 to 100 characters; ask from a fresh page.")


def clean_text(text: str, what: str, longest: int) -> str:
    """What somebody wrote, without the space around it. Raises Refused for what cannot be kept."""
    text = text.replace("\r\n", "\n").strip()
    if "\0" in text:
        raise Refused(f"{what} holds a control character; type it again.")
    if len(text) > longest:
        raise Refused(f"{what} is {len(text):,} characters long; write at most {longest:,}.")
    return text
