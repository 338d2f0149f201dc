"""What stands of each job since it was last worked up, as rows: needs with their dates, facts, takeoff and plan.

How a page reads a stored result, without working anything up:

- of one job: `stored_job(job, today)` in `stored_jobs.py`. `.facts` has the walls (name, lengths, radii, findings, open
  decisions, small drawings as SVG) and what must be read of the job; `.takeoff` and `.plan` are read when asked for,
  and are the values of the core (`Takeoff`, `ActivityPlan`), so that rows and explanations are made of them as ever;
- of many jobs: `facts_of_jobs(ids, today)`, in one query; `is_current` is False for a job that has changed since;
- a small drawing is added in `small_pictures.py` and stands in `wall.pictures` by its name.

A row of `StoredResult` states what it rests on: the job's changes, the mark over what it took from the catalog, and the
mark over the code (`code_mark`). It is read only while all three are those of now. Whoever first meets a job that has
moved on works it up, under its errand, so that no worker does it again. The tick asks for what an upgrade left behind.
Documents are JSON of frozen values by the types they state (`plain_values.py`): reading one takes a hundredth of
working it up. Whole walls are kept the same way, by a mark over all they rest on (`wall_cache.py`).
"""
