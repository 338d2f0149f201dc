from django.urls import path, register_converter
from django.views.generic import RedirectView

from catalog.api import catalog, order_terms
from jobs.buying.api import proposals
from jobs.deliveries.api import confirmations, lead_record, order_events, receipt_photos, receipts, receiving
from jobs.held_templates.api import templates
from jobs.jobs.api import clients
from jobs.orders.api import orders
from jobs.plans.api import plans
from jobs.schedule.api import activities
from jobs.walls.api import walls
from jobs.whole_jobs.api import jobs
from quoting.builds.api import builds
from quoting.changes.api import change_notes, changes, substitutions
from quoting.client.api import answers, payments, sending
from quoting.field_checks.api import field_check
from quoting.job_files.api import job_files, work_up
from quoting.platform.api import unknown
from quoting.quotes.api import figures, papers, pricing, quotes
from quoting.service.api import samples
from quoting.texts.api import texts

register_converter(unknown.Whatever, "whatever")

urlpatterns = [
    path("clients", clients.Clients.as_view(), name="api_clients"),
    path("clients/<int:client_id>", clients.OneClient.as_view(), name="api_client"),
    path("jobs", jobs.Jobs.as_view(), name="api_jobs"),
    path("jobs/<str:key>", jobs.OneJob.as_view(), name="api_job"),
    path("jobs/<str:key>/job-file", job_files.JobFileOut.as_view(), name="api_job_file"),
    path("jobs/<str:key>/walls", walls.Walls.as_view(), name="api_walls"),
    path("jobs/<str:key>/walls/<str:wall_key>", walls.OneWall.as_view(), name="api_wall"),
    path("jobs/<str:key>/walls/<str:wall_key>/takeoff", figures.WallTakeoff.as_view(), name="api_wall_takeoff"),
    path(
        "jobs/<str:key>/walls/<str:wall_key>/field-check",
        field_check.WallFieldCheck.as_view(),
        name="api_field_check",
    ),
    path("jobs/<str:key>/takeoff", figures.JobTakeoff.as_view(), name="api_takeoff"),
    path("jobs/<str:key>/templates", templates.Templates.as_view(), name="api_templates"),
    path("jobs/<str:key>/templates/<int:template_id>", templates.OneTemplate.as_view(), name="api_template"),
    path(
        "jobs/<str:key>/templates/<int:template_id>/moves",
        templates.TemplateMoves.as_view(),
        name="api_template_moves",
    ),
    path("jobs/<str:key>/schedule", figures.JobSchedule.as_view(), name="api_schedule"),
    path("jobs/<str:key>/chance", activities.JobChance.as_view(), name="api_chance"),
    path("crew-clashes", activities.CrewClashes.as_view(), name="api_crew_clashes"),
    path("jobs/<str:key>/builds", builds.JobBuilds.as_view(), name="api_builds"),
    path("jobs/<str:key>/plans", plans.JobPlans.as_view(), name="api_plans"),
    path("jobs/<str:key>/plans/<str:what>", plans.OnePlan.as_view(), name="api_plan"),
    path("jobs/<str:key>/pricing", pricing.JobPricing.as_view(), name="api_pricing"),
    path("jobs/<str:key>/quote", figures.JobQuote.as_view(), name="api_quote"),
    path("jobs/<str:key>/contract", changes.JobContract.as_view(), name="api_contract"),
    path("jobs/<str:key>/changes", changes.ChangeDrafts.as_view(), name="api_change_drafts"),
    path("jobs/<str:key>/changes/<int:draft_id>/issue", changes.IssueChange.as_view(), name="api_change_issue"),
    path("jobs/<str:key>/change-notes/<int:note>", change_notes.OneNote.as_view(), name="api_change_note"),
    path(
        "jobs/<str:key>/change-notes/<int:note>/answer",
        change_notes.AnswerNote.as_view(),
        name="api_change_note_answer",
    ),
    path(
        "jobs/<str:key>/change-notes/<int:note>/withdraw",
        change_notes.WithdrawNote.as_view(),
        name="api_change_note_withdraw",
    ),
    path("jobs/<str:key>/change-notes/<int:note>/mails", sending.NoteMails.as_view(), name="api_change_note_mails"),
    path("jobs/<str:key>/quote/issue", quotes.IssueQuote.as_view(), name="api_quote_issue"),
    path("jobs/<str:key>/quote/approve", quotes.ApproveQuote.as_view(), name="api_quote_approve"),
    path("jobs/<str:key>/payments", payments.Payments.as_view(), name="api_payments"),
    path("jobs/<str:key>/payments/<int:payment_id>/undo", payments.UndoPayment.as_view(), name="api_payment_undo"),
    path("jobs/<str:key>/substitutions", substitutions.Substitutions.as_view(), name="api_substitutions"),
    path("receiving", receiving.Due.as_view(), name="api_receiving"),
    path("receiving/claims", receipts.Claims.as_view(), name="api_claims"),
    path("receiving/receipts/<int:receipt_id>", receipts.OneReceipt.as_view(), name="api_receipt"),
    path(
        "receiving/receipts/<int:receipt_id>/photos", receipt_photos.ReceiptPhotos.as_view(), name="api_receipt_photos"
    ),
    path("receiving/photos/<int:photo_id>", receipt_photos.ReceiptPhotoFile.as_view(), name="api_receipt_photo"),
    path("receiving/receipts/<int:receipt_id>/claim", receipts.ClaimReceipt.as_view(), name="api_receipt_claim"),
    path("receiving/receipts/<int:receipt_id>/outcome", receipts.SettleReceipt.as_view(), name="api_receipt_outcome"),
    path(
        "receiving/receipts/<int:receipt_id>/replacement",
        receipts.ReplaceReceipt.as_view(),
        name="api_receipt_replacement",
    ),
    path("orders", orders.Orders.as_view(), name="api_orders"),
    path("orders/<str:number>", orders.OneOrder.as_view(), name="api_order"),
    path("orders/<str:number>/place", orders.PlaceOrder.as_view(), name="api_order_place"),
    path("order-proposals/<path:code>", proposals.Proposals.as_view(), name="api_order_proposals"),
    path("jobs/<str:key>/order-items", orders.OrderItems.as_view(), name="api_order_items"),
    path("jobs/<str:key>/samples", samples.Samples.as_view(), name="api_samples"),
    path("jobs/<str:key>/samples/<int:sample_id>/agreed", samples.AgreeSample.as_view(), name="api_sample_agreed"),
    path("jobs/<str:key>/releases/<path:material>", orders.ReleaseItem.as_view(), name="api_release"),
    path("orders/<str:number>/deliveries", receiving.OrderDeliveries.as_view(), name="api_deliveries"),
    path("orders/<str:number>/confirmations", confirmations.Confirmations.as_view(), name="api_confirmations"),
    path(
        "orders/<str:number>/confirmations/<int:confirmed_id>/settle",
        confirmations.SettleConfirmed.as_view(),
        name="api_confirmed_settle",
    ),
    path("orders/<str:number>/lines/<int:place>/promises", order_events.Promises.as_view(), name="api_promises"),
    path("orders/<str:number>/lines/<int:place>/end", order_events.EndLine.as_view(), name="api_line_end"),
    path("orders/<str:number>/lines/<int:place>/returns", order_events.LineReturns.as_view(), name="api_line_returns"),
    path("orders/<str:number>/call-off", order_events.CallOff.as_view(), name="api_call_off"),
    path("orders/<str:number>/returns", order_events.Returns.as_view(), name="api_returns"),
    path(
        "orders/<str:number>/returns/<int:return_id>/credit",
        order_events.CreditReturn.as_view(),
        name="api_return_credit",
    ),
    path("job-files", job_files.JobFileIn.as_view(), name="api_job_files"),
    path("quotes", quotes.Quotes.as_view(), name="api_quotes"),
    path("quotes/<str:number>", quotes.OneQuote.as_view(), name="api_issued_quote"),
    path("quotes/<str:number>/revisions/<int:revision>", quotes.OneRevision.as_view(), name="api_revision"),
    path(
        "quotes/<str:number>/revisions/<int:revision>/withdraw",
        quotes.WithdrawRevision.as_view(),
        name="api_revision_withdraw",
    ),
    path(
        "quotes/<str:number>/revisions/<int:revision>/paper",
        papers.PaperState.as_view(),
        name="api_paper",
    ),
    path(
        "quotes/<str:number>/revisions/<int:revision>/paper/retry",
        papers.RetryPaper.as_view(),
        name="api_paper_retry",
    ),
    path(
        "quotes/<str:number>/revisions/<int:revision>/paper/file",
        papers.PaperFile.as_view(),
        name="api_paper_file",
    ),
    path("quotes/<str:number>/revisions/<int:revision>/mails", sending.RevisionMails.as_view(), name="api_mails"),
    path("quotes/<str:number>/revisions/<int:revision>/link", sending.RevisionLink.as_view(), name="api_link"),
    path(
        "quotes/<str:number>/revisions/<int:revision>/link/withdraw",
        sending.WithdrawLink.as_view(),
        name="api_link_withdraw",
    ),
    path("quotes/<str:number>/revisions/<int:revision>/answer", answers.RevisionAnswer.as_view(), name="api_answer"),
    path(
        "quotes/<str:number>/revisions/<int:revision>/take-back",
        answers.TakeBackAcceptance.as_view(),
        name="api_take_back",
    ),
    path("texts", texts.Texts.as_view(), name="api_texts"),
    path("texts/sentences/<str:key>", texts.Sentence.as_view(), name="api_sentence"),
    path("texts/sentences/<str:key>/end", texts.EndSentence.as_view(), name="api_sentence_end"),
    path("texts/wordings/<int:text_id>", texts.Wording.as_view(), name="api_wording"),
    path("texts/notices", texts.Notices.as_view(), name="api_notices"),
    path("texts/notices/<int:notice_id>", texts.Notice.as_view(), name="api_notice"),
    path("texts/places", texts.Places.as_view(), name="api_notice_places"),
    path("texts/places/<int:place_id>", texts.Place.as_view(), name="api_notice_place"),
    path("catalog/materials", catalog.Materials.as_view(), name="api_materials"),
    path("catalog/materials/<path:code>", catalog.OneMaterial.as_view(), name="api_material"),
    path("catalog/suppliers", catalog.Suppliers.as_view(), name="api_suppliers"),
    path("catalog/suppliers/<path:code>/order-terms", order_terms.OrderTerms.as_view(), name="api_order_terms"),
    path("catalog/suppliers/<path:code>", catalog.OneSupplier.as_view(), name="api_supplier"),
    path("catalog/lead-records/<path:code>", lead_record.LeadRecord.as_view(), name="api_lead_record"),
    path("catalog/supplier-scores/<path:code>", lead_record.ScoreOfSupplier.as_view(), name="api_supplier_score"),
    path("catalog/firm", catalog.OurFirm.as_view(), name="api_firm"),
    path("work-up", work_up.WorkUpJobFile.as_view(), name="api_work_up"),
    path("takeoff", work_up.TakeoffOfWall.as_view(), name="api_take_off"),
    # People type these two without the slash they are served under.
    path("schema", RedirectView.as_view(pattern_name="api_schema"), name="api_schema_short"),
    path("docs", RedirectView.as_view(pattern_name="api_docs"), name="api_docs_short"),
    path("<whatever:unknown>", unknown.Unknown.as_view(), name="api_unknown"),
]
