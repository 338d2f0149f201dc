"""What the client is asked to pay, and what came in.

A request is worked out when it is issued and frozen then, number and paper with it: its row is never changed, not even
to say that it is paid or credited. Payments pay the oldest request first, so which are paid follows from the rows; one
that is wrong is credited whole by another, and its part may then be asked for anew.

Requests of a job are issued one at a time, its row held; a change note signed meanwhile is on this one or the next.
That a part and a note stand on one live request at most is held by the database too: of the second time they are asked
for it knows only once the first was credited. Numbers are taken in the transaction that issues, so none is lost.

Nothing is asked for before its event is marked; what is due on signing is marked by the acceptance. The firm's deposit
is asked for first, or not at all: paid without a request it pays the first one.
"""
