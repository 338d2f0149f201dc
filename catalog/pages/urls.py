from django.urls import path

from catalog.pages import firm, listing, material_parts, materials, order_terms, profile, sheets, starter, suppliers
from jobs.deliveries.pages import planned
from quoting.service.pages import history

urlpatterns = [
    path("", listing.catalog, name="catalog"),
    path("start/", starter.catalog_start, name="catalog_start"),
    path("sheet.csv", sheets.catalog_csv, name="catalog_csv"),
    path("sheet/", sheets.catalog_csv_in, name="catalog_csv_in"),
    path("sheet/apply/", sheets.catalog_csv_apply, name="catalog_csv_apply"),
    path("materials/add/", materials.material_add, name="material_add"),
    path("materials/<int:material_id>/", materials.material, name="material"),
    path("materials/<int:material_id>/change/", materials.material_change, name="material_change"),
    path("materials/<int:material_id>/active/", materials.material_set_active, name="material_set_active"),
    path("materials/<int:material_id>/history/", history.material_history, name="material_history"),
    path("materials/<int:material_id>/figures/<slug:name>/", material_parts.fact_set, name="fact_set"),
    path("materials/<int:material_id>/figures/<slug:name>/remove/", material_parts.fact_remove, name="fact_remove"),
    path("materials/<int:material_id>/profile/", profile.profile_set, name="profile_set"),
    path("materials/<int:material_id>/packs/add/", material_parts.pack_add, name="pack_add"),
    path("materials/<int:material_id>/packs/<int:pack_id>/price/", material_parts.price_add, name="price_add"),
    path("materials/<int:material_id>/lead-time/", material_parts.lead_term_add, name="lead_term_add"),
    path("materials/<int:material_id>/planned/", planned.planned_accept, name="planned_accept"),
    path("materials/<int:material_id>/planned/end/", planned.planned_end, name="planned_end"),
    path("suppliers/", suppliers.supplier_list, name="supplier_list"),
    path("suppliers/add/", suppliers.supplier_add, name="supplier_add"),
    path("suppliers/<int:supplier_id>/", suppliers.supplier, name="supplier"),
    path("suppliers/<int:supplier_id>/change/", suppliers.supplier_change, name="supplier_change"),
    path("suppliers/<int:supplier_id>/delete/", suppliers.supplier_delete, name="supplier_delete"),
    path("suppliers/<int:supplier_id>/order-terms/", order_terms.order_terms_set, name="order_terms_set"),
    path("suppliers/<int:supplier_id>/order-terms/remove/", order_terms.order_terms_remove, name="order_terms_remove"),
    path("suppliers/<int:supplier_id>/closed/", suppliers.supplier_closure_add, name="supplier_closure_add"),
    path(
        "suppliers/<int:supplier_id>/closed/<int:closure_id>/remove/",
        suppliers.supplier_closure_remove,
        name="supplier_closure_remove",
    ),
    path("firm/", firm.firm, name="firm"),
    path("firm/change/", firm.firm_change, name="firm_change"),
    path("firm/closed/", firm.firm_closure_add, name="firm_closure_add"),
    path("firm/closed/<int:closure_id>/remove/", firm.firm_closure_remove, name="firm_closure_remove"),
    path("firm/kit/", firm.firm_kit, name="firm_kit"),
    path("firm/standards/<slug:name>/", firm.standard_set, name="standard_set"),
    path("firm/standards/<slug:name>/remove/", firm.standard_remove, name="standard_remove"),
    path("firm/spacing/", firm.spacing_steps, name="spacing_steps"),
]
