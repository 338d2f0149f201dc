"""{{ message|undo_address }} is where a message leads back, empty where it does not."""

from django import template
from django.contrib.messages.storage.base import Message

register = template.Library()


@register.filter
def undo_address(message: Message) -> str:
    said = message.extra_tags or ""
    return said.removeprefix("undo:") if said.startswith("undo:") else ""
