"""{% csrf_token %} gives a form its key as well: the same form sent twice does its work once."""

import uuid

from django import template
from django.template.base import Parser, Token
from django.template.context import Context
from django.template.defaulttags import CsrfTokenNode
from django.utils.html import format_html
from django.utils.safestring import SafeString

register = template.Library()


class KeyedTokenNode(CsrfTokenNode):
    def render(self, context: Context) -> SafeString:
        token = super().render(context)
        return token and format_html('{}<input type="hidden" name="form_key" value="{}">', token, uuid.uuid4().hex)


@register.tag
def csrf_token(parser: Parser, token: Token) -> KeyedTokenNode:
    return KeyedTokenNode()
