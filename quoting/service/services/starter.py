"""What a new firm may start from: the starter list of materials and the usual sentences of a quote."""

from dataclasses import replace

from django.db import transaction

from catalog.core.ground.declared import read
from catalog.core.ground.document_reader import Reader
from catalog.services.catalog_file import read_book
from catalog.services.starter_catalog import start_catalog
from quoting.core.quotes.firm_texts import FirmTexts
from quoting.service.demo.demo_jobs import read_fixture
from quoting.texts.models import NoticePack, StandardText
from quoting.texts.services.firm_texts import store_firm_texts

# What the firm promises and what the law asks for are its own to word.
BLOCKS_BROUGHT = ("access", "assumptions", "cautions")


@transaction.atomic
def start_from_starter() -> int:
    """How many materials were added. Texts come only where there are none yet."""
    added = start_catalog(read_book(read_fixture("catalog/starter.json")))
    if not StandardText.objects.exists() and not NoticePack.objects.exists():
        texts = read(FirmTexts, Reader(read_fixture("texts/starter.json")))
        usual = tuple(text for text in texts.standard if text.block in BLOCKS_BROUGHT)
        store_firm_texts(replace(texts, standard=usual, notices=(), notice_required_at=()))
    return added
