"""Drawings made of core values: one picture a module, the same SVG for the page and for the paper.

- Drawings are in mm of paper. One made `PX_A_MM` times narrower than its column in px has no words under 12 px there:
  358 px of a phone, 730 px beside a form. What is lean (`plan_lean`, `face_lean`, `section_lean`,
  `offsets_lean_svg`) is as large as its width lets it be, and leaves out words without room; a page embeds both
  (`templates/drawings/_pair.html`).
- `job_chain`, `day_tape` and `item_strip` are for pages alone, in px, with the classes of `on_screen.css`.
- `standing` is a parallel view from a little above: widths and heights are true, depth is halved and rises. Its hidden
  lines are exact (`solid/hiding.py`) and held against cast rays; the thumbnail paints from back to front instead, which
  takes about 1 ms. A wall is seen from its concave side unless its openings show clearly better from the other.
- Of a wall worked up: `worked_up.py`. Pictures kept with a work-up: `jobs/needs/services/small_pictures.py`.
"""
