"""{{ message|undo_address }} is where a message leads back, empty where it does not."""

from django import template
from django.contrib.messages.storage.base import Message

register = template.Library()


@register.filter
def undo_address(message: Message) -> str:
    text = message.extra_tags or ""
    return text.removeprefix("undo:") if text.startswith("undo:") else ""
