from jobs.core.results.result_documents import TakeoffShown, WallTakeoffShown
from quoting.platform.api.declared import answer_shapes

SHAPES = answer_shapes(TakeoffShown, WallTakeoffShown)
