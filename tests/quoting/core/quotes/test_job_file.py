"""The whole document: what is missing or unknown is named with its path."""

from decimal import Decimal
from typing import Any

import pytest

from catalog.core.ground.document_reader import DocumentError
from quoting.core.quotes.job_file import read_job_file
from tests.documents import document, starter


def complaints(value: Any) -> list[str]:
    with pytest.raises(DocumentError) as caught:
        read_job_file(value, starter())
    return [str(complaint) for complaint in caught.value.complaints]


def dental() -> dict[str, Any]:
    return document("jobs/larkmoor-dental.json")


def test_faults_of_catalog_job_and_pricing_are_told_together() -> None:
    value = dental()
    value["firm"]["currency"] = "dollars"
    value["walls"][0]["pieces"][0]["rise"] = 0
    value["pricing"]["tax"]["rate"] = "1.3"
    sentences = complaints(value)
    assert {line.partition(":")[0] for line in sentences} == {
        "firm.currency",
        "walls[0].pieces[0].rise",
        "pricing.tax.rate",
    }


def test_a_misspelt_figure_of_an_arc_is_named_beside_what_it_leaves_missing() -> None:
    value = dental()
    piece = value["walls"][0]["pieces"][0]
    piece["chrod"] = piece.pop("chord")
    sentences = complaints(value)
    assert any(line.startswith("walls[0].pieces[0]: an arc is given by") for line in sentences)
    assert "walls[0].pieces[0].chrod: is not a name known here" in sentences


def test_every_wrong_entry_of_a_wall_is_told_with_those_of_the_job() -> None:
    value = dental()
    del value["job"]["title"], value["walls"][0]["track"], value["walls"][0]["name"]
    assert complaints(value) == ["job.title: is missing", "walls[0].name: is missing", "walls[0].track: is missing"]


def test_without_a_catalog_the_firm_is_needed() -> None:
    value = dental()
    del value["firm"]
    with pytest.raises(DocumentError, match="firm: is missing"):
        read_job_file(value)


def test_a_file_that_states_no_firm_takes_the_catalogs() -> None:
    value = dental()
    del value["firm"]
    assert read_job_file(value, starter()).book.firm == starter().firm


def test_instalments_must_add_up() -> None:
    value = dental()
    value["pricing"]["instalments"] = [{"event": "now", "share": "0.5"}, {"event": "then", "share": "0.4"}]
    assert complaints(value) == ["pricing.instalments: the shares must add up to exactly 1; write thirds as 1/3"]


def test_thirds_are_exact() -> None:
    value = dental()
    value["pricing"]["instalments"] = [{"event": f"part {n}", "share": "1/3"} for n in range(3)]
    pricing = read_job_file(value, starter()).pricing
    assert pricing is not None
    assert sum(instalment.share for instalment in pricing.instalments) == 1


def test_a_cost_of_an_unknown_wall_is_refused() -> None:
    value = dental()
    value["pricing"]["labour"][0]["wall"] = "The other wall"
    assert "which the job does not have" in complaints(value)[0]


def test_a_material_of_an_unknown_supplier_is_refused() -> None:
    value = dental()
    value["materials"][0]["supplier"] = "NOBODY"
    assert 'supplier "NOBODY" is not among the suppliers' in complaints(value)[0]


@pytest.mark.parametrize("value", [None, [], "x", 3, {}])
def test_what_is_no_job_file_is_refused(value: Any) -> None:
    assert complaints(value)


def test_an_amount_of_a_file_is_read_as_its_firm_prints_it_and_in_no_other_currency() -> None:
    value = dental()
    value["pricing"]["subcontract"] = [{"what": "Painting", "amount": "$5,213.80"}]
    read = read_job_file(value, starter())
    assert Decimal("5213.80") in [cost.unit_cost for cost in read.pricing.costs]
    value["pricing"]["subcontract"][0]["amount"] = "€5213.80"
    assert "pricing.subcontract[0].amount" in complaints(value)[0]
