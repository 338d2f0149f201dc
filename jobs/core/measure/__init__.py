"""From the tape to the curve: surveys, readings, radius bands, the five lines, bend checks, and how each dimension is
known.

A wall is worked up at the radius that was entered, never at the middle of its band: figures stay what somebody typed,
and the band says how far to trust them. The tape's accuracy counts for a rise, a radius or an arc, not for a chord.

Offsets are stored beside the pieces fitted to them, with the place where those pieces start. Deviations are measured
from the pieces as they are now, so a piece changed by hand shows at once. A document may leave the pieces out; then
they are fitted.

A bend check compares the radius of the line the layer is bent against (the framing face or the layer below). On a
concave side it takes the tighter of the layer's two surfaces.

A piece to a template has a taped length, a chord and the whole angle it turns. The lengths of its parallels follow from
these (Steiner: length less offset x turning). Nothing else about it is computed, and a named person must state it.
"""
