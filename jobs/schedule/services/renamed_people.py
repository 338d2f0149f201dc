"""Whoever is called otherwise from now on stays named to the jobs they are on."""

from jobs.core.schedule.people import is_same_name
from jobs.schedule.models import NamedPerson
from quoting.platform.people.services.people import after_rename


def rename_on_open_jobs(before: str, after: str) -> None:
    for row in NamedPerson.objects.filter(job__closed_on=None):
        if is_same_name(row.name, before):
            row.name = after
            row.save()


after_rename.append(rename_on_open_jobs)
