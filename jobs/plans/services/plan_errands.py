"""Looking for better plans in the background."""

from datetime import date
from typing import ClassVar

from catalog.core.ground.refusal import Refused
from jobs.core.cutting.cutting import CuttingError
from jobs.core.measure.survey import SurveyError
from jobs.jobs.models import Job
from jobs.plans.models import PlanOf
from jobs.plans.services.asking import PLAN_BOARDS, PLAN_STICKS
from jobs.plans.services.finding import PlanResult, Unsound, find_plan
from jobs.plans.services.plans import keep_found
from quoting.platform import clock
from quoting.platform.errands.services.errand_kinds import Claim, ErrandRefused, errand_kind


class PlanErrand:
    what: ClassVar[str]

    def work(self, claim: Claim) -> PlanResult:
        claim.say("Working the walls up", 1)
        payload = claim.payload
        try:
            return find_plan(
                payload["job"], self.what, payload["mark"], date.fromisoformat(payload["today"]), claim.say
            )
        except Job.DoesNotExist as error:
            raise ErrandRefused("The job has been deleted.") from error
        except SurveyError as error:
            raise ErrandRefused(f"The walls cannot be worked out. {error.field}: {error.reason}") from error
        except Refused as error:
            raise ErrandRefused(str(error)) from error
        except CuttingError as error:
            raise ErrandRefused(f"The pieces cannot be cut from the sticks there are: {error.reason}") from error
        except Unsound as error:
            sentence = f"The plan found failed the independent check and was not saved: {error}"
            raise ErrandRefused(sentence) from error

    def store(self, claim: Claim, result: PlanResult) -> None:
        if Job.objects.filter(pk=claim.payload["job"]).exists():
            keep_found(claim.payload["job"], result.plan, mark=result.mark, seconds=result.seconds, now=clock.now())


@errand_kind(PLAN_BOARDS)
class PlanBoards(PlanErrand):
    """A better board plan for all faces of a job."""

    time_limit_s: ClassVar[int] = 240
    what = PlanOf.BOARDS.value


@errand_kind(PLAN_STICKS)
class PlanSticks(PlanErrand):
    """Better stick plans for all materials of a job."""

    time_limit_s: ClassVar[int] = 300
    what = PlanOf.STICKS.value
