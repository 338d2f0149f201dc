"""Change notes after acceptance: drafts, issuing, signatures, substitutions, the contract sum.

Unsigned notes are exposure, never contract, and a note that may take off never hides a note that may add. Drafts are
rows of their own: a note is frozen from its first moment, by the same triggers as a quote.

A client signs a change by the link of the accepted quote. The link shows the notes of that revision and no other.

A substitution is the job as agreed with one material swapped, at the prices of the day, whatever else was changed of
the walls since. Its note stores that job, so that once signed it is the basis differences count from, and changing the
walls to match counts nothing twice.

Differences of the walls count from the last note that was worked out from them. Of the notes typed by hand since, a
signed substitution that names a material the walls now have is taken off by lines of its own; the draft asks about any
other.
"""
