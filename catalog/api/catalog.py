from django.db import transaction
from django.urls import reverse
from rest_framework.request import Request
from rest_framework.response import Response

from catalog.core.ground.declared import write
from catalog.core.materials.firm_document import FirmWithStandards
from catalog.core.materials.specs import KINDS
from catalog.models import Material, Supplier
from catalog.services.book import firm_of, materials_with_parts, standards_of
from catalog.services.entries import add_material, change_material, list_materials
from catalog.services.suppliers import list_suppliers
from quoting.platform.api.base import (
    ApiView,
    Document,
    document_of,
    held,
    mark_of,
    page_of,
    query_of,
    tagged,
    unit_asked,
)
from quoting.platform.api.describing import Query, describe

KIND = Query("kind", {"enum": list(KINDS)}, "Only materials of this kind.")
ACTIVE = Query("active", {"enum": ["yes", "all"], "default": "all"}, "Only those offered where one is chosen, or all.")


class Materials(ApiView):
    @describe("list_materials", "Materials by code.", gives="MaterialPage", paged=True, query=(KIND, ACTIVE))
    def get(self, request: Request) -> Response:
        query = query_of(request)
        kind, active = query.optional_choice("kind", KINDS), query.choice("active", ("yes", "all"), "all")
        return page_of(query, list_materials(kind or "", active_only=active == "yes"), entry_of)

    @describe(
        "add_material",
        "A new material.",
        takes="NewMaterial",
        gives="MaterialEntry",
        status=201,
        tagged=True,
        units=True,
    )
    def post(self, request: Request) -> Response:
        row = add_material(document_of(request), unit_asked(request))
        response = answered(entry_of(read(row.code)), 201)
        response["Location"] = reverse("api_material", args=[row.code])
        return response


class OneMaterial(ApiView):
    @describe(
        "read_material",
        "One material with its packs, prices, figures and lead terms.",
        gives="MaterialEntry",
        tagged=True,
    )
    def get(self, request: Request, code: str) -> Response:
        return answered(entry_of(read(code)))

    @describe(
        "change_material",
        "Change entries of a material; what is not named stays. A list or object that is named is replaced whole.",
        takes="MaterialChanges",
        gives="MaterialEntry",
        tagged=True,
        guarded="the material",
        units=True,
    )
    @transaction.atomic
    def patch(self, request: Request, code: str) -> Response:
        held(request, Material.objects.filter(code=code), lambda: entry_of(read(code)))
        change_material(code, document_of(request), unit_asked(request))
        return answered(entry_of(read(code)))


class Suppliers(ApiView):
    @describe("list_suppliers", "Suppliers by code.", gives="SupplierPage", paged=True)
    def get(self, request: Request) -> Response:
        return page_of(query_of(request), list_suppliers(), entry_of)


class OneSupplier(ApiView):
    @describe("read_supplier", "One supplier.", gives="SupplierEntry", tagged=True)
    def get(self, request: Request, code: str) -> Response:
        return answered(entry_of(Supplier.objects.get(code=code)))


class OurFirm(ApiView):
    @describe("read_firm", "The firm, its calendar, kit and standards.", gives="Firm", stands=True)
    def get(self, request: Request) -> Response:
        return Response(write(FirmWithStandards(firm_of(), standards_of())))


def answered(document: Document, status: int = 200) -> Response:
    return tagged(Response(document, status=status), mark_of(document))


def read(code: str) -> Material:
    return materials_with_parts().get(code=code)


def entry_of(row: Material | Supplier) -> Document:
    return write(row.entry())
