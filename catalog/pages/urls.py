from catalog.pages import firm, grid, material_parts, materials, order_terms, profile, sheets, standards, suppliers
from quoting.platform.people.access import DESK, route

urlpatterns = [
    route("catalog/", grid.catalog, "catalog", both=DESK),
    route("catalog/sheet.csv", sheets.catalog_csv, "catalog_csv", GET=DESK),
    route("catalog/sheet/", sheets.catalog_csv_in, "catalog_csv_in", both=DESK),
    route("catalog/sheet/apply/", sheets.catalog_csv_apply, "catalog_csv_apply", POST=DESK),
    route("catalog/sheet/<slug:name>.csv", sheets.catalog_csv, "sheet_csv", GET=DESK),
    route("catalog/sheet/<slug:name>/", sheets.catalog_csv_in, "sheet_csv_in", both=DESK),
    route("catalog/sheet/<slug:name>/apply/", sheets.catalog_csv_apply, "sheet_csv_apply", POST=DESK),
    route("catalog/materials/add/", materials.material_add, "material_add", both=DESK),
    route("catalog/materials/<int:material_id>/", materials.material, "material", GET=DESK),
    route("catalog/materials/<int:material_id>/change/", materials.material_change, "material_change", both=DESK),
    route(
        "catalog/materials/<int:material_id>/active/", materials.material_set_active, "material_set_active", POST=DESK
    ),
    route("catalog/materials/<int:material_id>/figures/<slug:name>/", material_parts.fact_set, "fact_set", both=DESK),
    route(
        "catalog/materials/<int:material_id>/figures/<slug:name>/remove/",
        material_parts.fact_remove,
        "fact_remove",
        POST=DESK,
    ),
    route("catalog/materials/<int:material_id>/profile/", profile.profile_set, "profile_set", both=DESK),
    route("catalog/materials/<int:material_id>/packs/add/", material_parts.pack_add, "pack_add", both=DESK),
    route(
        "catalog/materials/<int:material_id>/packs/<int:pack_id>/price/",
        material_parts.price_add,
        "price_add",
        both=DESK,
    ),
    route("catalog/materials/<int:material_id>/lead-time/", material_parts.lead_term_add, "lead_term_add", both=DESK),
    route("catalog/materials/<int:material_id>/offer/", material_parts.offer_add, "offer_add", both=DESK),
    route("catalog/materials/<int:material_id>/prefer/", material_parts.offer_prefer, "offer_prefer", POST=DESK),
    route("buying/suppliers/", suppliers.supplier_list, "supplier_list", GET=DESK),
    route("buying/suppliers/add/", suppliers.supplier_add, "supplier_add", both=DESK),
    route("buying/suppliers/<int:supplier_id>/", suppliers.supplier, "supplier", GET=DESK),
    route("buying/suppliers/<int:supplier_id>/change/", suppliers.supplier_change, "supplier_change", both=DESK),
    route("buying/suppliers/<int:supplier_id>/delete/", suppliers.supplier_delete, "supplier_delete", POST=DESK),
    route("buying/suppliers/<int:supplier_id>/order-terms/", order_terms.order_terms_set, "order_terms_set", both=DESK),
    route(
        "buying/suppliers/<int:supplier_id>/order-terms/remove/",
        order_terms.order_terms_remove,
        "order_terms_remove",
        POST=DESK,
    ),
    route(
        "buying/suppliers/<int:supplier_id>/closed/", suppliers.supplier_closure_add, "supplier_closure_add", POST=DESK
    ),
    route(
        "buying/suppliers/<int:supplier_id>/closed/<int:closure_id>/remove/",
        suppliers.supplier_closure_remove,
        "supplier_closure_remove",
        POST=DESK,
    ),
    route("firm/", firm.firm, "firm", GET=DESK),
    route("firm/change/", firm.firm_change, "firm_change", both=DESK),
    route("firm/kit/", firm.firm_kit, "firm_kit", both=DESK),
    route("firm/standards/", standards.standards, "standards", GET=DESK),
    route("firm/standards/<slug:name>/", standards.standard_set, "standard_set", both=DESK),
    route("firm/standards/<slug:name>/remove/", standards.standard_remove, "standard_remove", POST=DESK),
    route("firm/spacing/", standards.spacing_steps, "spacing_steps", both=DESK),
]
