"""What a page asks of its reader, measured in the browser."""

from dataclasses import dataclass
from typing import Any

from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

FOLDED_SHARE = 3
"""Folded words count a third."""

MEASURE = """(parts) => {
  const main = document.querySelector('main'), foot = document.querySelector('.foot-action');
  const folded = (el) => {
    for (let d = el.closest('details:not([open])'); d; d = d.parentElement.closest('details:not([open])'))
      if (!d.querySelector(':scope > summary')?.contains(el)) return true;
    return false;
  };
  const seen = (el) => !el.closest('.visually-hidden') && el.checkVisibility({checkVisibilityCSS: true});
  const counted = {open: 0, folded: 0};
  const walk = document.createTreeWalker(main, NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const el = node.parentElement;
    const words = node.data.split(/\\s+/).filter((word) => /[\\p{L}\\p{N}]/u.test(word)).length;
    // What somebody typed in a box is counted as little as in a line.
    if (!words || el.closest('script, style, template, noscript, svg, textarea, option:not(:checked)')) continue;
    // A part is measured by itself.
    if (parts && el.closest(parts) && folded(el)) continue;
    if (folded(el)) counted.folded += words;
    else if (el.closest('option') || seen(el)) counted.open += words;
  }
  const all = (what) => [main, foot].filter(Boolean).flatMap((part) => [...part.querySelectorAll(what)]).filter(
    (el) => !folded(el) && seen(el));
  const box = (el) => el.getBoundingClientRect();
  const clear = ['rgba(0, 0, 0, 0)', getComputedStyle(document.documentElement).backgroundColor];
  const lead = main.querySelector('.lead, h1');
  return {
    words: counted.open, folded: counted.folded,
    px: document.documentElement.scrollHeight,
    sideways: document.documentElement.scrollWidth - document.documentElement.clientWidth,
    // The answers to one question are one field, as they are one stop of the Tab key.
    fields: new Set(all('input:not([type=hidden]), select, textarea').filter((el) => !el.closest('.sentence, .grid'))
      .map((el) => el.type === 'radio' ? el.name : el)).size,
    filled: all('.button, button').filter((el) => box(el).top < innerHeight && !el.closest('.messages')
      && !clear.includes(getComputedStyle(el).backgroundColor)).length,
    answer: lead ? box(lead).bottom : 0,
  };
}"""


PART_WORDS = """([parts, share]) => [...document.querySelectorAll(parts)].map((part) => {
  const walk = document.createTreeWalker(part, NodeFilter.SHOW_TEXT), found = {name: '', words: 0};
  let folded = 0;
  found.name = part.querySelector('summary')?.innerText.split('\\n')[0] ?? '';
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const el = node.parentElement;
    const words = node.data.split(/\\s+/).filter((word) => /[\\p{L}\\p{N}]/u.test(word)).length;
    if (el.closest('tbody, script, style, template, svg, option:not(:checked)')) continue;
    if (el.closest('details') === part || el.closest('summary')) found.words += words;
    else folded += words;
  }
  return {...found, words: found.words + Math.floor(folded / share)};
})"""


@dataclass(frozen=True)
class Measured:
    """words: those folded away count a third. answer: where the sentence that answers the page's question ends, px.

    filled: buttons in the first window that are filled. fields: open ones, without the words of a filter and the cells
    of a grid.
    """

    words: int
    px: int
    sideways: int
    fields: int
    filled: int
    answer: float


def measured(page: Page, parts: str = "") -> Measured:
    """parts: those that open in place and are read one at a time; `part_words` measures each."""
    document: dict[str, Any] = page.evaluate(MEASURE, parts)
    words = document["words"] + document.pop("folded") // FOLDED_SHARE
    return Measured(**{**document, "words": words})


def part_words(page: Page, parts: str) -> dict[str, int]:
    """Of each part once it is open; the rows of its tables are figures of the wall, and count nothing."""
    return {entry["name"]: entry["words"] for entry in page.evaluate(PART_WORDS, [parts, FOLDED_SHARE])}


def violations(page: Page) -> list[str]:
    result = Axe().run(page).response["violations"]
    return [f"{entry['id']}: {entry['nodes'][0]['html'][:120]}" for entry in result]
