"""Change notes as values, and a change of the walls as lines.

A change of the walls is the difference of two work-ups: the job as agreed and the job as it stands. Both are worked up
at the prices of the day and by the agreed margin, tax and hour cost, so that neither a new price nor a new margin
passes as a change. It counts from what was signed last, so one change is worked out at a time, and it is issued on the
day it was worked out.
"""
