from datetime import UTC, datetime

import factory

from jobs.jobs.models import Client, Job
from jobs.walls.models import Wall
from tests.factories.catalog import MaterialFactory


class ClientFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Client

    name = factory.Sequence(lambda number: f"Client {number}")


class JobFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Job

    key = factory.Sequence(lambda number: f"J-{9000 + number}")
    title = "A curved screen"
    client = factory.SubFactory(ClientFactory)
    created_at = datetime(2026, 10, 5, 9, 0, tzinfo=UTC)


class WallFactory(factory.django.DjangoModelFactory):
    class Meta:
        model = Wall

    job = factory.SubFactory(JobFactory)
    key = factory.Sequence(lambda number: f"wall-{number}")
    name = "Screen"
    measured_on = "centre"
    track = factory.SubFactory(MaterialFactory, kind="track")
    stud = factory.SubFactory(MaterialFactory, kind="stud")
    left_level = 4
    right_level = 4
