"""The sheet of the API for people: made from the same document that programs read, so neither says more."""

import re

import pytest
from django.core.exceptions import ImproperlyConfigured

from quoting.service.api import components, sheet
from tests.support.desk import as_

__all__ = ["as_"]
pytestmark = pytest.mark.django_db
MAX_BYTES = 300_000


def calls():
    return [call for room in sheet.rooms().values() for call in room]


def test_every_call_of_the_document_stands_in_one_room():
    stated = {(method.upper(), path) for path, ways in sheet.document()["paths"].items() for method in ways}
    assert len(calls()) == len(stated) and {(call.method, call.address) for call in calls()} == stated


def test_every_call_says_who_may_make_it():
    assert [call.address for call in calls() if not call.roles] == []
    by_name = {(call.method, call.address): call.roles for call in calls()}
    assert by_name["GET", "/api/jobs/{key}"] == "everybody"
    assert "lead" not in by_name["PUT", "/api/catalog/suppliers/{code}/order-terms"]


def test_a_field_says_what_it_is_and_leads_to_its_shape():
    fields = {field.name: field for field in sheet.shape_named("JobEntry").fields}
    assert (fields["version"].kind, fields["version"].needed) == ("whole number", True)
    assert (fields["walls"].kind, fields["walls"].shape) == ("list of ", "Wall")
    assert (fields["closed_on"].kind, fields["closed_on"].shape) == ("", "Day")


def test_every_shape_a_field_leads_to_is_there():
    names = sheet.document()["components"]["schemas"]
    result = [field for name in names for field in sheet.shape_named(name).fields]
    result += [field for call in calls() for body in (call.takes, call.gives) if body for field in body.fields]
    assert [field.shape for field in result if field.shape and field.shape not in names] == []


def test_each_room_is_one_small_page(as_):
    reader = as_("lead")
    for name in sheet.rooms():
        page = reader.get(f"/api/docs/{name}/")
        assert page.status_code == 200 and len(page.content) < MAX_BYTES, name
    assert re.findall(r"<h1>(\w+)</h1>", reader.get("/api/docs/shapes/JobEntry/").content.decode()) == ["JobEntry"]


@pytest.mark.parametrize("address", ["/api/docs/nowhere/", "/api/docs/shapes/Nothing/"])
def test_a_room_or_shape_that_is_not_there_is_not_found(as_, address):
    assert as_("office").get(address).status_code == 404


@pytest.mark.parametrize("address", ["/api/docs/", "/api/docs/orders/"])
def test_a_stranger_logs_in_first(client, address):
    assert client.get(address)["Location"].startswith("/log-in/?next=")


def test_two_shapes_of_one_name_are_refused():
    with pytest.raises(ImproperlyConfigured, match="Overhead"):
        components._each_once({"Overhead": {"type": "object"}}, {"Overhead": {"type": "null"}})
