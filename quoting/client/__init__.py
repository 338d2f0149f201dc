"""The client's side: links, mails, the page on a phone, answers, taking back, payments received.

The secret of a link is stored nowhere. It is made when the mail is sent, in the errand, and a new link ends the one
before. The errand commits that sending has begun before it speaks to the mail server: a worker that dies in between
leaves an errand that says so, and no second mail. Only where the server surely refused is the mail tried again.

The client's page asks for no forged-request token. No cookie stands behind it, the secret in its address is the key,
and with no-referrer a browser names its origin as "null". The client accepts the total that the page showed.

Taking an acceptance back ends its agreement. Change notes belong to the acceptance they were issued to and count with
no later one; their numbers run on through the job. The day that counts is the day notice was given.
"""
