"""Walls, cutting, trim, takeoff, days and orders as plain Python; below are the words of the trade, with their units.

Lengths are float millimetres (1 in = 25.4 mm exactly), angles radians, money `Decimal`, days `datetime.date`, durations
whole working days. The unit is in the name. `back(n)` counts n working days strictly before, in the calendar named. The
parts are read in the order of the contract `core-parts` in `pyproject.toml`, from its last line to its first.

| word | meaning | unit |
|---|---|---|
| piece | one arc or straight of a wall, in walking order | |
| left, right | sides as seen while walking the wall | |
| concave, convex | the side an arc turns towards, and the other | |
| five lines | left finished, left framing, centre, right framing, right finished | mm |
| radius_mm, sweep_rad | radius of a line and angle turned through; length = radius x sweep | mm, rad |
| build-up | thickness of all layers of one face | mm |
| developed | rolled out flat along one line | mm |
| station | a place along the wall where members stand | mm along the centreline |
| clear height | floor to ceiling | mm |
| bulge | how far an arc bows past a flat frame at mid-width | mm |
| finding | a sentence somebody must read: *gap*, *decide*, *caution* or *note* | |
| gap | a figure that is missing; nothing stands in for it | |
| radius band | least, best and greatest radius that the tape's accuracy and the readings allow | mm |
| mark | how a dimension is known: measured, assumed or confirmed, by whom, since when | |
| hold | a dimension nobody stands for; it keeps a line from being released to order and never hides a price | |
| baseline | a straight line offsets are taken from; left of walking positive | mm |
| way out | a change of the wall under which a bend that is too tight passes, with the limit it then keeps | |
| override | a named person's decision beside the computed answer, with reason | |
| net, waste, rounding, buy | three figures that add up to what is bought | unit used |
| pack | the thing that is bought: a stick, a sheet, a box | unit bought |
| kit | which material serves which role where a wall does not say | |
| lead term | what a supplier said of production and transit, when, and who said so | working or calendar days |
| lead-time record | what orders took of what was quoted, in the supplier's working days; complete lines count | |
| planned days | days from order to arrival that a person accepted in place of the quoted | supplier's working days |
| confidence | the share of orders meant to come within the planned days | share |
| share kept | of the orders that came, those within the days that were to be planned when they were placed | share |
| chosen plan | the plan of boards or sticks a named person cuts the job by, while it is fresh | |
| on hand | sticks and off-cuts set aside for a job, cut before any are bought | |
| need-by | day an item must be on site for its activity | day |
| cushion days | firm's working days from dock date to need-by, at the least | working days |
| dock date, ship date | day it arrives; day it leaves the supplier, both if ordered on order-by | day |
| dock by | need-by back the cushion days: what a supplier is asked for | day |
| order-by, decide-by | last day the firm works to order and be in time; the sign-off days before it | day |
| release | a named person lets an item be ordered as stated; another statement is not released | |
| statement, mark | all an order line states, as a document; SHA-256 over it | mm, rad |
| chase list | what to ask suppliers next, who asks, since when; drawn from facts each time | |
| remedy | what could be done about an item that would come late, with its day and its cost | |
| days in hand | firm's working days from today to order-by; negative when past | working days |
| activity | a step of the building on site: work, an inspection, a hold until a day, material on site | |
| float, free float | working days an activity may slip without moving the end; without moving another | working days |
| critical | slipping it moves the end: no float to the plan's own end, whatever day is promised | |
| wait | time between two activities that is nobody's work: drying, curing, acclimatising | hours or workdays |
| promised day | day the work on site is promised for; slack is the working days from the planned end to it | day |
| chance | share of simulated runs that are done by the promised day | share |
| crew clash | days on which open jobs together want more people on site than the firm has | |
| stored need | one material of one job with its dates, as a row; days in hand are counted when it is read | |
| want | what a job wants of a material before any term or closure is looked at | |
| alert | an item, a day and a threshold (days in hand, `0`, `late`, `decide`), come up once | |
| list of the week | what has to be ordered within two weeks, by supplier, on the first day worked | |
| feed | a person's calendar of all open jobs, followed at a secret address | |
| standing sentence | what the firm says on every quote from a day on; known by its key | |
| notice pack | a notice of a place in one language and version, as the firm entered it | |
| change note | a priced change of the accepted quote, numbered, signed before its work | |
| contract sum | accepted total and signed change notes, with tax | money |
| taking back | the client's notice, on a day of the cancellation window, that an acceptance holds no more | |
| exposure | what change notes that wait for a signature would add | money |
| margin, markup | profit as a share of price; of cost. m = g / (1 - g) | share |
| delivery, receipt | goods of one order that came at once; what came of one line: good, damaged, wrong | unit ordered |
| open, awaited | ordered and not come good; of that, what no placed order replaces | unit ordered |
| claim-by | last day a supplier takes a claim, by its order terms; none while nobody stated it | day |
| substitution | one material in the place of an agreed one, by a change note the client signs | |
| errand | one piece of background work as a row: kind, key, state, lease, tries, error | |

`back(n)` counts n working days strictly before, in the calendar named.
"""
