"""Cutting plans for sticks and sheets, with the one door to the solver.

The cores need one package, the solver (`highspy`, and numpy with it), for plans near a proven optimum. Only
`integer_program` names it, and imports it when a programme is first made (likewise numpy, when patterns are priced);
the cores load without either. Bounds of stick plans are Farley's, in whole numbers and fractions, never the solver's
word; a search through every plan that comes to its end proves one best beside its bound. Bounds of board plans are
the solver's less a millionth, for sheets ripped into strips from end to end.

Track is bought by its length, as if spliced from every off-cut, until a stick plan is chosen or track lies in the yard;
from then on it is cut run by run: whole sticks, and a rest with the laps of its splices. Bead, backing and track round
arches are cut by the piece from the first; only a piece longer than any stick is spliced, and a casing never.
"""
