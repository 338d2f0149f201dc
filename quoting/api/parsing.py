import json
from collections.abc import Mapping
from typing import IO, Any

from django.conf import settings
from rest_framework.exceptions import ParseError
from rest_framework.parsers import JSONParser


class StrictJSONParser(JSONParser):
    """Refuses NaN and Infinity, which JSON does not have, keys given twice, and bottomless nesting."""

    def parse(
        self, stream: IO[Any], media_type: str | None = None, parser_context: Mapping[str, Any] | None = None
    ) -> Any:
        encoding = (parser_context or {}).get("encoding", settings.DEFAULT_CHARSET)
        try:
            return json.loads(
                stream.read().decode(encoding),
                parse_constant=_refuse_constant,
                object_pairs_hook=_refuse_repeated_keys,
            )
        except RecursionError:
            raise ParseError("The JSON is nested too deeply.") from None
        except (ValueError, LookupError) as error:
            raise ParseError(f"The body is not valid JSON: {error}") from error


def _refuse_constant(name: str) -> float:
    raise ValueError(f"{name} is not a JSON number")


def _refuse_repeated_keys(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for key, value in pairs:
        if key in found:
            raise ValueError(f"the key {key[:60]!r} is given twice in one object")
        found[key] = value
    return found
