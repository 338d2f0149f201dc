"""What passes between firm and client: mails, links, answers, and what is taken back."""

from dataclasses import dataclass
from datetime import datetime
from typing import Annotated, Any

from catalog.core.ground.declared import Choice, Of, Text, View
from catalog.core.ground.request_keys import RequestKey
from quoting.client.services.entered import NewAnswer, NewTakeBack
from quoting.platform.api.declared import answer_shapes, list_of, request_shapes
from quoting.platform.api.parts import FLAG, TEXT, WENT_BY, thing
from quoting.platform.errands.models import ErrandState
from quoting.platform.mail import MAX_MESSAGE
from quoting.platform.models.mail_ways import MailWay
from quoting.quotes.api.shapes.quote import AnswerShown

Schema = dict[str, Any]


class MailShown(View):
    """A mail to the client: asked for, and sent at `sent_at`. An error says why not."""

    document_name = "mail"
    document_description = f"A mail to the client, sent at `sent_at`. An error says why not. {WENT_BY}"

    to_address: Annotated[str, Of("mail.to_address")]
    message: Annotated[str, Of("mail.message")]
    asked_at: Annotated[datetime, Of("mail.asked_at")]
    asked_by: Annotated[str, Of("mail.asked_by_name")]
    sent_at: Annotated[datetime | None, Of("mail.left_at")]
    went_by: Annotated[str, Choice(("", *MailWay.values)), Of("mail.went_by")]
    state: Annotated[
        str, Choice(("none", *ErrandState.values)), Of(lambda sent: sent.errand.state if sent.errand else "none")
    ]
    error: Annotated[str, Of(lambda sent: sent.errand.error if sent.errand else "")]


Mails = list_of("Mails", "mails", MailShown, "Mails to the client, the latest first.")


@dataclass(frozen=True)
class NewMail:
    """`to_address`: one, or up to five with commas between. Without a message the mail says the usual."""

    request_key: RequestKey
    to_address: Annotated[str, Text(400)]
    message: Annotated[str, Text(MAX_MESSAGE)] = ""


class QuestionShown(View):
    """What a client asked. `answered_at` is null while it waits for an answer."""

    document_name = "question"

    id: int
    quote: Annotated[str, Of("revision.quote.number")]
    revision: Annotated[int, Of("revision.number")]
    text: str
    asked_at: datetime
    answered_at: datetime | None
    answered_by: Annotated[str, Of("answered_by_name")]


Questions = list_of("Questions", "questions", QuestionShown, "What the client of a job asked, the latest first.")

SHAPES: Schema = {
    **answer_shapes(Mails, AnswerShown, Questions),
    **request_shapes(NewMail, NewAnswer, NewTakeBack),
    "Link": thing("Where the client's page is. Anyone with it can answer.", address=TEXT),
    "LinkState": thing("", in_use=FLAG),
}
