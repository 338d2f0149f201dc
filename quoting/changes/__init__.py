"""Change notes after acceptance: drafts, issuing, signatures, substitutions, the contract sum.

Unsigned notes are exposure, never contract, and a note that may take off never hides a note that may add. Drafts are
rows of their own: a note is frozen from its first moment, by the same triggers as a quote.

A client signs a change by the link of the accepted quote. The link shows the notes of that revision and no other.

A substitution is the job as agreed with one material swapped, at the prices of the day, whatever else was changed of
the walls since. Its note stores that job, so that once signed it is the basis differences count from, and changing the
walls to match counts nothing twice.

A change of the walls stands on the walls that changed: what packs shared with others and costs of the whole job come
to goes to those, and a wall that is as it was is never listed. A day moves only when somebody enters it; what the hours
come to is proposed, and nothing under the firm's standard `change_days_from`.

Each line has its cost beside its price, for the margin after changes. A cost nobody said is assumed at the share of the
accepted quote and shown as assumed. No client, lead or paper sees any.

What may take a material's place is of its use (positions or shape on the profile card) and bends there; a limit or a
use that nobody stated is no fit. Materials entered as one sum do not follow the walls, so a change of the walls moves
that sum by the difference of the two takeoffs. What the office must know of a draft is a caution, never in its text.

Differences of the walls count from the last note that was worked out from them. Of the notes typed by hand since, a
signed substitution that names a material the walls now have is taken off by lines of its own; the draft asks about any
other.
"""
