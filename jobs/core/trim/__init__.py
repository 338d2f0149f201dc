"""Trim piece by piece: how it bends, where it spans, what to order, and the cheapest allowed way.

The heights of a half wall are to the underside of its cap, and its studs are cut to them. The cap is a run of trim on
`top`, bought along its outer edge piece by piece.

Kinks from one degree on are mitred: pieces of trim end there, and their lengths are to where the finished faces meet.

A crown, a cap and whatever lies on top of a half wall are bent on edge unless the run says otherwise. Then the limit on
edge counts; when nobody stated it, it is a gap. A piece that a maker curves is held against the maker's limit for
curved pieces, else against the profile's own: what bends so far by hand can be made so.

The cheapest way is priced by the lengths the pieces are ordered in, at the lowest price for a length, before waste,
packs and what walls share. It compares ways and is no price. A template is charged once for each run made to it.
"""
