"""Bills of suppliers and shops: entered, matched to what was ordered, credited and voided.

A bill is a draft (a photo of a slip), entered, or voided. Once entered its lines never change: a wrong one is voided
and entered anew. In a month that is closed it cannot be touched; what voids it then is a bill that takes every line
back, in the first open month. `again` counts how often a number was voided before, so that it may come once more.

Lines are kept as they count: those of a credit are under zero. Freight of a bill is kept shared out over its jobs, as a
line of each. A line that names what came bad or what went back lowers what is billed of its order line as well; any
other credit lowers its price alone.
"""
