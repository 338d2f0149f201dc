"""Activities of a job, who is on it, its agreed days, and the days its activities really began and ended.

People are named, for not everybody on a crew logs in; who does log in is found by the same full name. Somebody is
wanted by a job on the days they are named to it on which it has work: while a coat dries nobody is.

What began stays where it began, and its planned days count from there; what ended took the days it took. So an activity
that goes on beyond its planned days moves nothing until its end is said: plans rest on rows, and no plan on the clock.
"""
