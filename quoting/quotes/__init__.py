"""Quotes: the editor, issuing, revisions, snapshots, and the quotation as a paper.

The database freezes issued quotes: triggers on both engines refuse changes of frozen columns and deletion
(`quoting.platform.immutable_tables`). The quotation is rendered from the frozen snapshot, never from live rows.

An answer is one conditional UPDATE from "issued" while the quote is valid; its record and its certificate's errand
commit with it, and database constraints stand behind it.

The quotation gives each wall one sheet: plan and faces are drawn to fill it, both faces at one scale.

The cancellation rule is frozen when a quote is issued, with the paper's words. Its last day is counted when the quote
is accepted, with the holidays entered by then. Public holidays are stored apart from the firm's own closures.
"""
