"""Who may do what: one row for every URL name, deny by default.

A URL that has no row here answers nobody and fails the suite. A method that is not in its row is not allowed
to anyone. HEAD follows GET.
"""

from collections.abc import Mapping

from quoting.models.people import Role

Roles = frozenset[str]

ANONYMOUS = "anonymous"
ALL_ROLES: tuple[str, ...] = (ANONYMOUS, Role.ESTIMATOR, Role.OFFICE, Role.LEAD, Role.OWNER)

NOBODY: Roles = frozenset()
EVERYONE: Roles = frozenset(ALL_ROLES)
STAFF: Roles = EVERYONE - {ANONYMOUS}
# Those who see costs and suppliers, but not as such how the job is priced.
DESK: Roles = STAFF - {Role.LEAD}
# Those who set how a job is priced, and see margins: in job files as well as on pages.
PRICERS: Roles = frozenset({Role.ESTIMATOR, Role.OWNER})
OWNER: Roles = frozenset({Role.OWNER})
# Whoever holds the secret link of a client's page; the link itself is asked for in quoting/views/client/gate.py.
CLIENT: Roles = EVERYONE

MATRIX: Mapping[str, Mapping[str, Roles]] = {
    "home": {"GET": STAFF},
    "today": {"GET": STAFF},
    "job_list": {"GET": STAFF},
    "job_add": {"GET": DESK, "POST": DESK},
    "job_import": {"GET": DESK, "POST": DESK},
    "job": {"GET": STAFF},
    "job_change": {"GET": DESK, "POST": DESK},
    "job_dates": {"GET": STAFF, "POST": DESK},
    "job_dates_preview": {"POST": DESK},
    "job_close": {"POST": DESK},
    "job_export": {"GET": DESK},
    "job_builds": {"GET": DESK},
    "job_build_use": {"POST": DESK},
    "client_list": {"GET": DESK},
    "client_change": {"GET": DESK, "POST": DESK},
    "wall_add": {"GET": DESK, "POST": DESK},
    "wall_add_preview": {"POST": DESK},
    "wall": {"GET": STAFF, "POST": DESK},
    "wall_preview": {"POST": DESK},
    "wall_copy": {"GET": DESK, "POST": DESK},
    "wall_delete": {"GET": DESK, "POST": DESK},
    "wall_quantity": {"GET": DESK, "POST": DESK},
    "wall_photos": {"GET": STAFF, "POST": STAFF},
    "wall_photo_file": {"GET": STAFF},
    "wall_photo_in_quote": {"POST": DESK},
    "wall_photo_take_down": {"POST": STAFF},
    "templates": {"GET": STAFF, "POST": STAFF},
    "template": {"GET": STAFF, "POST": STAFF},
    "template_change": {"GET": STAFF, "POST": STAFF},
    "login": {"GET": EVERYONE, "POST": EVERYONE},
    "logout": {"POST": STAFF},
    "account": {"GET": STAFF},
    "account_password": {"GET": STAFF, "POST": STAFF},
    "token_make": {"POST": STAFF},
    "token_withdraw": {"POST": STAFF},
    "people": {"GET": OWNER},
    "person_add": {"GET": OWNER, "POST": OWNER},
    "person_change": {"GET": OWNER, "POST": OWNER},
    "person_new_password": {"POST": OWNER},
    "catalog": {"GET": DESK},
    "catalog_csv": {"GET": DESK},
    "catalog_csv_in": {"GET": DESK, "POST": DESK},
    "catalog_csv_apply": {"POST": DESK},
    "material_add": {"GET": DESK, "POST": DESK},
    "material": {"GET": DESK},
    "material_change": {"GET": DESK, "POST": DESK},
    "material_set_active": {"POST": DESK},
    "material_history": {"GET": DESK},
    "fact_set": {"GET": DESK, "POST": DESK},
    "fact_remove": {"POST": DESK},
    "profile_set": {"GET": DESK, "POST": DESK},
    "pack_add": {"GET": DESK, "POST": DESK},
    "price_add": {"GET": DESK, "POST": DESK},
    "lead_term_add": {"GET": DESK, "POST": DESK},
    "supplier_list": {"GET": DESK},
    "supplier_add": {"GET": DESK, "POST": DESK},
    "supplier": {"GET": DESK},
    "supplier_change": {"GET": DESK, "POST": DESK},
    "supplier_delete": {"POST": DESK},
    "supplier_closure_add": {"POST": DESK},
    "supplier_closure_remove": {"POST": DESK},
    "firm": {"GET": DESK},
    "firm_change": {"GET": DESK, "POST": DESK},
    "firm_closure_add": {"POST": DESK},
    "firm_closure_remove": {"POST": DESK},
    "firm_kit": {"GET": DESK, "POST": DESK},
    "standard_set": {"GET": DESK, "POST": DESK},
    "standard_remove": {"POST": DESK},
    "spacing_steps": {"GET": DESK, "POST": DESK},
    "order_dates": {"GET": STAFF},
    "job_order_dates": {"GET": STAFF},
    "order_dates_calendar": {"GET": STAFF},
    "order_dates_paper": {"POST": DESK},
    "paper": {"GET": DESK},
    "paper_progress": {"GET": DESK},
    "paper_retry": {"POST": DESK},
    "site_sheet": {"GET": STAFF},
    "site_sheet_make": {"POST": STAFF},
    "site_wall": {"GET": STAFF},
    "site_wall_dxf": {"GET": STAFF},
    "full_size_make": {"POST": STAFF},
    "site_paper": {"GET": STAFF},
    "site_paper_progress": {"GET": STAFF},
    "site_paper_retry": {"POST": STAFF},
    "job_history": {"GET": DESK},
    "quote": {"GET": DESK, "POST": PRICERS},
    "quote_start": {"POST": PRICERS},
    "quote_preview": {"POST": PRICERS},
    "quote_issue": {"GET": PRICERS, "POST": PRICERS},
    "quote_approve": {"GET": PRICERS, "POST": PRICERS},
    "quote_compare": {"GET": DESK},
    "revision": {"GET": DESK},
    "revision_withdraw": {"POST": PRICERS},
    "usual_pricing": {"GET": PRICERS, "POST": PRICERS},
    "rates": {"GET": PRICERS},
    "tax_rate_set": {"POST": PRICERS},
    "tax_rate_remove": {"POST": PRICERS},
    "labour_rate_set": {"POST": PRICERS},
    "labour_rate_remove": {"POST": PRICERS},
    "revision_send": {"POST": DESK},
    "revision_link": {"POST": DESK},
    "revision_link_withdraw": {"POST": DESK},
    "revision_answer": {"POST": DESK},
    "cancellation_terms": {"GET": PRICERS},
    "cancellation_term_set": {"POST": PRICERS},
    "cancellation_term_remove": {"POST": PRICERS},
    "holiday_set": {"POST": PRICERS},
    "holiday_remove": {"POST": PRICERS},
    "client_quote": {"GET": CLIENT},
    "client_total": {"GET": CLIENT},
    "client_answer": {"POST": CLIENT},
    "client_paper": {"GET": CLIENT},
    "client_certificate": {"GET": CLIENT},
    "firm_texts": {"GET": DESK},
    "standard_text_add": {"GET": PRICERS, "POST": PRICERS},
    "standard_text": {"GET": PRICERS, "POST": PRICERS},
    "standard_text_end": {"POST": PRICERS},
    "standard_text_remove": {"POST": PRICERS},
    "notice_add": {"GET": PRICERS, "POST": PRICERS},
    "notice": {"GET": PRICERS, "POST": PRICERS},
    "notice_remove": {"POST": PRICERS},
    "notice_place_set": {"POST": PRICERS},
    "notice_place_remove": {"POST": PRICERS},
    "change_list": {"GET": DESK},
    "change_add": {"GET": PRICERS, "POST": PRICERS},
    "change_from_walls": {"POST": PRICERS},
    "change_from_allowance": {"POST": PRICERS},
    "change_draft": {"GET": DESK, "POST": PRICERS},
    "change_draft_remove": {"POST": PRICERS},
    "change_issue": {"POST": PRICERS},
    "change_note": {"GET": DESK},
    "change_answer": {"POST": DESK},
    "change_withdraw": {"POST": PRICERS},
    "health_live": {"GET": EVERYONE},
    "health_ready": {"GET": EVERYONE},
    "api_schema": {"GET": STAFF},
    "api_docs": {"GET": STAFF},
    "api_schema_short": {"GET": STAFF},
    "api_docs_short": {"GET": STAFF},
    "api_clients": {"GET": STAFF, "POST": DESK},
    "api_client": {"GET": STAFF, "PUT": DESK, "DELETE": DESK},
    "api_jobs": {"GET": STAFF, "POST": DESK},
    "api_job": {"GET": STAFF, "PATCH": DESK},
    "api_job_file": {"GET": PRICERS},
    "api_job_files": {"POST": PRICERS},
    "api_walls": {"GET": STAFF, "POST": DESK},
    "api_wall": {"GET": STAFF, "PUT": DESK, "DELETE": DESK},
    "api_templates": {"GET": STAFF, "POST": STAFF},
    "api_template": {"GET": STAFF, "PATCH": STAFF},
    "api_template_moves": {"POST": STAFF},
    "api_takeoff": {"GET": STAFF},
    "api_wall_takeoff": {"GET": STAFF},
    "api_schedule": {"GET": STAFF},
    "api_builds": {"POST": DESK},
    "api_pricing": {"GET": PRICERS, "PUT": PRICERS, "POST": PRICERS},
    "api_quote": {"GET": DESK},
    "api_quote_issue": {"POST": PRICERS},
    "api_quote_approve": {"POST": PRICERS},
    "api_quotes": {"GET": DESK},
    "api_issued_quote": {"GET": DESK},
    "api_revision": {"GET": DESK},
    "api_revision_withdraw": {"POST": PRICERS},
    "api_paper": {"GET": DESK},
    "api_paper_retry": {"POST": DESK},
    "api_paper_file": {"GET": DESK},
    "api_materials": {"GET": DESK, "POST": DESK},
    "api_material": {"GET": DESK, "PATCH": DESK},
    "api_suppliers": {"GET": DESK},
    "api_supplier": {"GET": DESK},
    "api_firm": {"GET": DESK},
    "api_work_up": {"POST": DESK},
    "api_take_off": {"POST": STAFF},
    "api_unknown": {"GET": STAFF, "POST": STAFF, "PUT": STAFF, "PATCH": STAFF, "DELETE": STAFF},
}


def declared_methods(url_name: str) -> Mapping[str, Roles] | None:
    """The methods of a URL and who may use each, HEAD included; None when it has no row."""
    row = MATRIX.get(url_name)
    if row is None or "GET" not in row:
        return row
    return {"HEAD": row["GET"], **row}


def is_allowed(role: str, url_name: str, method: str) -> bool:
    return role in (declared_methods(url_name) or {}).get(method, NOBODY)


def role_of(person: object) -> str:
    return person.role if getattr(person, "is_active", False) else ANONYMOUS  # type: ignore[attr-defined]
