"""From the takeoff and the plan to needs with dates, releases, order lines, receipts and what is left to order.

Order-by is the last day the firm works from which an order still arrives in time, counted forward over the closed days
of the firm and of the supplier; counting back alone can come late.

An order line states everything in a document, and a SHA-256 over that document is its mark. A release holds for that
mark and no other, and so does a line of a draft. Whatever a maker is told changes the mark; a day that moves does not,
for the need date stands on the line. What is made again for what came damaged keeps the statement it was ordered by.

Orders are bundled to the fewest first, then to the cheapest. Covering stretches of days by their ends is optimal. Which
item goes on which of those orders is a whole-number programme, since freight that is waived from a sum on rules a
dynamic programme out. The result is tested against trying all ways. An order is placed on the first order-by day of its
items.

The chance that a piece fits takes the radius to be likeliest at the best of its band, falling off evenly to its ends;
without an upper end there is no chance to give. It is advice: a person decides what is ordered when.
"""
