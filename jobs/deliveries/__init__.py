"""What becomes of an order: confirmations, promises, deliveries, claims, replacements, returns, and the lead-time
record.

A delivery names its key and how many deliveries its sender knew of. The key is made with the form: sent again it is the
same delivery, with other figures it is refused. Two phones have two keys, so under the lock of the order a sender who
has not seen the other's delivery is shown it once; what they send after that is another delivery. `order_events` is the
ground of every such step: it holds the order, its lines by place, and days that have come.

A placed line says for good what was asked. A confirmation that differs is settled by name or replaced by a later one.
What goes otherwise than ordered (`jobs.core.ordering.deviations`) is read off the rows each time: confirmed dearer,
later, to another radius or as other pieces while the line is open; promised after the day of need; a wall that moved
further than the pieces flex; short after damage. A fact ends with its cause, once its item is released anew as it
stands, or once somebody accepts it (`SettledDeviation`); asked again, the supplier has two working days. Late remedies
hold for goods on order as well (`ways.py`).

What came damaged or wrong is not waited for any more: it is to be ordered again at once, by its own order-by day,
unless it is kept as it is. Corrected receipts keep their history, and a form sent again is compared with what was first
checked in.

A claim has a letter, a paper filled from the receipt when it is asked for; making it claims nothing. Sent by mail it is
the claim of that day once the mail server has it, under the name of whoever sent it; a mail that stays on this machine
claims nothing. What was corrected after the letter was written is not sent.

A line that states pieces is checked in piece by piece: each has its number on the line, counted as its statement lists
them, and how it came last is how it stands. Counts follow from the pieces. A line of which something was checked in by
count before goes on by count. A count alone is taken where all that was to come is good.
"""
