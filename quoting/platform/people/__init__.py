"""People and roles, log-in, tokens, access, and limits on guesses and uploads.

Guesses at passwords are counted in rows, before hashing, by a conditional UPDATE for each limit: name at an address,
address, name, all. A browser that logged in before (a cookie) is counted alone, and its address is spared the last two
limits, so that no stranger shuts it out. Hashing takes 100 MB: each process hashes one password at a time, one more
waits, and the rest are asked to come back (`password_hashing`).

Sessions rest on the password and on `times_logged_out`; what raises it withdraws tokens and calendar address too.
"""
