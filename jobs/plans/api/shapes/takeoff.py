from typing import Any

from jobs.core.measure.survey import LINES, MEASURED_ON
from jobs.core.measure.wall_spec import BEND_WAYS, FORMS
from jobs.walls.api.shapes import survey, wall_shape
from quoting.platform.api.parts import (
    AREA,
    DAY,
    FIGURE,
    FINDINGS,
    FLAG,
    LENGTH,
    MONEY,
    NUMBER,
    OVERRIDE,
    TEXT,
    WHOLE,
    WHY,
    many,
    one_of,
    or_none,
    ref,
    thing,
)

Schema = dict[str, Any]
MONEY_SEEN = "Left out for roles that see no costs."
FACE = one_of("left", "right")
SIDES = ("concave_framing", "concave_finished", "convex_framing", "convex_finished")
CURVED = ("turn", "sweep_deg", "radii", "by_side", "band", "chord", "turned_deg", "template")
LAYERED = ("face", "layer", "direction", "moisture", "would_pass")
# A coordinate may be negative, and is written like a length.
COORDINATE = LENGTH


def by_line(schema: Schema) -> Schema:
    return thing("", (), **dict.fromkeys(LINES, schema))


PIECE = thing(
    "One piece of the wall, on its five lines; an arc with its radii, a piece to a template with its chord.",
    CURVED,
    number=WHOLE,
    shape=one_of("arc", "straight", "template"),
    lengths=by_line(LENGTH),
    turn=FACE,
    sweep_deg=NUMBER,
    radii=by_line(LENGTH),
    by_side=thing("", (), **dict.fromkeys(SIDES, thing("", line=one_of(*LINES), radius=LENGTH, length=LENGTH))),
    band=survey.ARC_BAND,
    chord=LENGTH,
    turned_deg=NUMBER,
    template=or_none(TEXT),
)
CHECK = thing(
    "Whether a board or the track takes the curve; a board's check names its layer.",
    LAYERED,
    key=TEXT,
    what=TEXT,
    piece=WHOLE,
    radius=LENGTH,
    least_radius=or_none(LENGTH),
    verdict=TEXT,
    sentence=TEXT,
    band=survey.CHECK_BAND,
    source=TEXT,
    sure=or_none(TEXT),
    override=OVERRIDE,
    face=FACE,
    layer=WHOLE,
    direction=TEXT,
    moisture=TEXT,
    would_pass=many(
        thing(
            "A way to hang board that passes there.",
            board=TEXT,
            direction=TEXT,
            moisture=TEXT,
            layers=WHOLE,
            least_radius=LENGTH,
            sure=TEXT,
        )
    ),
)
SPACING = thing(
    "The stud spacing of one piece and why.",
    piece=WHOLE,
    convex_length=LENGTH,
    greatest=LENGTH,
    chosen=LENGTH,
    links=or_none(WHOLE),
    bays=WHOLE,
    from_=TEXT,
    facet_sagitta=LENGTH,
    why=WHY,
)
STATION = thing(
    "Where a stud stands.",
    number=WHOLE,
    along=LENGTH,
    convex=LENGTH,
    x_mm=or_none(NUMBER),
    y_mm=or_none(NUMBER),
    heading_deg=or_none(NUMBER),
    kind=TEXT,
    count=WHOLE,
    stud_length=LENGTH,
)
FRAMING = thing(
    "",
    base_station_count=WHOLE,
    stud_count=WHOLE,
    laid_flat_count=WHOLE,
    spacing=many(SPACING),
    stations=many(STATION),
    stud_list=many(thing("", length=LENGTH, count=WHOLE)),
    track=many(thing("", run=TEXT, opening=TEXT, length=LENGTH)),
    track_lengths=thing("", top=LENGTH, bottom=LENGTH, head=LENGTH, sill=LENGTH, arch=LENGTH),
)
LAYER = thing(
    "One layer of board, rolled out.",
    layer=WHOLE,
    board=TEXT,
    direction=TEXT,
    developed=LENGTH,
    net_area=AREA,
    courses=many(thing("", number=WHOLE, foot=LENGTH, head=LENGTH)),
    pieces=many(
        thing("", number=WHOLE, course=WHOLE, from_=LENGTH, to=LENGTH, sheet=or_none(WHOLE), pack=or_none(TEXT))
    ),
    butt_joints=many(thing("", course=WHOLE, along=LENGTH)),
    joint_length=LENGTH,
)
BOARDS = thing(
    "",
    face=FACE,
    layers=many(LAYER),
    sheets=many(thing("", board=TEXT, pack=TEXT, count=WHOLE)),
)
ARC = thing(
    "",
    key=TEXT,
    piece=WHOLE,
    side=TEXT,
    radius=LENGTH,
    least_radius=or_none(LENGTH),
    verdict=TEXT,
    sentence=TEXT,
    band=survey.CHECK_BAND,
    source=TEXT,
    advice=or_none(TEXT),
    flex_tighter=or_none(LENGTH),
    flex_easier=or_none(LENGTH),
    override=OVERRIDE,
)
ORDER = thing(
    "What an order of the trim states; not ready while something is missing.",
    profile=TEXT,
    size=TEXT,
    grade=or_none(TEXT),
    application=TEXT,
    radii=many(thing("", piece=WHOLE, side=TEXT, radius=LENGTH, band=survey.CHECK_BAND, measured_at=TEXT)),
    shape=or_none(TEXT),
    piece_lengths=many(LENGTH),
    need_by=or_none(DAY),
    missing=many(TEXT),
    missing_said=many(TEXT),
)
FOLLOWS = thing(
    "What a piece of trim follows on one piece of the wall; no radius on a straight.",
    piece=WHOLE,
    side=TEXT,
    radius=or_none(LENGTH),
    length=LENGTH,
)
TRIM = thing(
    "",
    key=TEXT,
    name=TEXT,
    face=FACE,
    position=TEXT,
    profile=TEXT,
    form=one_of(*FORMS),
    bent=one_of(*BEND_WAYS),
    line=one_of(*LINES),
    face_length=LENGTH,
    taken=LENGTH,
    returns=LENGTH,
    net=LENGTH,
    arcs=many(ARC),
    pieces=many(thing("", needed=LENGTH, ordered=LENGTH, follows=many(FOLLOWS))),
    ordered=LENGTH,
    splices=WHOLE,
    backing=LENGTH,
    cap=many(wall_shape.CAP),
    mitres=many(wall_shape.MITRE),
    order=or_none(ORDER),
)
OPENING = thing("", name=TEXT, piece=WHOLE, centre_at=LENGTH, taken=by_line(LENGTH), bulge=LENGTH)
WALL = thing(
    "One wall worked up.",
    key=TEXT,
    name=TEXT,
    measured_on=one_of(*MEASURED_ON),
    stud_depth=LENGTH,
    build_up=thing("", left=LENGTH, right=LENGTH),
    pieces=many(PIECE),
    lengths=by_line(LENGTH),
    longer_framing=LENGTH,
    areas=by_line(thing("", gross=AREA, net=AREA)),
    end=thing("", x=COORDINATE, y=COORDINATE, heading_deg=NUMBER, closure=LENGTH, closed=FLAG),
    joints=many(thing("", after_piece=WHOLE, at=LENGTH, kink_deg=NUMBER, tangent=FLAG)),
    openings=many(OPENING),
    checks=many(CHECK),
    framing=FRAMING,
    boards=many(BOARDS),
    trim=many(TRIM),
    uses=many(thing("Used and not bought, such as water.", key=TEXT, label=TEXT, quantity=FIGURE, unit=TEXT, why=WHY)),
    **wall_shape.SHAPE,
    offsets=survey.OFFSETS,
    dimensions=survey.DIMENSIONS,
    holds=survey.HOLDS,
    room=survey.ROOM,
    findings=FINDINGS,
)
LINE = thing(
    "One quantity of one wall, or of an item of the job.",
    key=TEXT,
    wall=or_none(TEXT),
    label=TEXT,
    material=TEXT,
    computed=FIGURE,
    net=FIGURE,
    unit=TEXT,
    why=WHY,
    override=OVERRIDE,
    drift=or_none(FIGURE),
)
PACK = thing(
    MONEY_SEEN,
    ("unit_price", "amount"),
    pack=TEXT,
    label=TEXT,
    count=WHOLE,
    unit_price=or_none(MONEY),
    amount=or_none(MONEY),
)
PURCHASE = thing(
    f"What to buy of one material over all walls: net, waste and rounding apart. `cost`: {MONEY_SEEN}",
    ("cost", "stock_cost"),
    material=TEXT,
    name=TEXT,
    kind=TEXT,
    supply=TEXT,
    unit=TEXT,
    net=FIGURE,
    waste=FIGURE,
    rounding=FIGURE,
    buy=FIGURE,
    packs=many(PACK),
    packs_wall_by_wall=or_none(WHOLE),
    cost=or_none(MONEY),
    on_hand={**FIGURE, "description": "Taken of the firm's stock that is set aside for the job."},
    stock_cost={**MONEY, "description": f"What the job is charged for it, beside `cost`. {MONEY_SEEN}"},
    shares=many(thing(MONEY_SEEN, ("cost",), wall=or_none(TEXT), net=FIGURE, cost=or_none(MONEY))),
    cuts=or_none(many(thing("", stick=TEXT, cuts_mm=many(NUMBER), left_mm=NUMBER))),
    lines=many(TEXT),
    why=WHY,
)
QUANTITIES: Schema = {
    "lines": many(ref("TakeoffLine")),
    "purchases": many(ref("Purchase")),
    "material_cost": {**or_none(MONEY), "description": MONEY_SEEN},
    "findings": FINDINGS,
}

SHAPES: Schema = {
    "WallWorkUp": WALL,
    "TakeoffLine": LINE,
    "Purchase": PURCHASE,
    "Takeoff": thing(
        "The takeoff of a job.",
        ("material_cost",),
        job=TEXT,
        title=TEXT,
        on=DAY,
        walls=many(ref("WallWorkUp")),
        **QUANTITIES,
    ),
    "WallTakeoff": thing(
        "One wall taken off by itself.", ("material_cost",), on=DAY, wall=ref("WallWorkUp"), **QUANTITIES
    ),
}
