"""{% not_saved form rows sentences %} says first what kept the forms of a page from being saved."""

from typing import Any

from django import template

from quoting.platform.pages.error_summary import summary_of

register = template.Library()


@register.inclusion_tag("entries/_not_saved.html")
def not_saved(*parts: Any, lead: str = "") -> dict[str, Any]:
    return {"not_saved": summary_of(parts, lead or "Not saved")}
