"""What all forms share: entries, rows of entries, errors, stored values, keys.

A form says what it was made from, and does its work once. A form that changes a stored row is given the row as `Stored`
(`stored_values`): a mark for each value goes with the form, `hold` keeps the row while the form is answered, and what
somebody else saved meanwhile is shown beside its field, with the entries kept. `{% csrf_token %}` brings a key as well;
the same form sent again leads where the first led (`SentOnceMiddleware`), in one transaction with its work. Forms that
carry a `request_key` or `seen_mark` are left to their services, which compute before they write.

Rows are added in the browser (`rows.js`): the list gives its empty row in a `<template>` (`EntryRows.with_blank`), and
without the script the same button asks the service. `{% not_saved form rows %}` says first what kept a form from being
saved. Leaving a form somebody typed in asks (`forms.js`); what must wait for a save carries `data-after-save`.

Forms for a poor signal carry `data-keep` (`kept_form.js`, `kept_form`). The browser stores what is typed until the
service has answered and sends it again by itself; the answer is an address. Photos are made smaller before they go and
live as long as the page. Without the script each form is a plain form.
"""
