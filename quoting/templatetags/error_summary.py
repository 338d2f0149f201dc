"""{% not_saved form rows sentences %} says first what kept the forms of a page from being saved."""

from typing import Any

from django import template
from django.forms import BaseForm

from quoting.platform.formatting import with_day_words
from quoting.platform.pages.error_summary import summary_of

register = template.Library()


@register.inclusion_tag("entries/_not_saved.html")
def not_saved(*parts: Any, lead: str = "") -> dict[str, Any]:
    return {"not_saved": summary_of(parts, lead or "Not saved")}


@register.inclusion_tag("entries/_line.html")
def line(form: BaseForm, label: str, names: str) -> dict[str, Any]:
    """{% line form "Site" "address start_on" %}: fields folded into one line, open where one is wrong or was typed."""
    fields = [form[name] for name in names.split()]
    typed = form.is_bound and any(field.name in form.changed_data for field in fields)
    words = with_day_words(", ".join(str(field.value()) for field in fields if field.value()))
    is_open = typed or any(field.errors for field in fields)
    return {"label": label, "fields": fields, "is_open": is_open, "words": words}
