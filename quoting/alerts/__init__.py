"""Alerts of order-by days, the list of the week, and calendar feeds.

Alerts are read off the days, never set beforehand. Each minute `look_for_alerts` compares what holds today with the
stored alerts; a row of job, item, day and threshold exists once, so an alert comes up once, whoever looks and however
often. So nothing has to be moved when a date moves: an alert for the old day never comes. The rows of one look are
taken in one UPDATE and go out in one mail a person; alerts that come up by a change wait two minutes for others. A mail
says what still holds when it is sent, of each item the tightest. What a loose threshold would say after a tight one is
stored as come up and not said. Alerts come with the local day, so mail leaves soon after midnight; the list of the week
has its hour. Items that are released or placed are silent.

What goes otherwise than ordered comes up the same way: `DeviationAlert` has one open row a fact. A fact that no longer
holds has its row ended, so that one that comes back is told anew. It goes out with the alerts of its batch. With
1,000 orders of made pieces under way this takes 0.4 s of CPU time more.

A row nobody can date is named on Today, by the health page and by the audit, and the other rows are read around it. The
look beats its own heart, so a look that fails each minute turns the service red while the tick goes on. With 40,000
items to order in 1,000 open jobs a look takes 0.2 s of CPU time, and 0.5 s the first time of a day.

The simulation `tests/jobs/core/alert_days.py` runs 400 days in six zones with 200 items, kills both schedulers whenever
something is due, and has a three-day outage every 67 days. All of it (`make faults`) takes half a minute for the six
zones; the suite runs 150 days in two. Without the rule of unique rows every alert comes twice.
The same bench runs facts that end and come back (`run_facts`).

Calendar events are rows that keep their id. Of a job's items there is an event a supplier and day to decide, to order
and to expect at the dock, and one a day to have on site; what is decided, ordered or here has none. Such an event keeps
its id while anything of it stays (`event_ids`). They follow the stored needs and the orders in the same transaction
(`after_refresh`, `after_redating`, `after_ordering`). What is next for a job is one event that moves, with where the
job stands. It follows the row of its life (`after_keeping`) and is held after that row, apart from the others: two who
take them in turns would wait for each other. The site is not given it. A changed event has its number raised; an event
that goes is cancelled and never deleted, and one that comes back is the same event. A job in trouble keeps its events.
The file of one job numbers its events as the feed will, and stores nothing. Looking at a feed changes nothing. The same
400 days run over a feed (`tests/quoting/alerts/feed_days.py`): each day it holds what is open and dated, by supplier
and day, and nothing that is done. Stored apart from what they follow, events stay behind at the first kill.
"""
