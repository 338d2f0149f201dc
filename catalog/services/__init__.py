"""Use cases over the catalog's rows.

The starter list leaves out what only the firm can say: it has no supplier, lead time, tax, warranty or notice. Its
prices carry one source (`INVENTED_PRICE`), and a quote that rests on them warns; makers' figures come as not verified.

A row of the catalog that changes counts in `CatalogChanges` and asks for the errand `recompute_dates`. An import of a
whole catalog counts as one change.
"""
