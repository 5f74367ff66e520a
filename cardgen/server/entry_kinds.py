"""Offer what can be measured, first what is at every valve; and between what and what it is."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from itertools import product

from cardgen.asbuilt import Role
from cardgen.asbuilt.model.named_metal import metal_by_place
from cardgen.record.html import Markup, element
from cardgen.results import Kind
from cardgen.results.measured import NONE_RAN
from cardgen.results.reading_ends import OF_NO_VALVE, columns_of, needed_columns
from cardgen.results.reading_value import FACTORS, SYMBOLS, NotAValue, value_read
from cardgen.server.job_context import JobContext
from cardgen.server.reading_fields import FIELD_OF
from cardgen.server.readings_html import kind_name

MARKS = ("OL", "k", "M", "m", "A")  # keys; a script shows those of the unit
# What a meter shows behind a number, by unit; common practice, no source.
_MARKS_OF = {"Ω": ("k", "M"), "V": ("m",), "mA": ("m", "A"), "MΩ": ("k", "M")}
# What is measured at every valve, and needs no more than that and a value.
OFFERED = (Kind.CONTROLLER, Kind.COIL, Kind.VOLTS, Kind.MILLIAMPERES, Kind.INSULATION)
FURTHER = tuple(kind for kind in Kind if kind not in OFFERED)
# By kind and column what can be named there; else any metal.
_METAL = tuple(Role)
_ENDS: Mapping[tuple[Kind, str], tuple[str, ...]] = {
    (Kind.HOT_TO_HOT, "to"): (Role.HOT,),
    (Kind.COMMON_TO_COMMON, "from"): ("controller",),
    (Kind.COMMON_TO_COMMON, "to"): ("controller",),
    (Kind.OTHER_COMMON, "to"): ("controller",),
    (Kind.SPARE_LOOP, "from"): (Role.SPARE, Role.DEAD),
    (Kind.SPARE_LOOP, "box"): ("box",),
    (Kind.BOX_LOOP, "box"): ("box",),
    (Kind.WALK_TEST, "to"): ("valve", NONE_RAN),
}


def kinds_part(context: JobContext, chosen: str) -> Markup:
    """One press longer for what is measured now and then."""
    groups = {"at every valve": OFFERED, "further kinds": FURTHER}
    return element(
        "select",
        *(
            element(
                "optgroup",
                *(_kind(context, kind, chosen) for kind in kinds),
                label=context.text(title),
            )
            for title, kinds in groups.items()
        ),
        id="f-kind",
        name="kind",
        class_="field",
    )


def _kind(context: JobContext, kind: Kind, chosen: str) -> Markup:
    return element(
        "option",
        kind_name(context, kind),
        value=str(kind),
        selected=kind == chosen,
        data_unit=kind.unit,
        data_ol=kind.may_be_ol,
        data_factors=json.dumps(factors_of(kind), ensure_ascii=False),
        data_keys=json.dumps((*(["OL"] if kind.may_be_ol else []), *_MARKS_OF.get(kind.unit, ()))),
        data_ends=json.dumps({FIELD_OF[c]: _ENDS.get((kind, c), _METAL) for c in columns_of(kind)}),
        data_needed=json.dumps([FIELD_OF[column] for column in needed_columns(kind)]),
        data_of_no_valve=kind in OF_NO_VALVE,
    )


def factors_of(kind: Kind) -> dict[str, float]:
    """By all that may be written behind a number, what one of it is in the unit of the kind."""
    if not kind.unit:
        return {}
    found: dict[str, float] = {}
    # One of the largest is more than is taken, a part of it is not.
    for number, mark, symbol in product((0.001, 1), FACTORS, ("", *SYMBOLS)):
        try:
            found[f"{mark}{symbol}"] = value_read(f"{number} {mark}{symbol}", kind) / number
        except NotAValue:
            continue
    return found


# ---- between what and what -----------------------------------------------------------------


def ends_part(context: JobContext, place: str, typed: Mapping[str, str]) -> Iterator[Markup]:
    """A script shows those fields that the kind has, with what is at this place."""
    metal = tuple(_metal(context))
    controllers = [("controller", each.id, each.id, ()) for each in context.now.controllers]
    valves = [("valve", v.id, f"{v.id} {v.area}".strip(), ()) for v in context.now.valves]
    none = [(NONE_RAN, NONE_RAN, context.text("none ran"), ())]
    boxes = [("box", box, box, ()) for box in context.now.box]
    yield from _choice(context, "from", (*metal, *controllers), typed)
    yield from _choice(context, "to", (*none, *metal, *controllers, *valves), typed)
    yield from _choice(context, "in_box", boxes, {"in_box": place, **typed})


_End = tuple[str, str, str, tuple[str, ...]]  # what it is, its name, as it is shown, where it is


def _metal(context: JobContext) -> Iterator[_End]:
    """Each name once, with all places at which a meter can be put on it."""
    found: dict[str, tuple[Role, list[str]]] = {}
    for place, names in metal_by_place(context.now).items():
        for name, role in names.items():
            found.setdefault(name, (role, []))[1].append(place)
    colors = {spare.id: spare.mark for spare in context.now.spares}
    for name, (role, places) in found.items():
        mark = colors.get(name)
        color = f" ({mark.cable} {context.page_words.color(mark.word)})" if mark else ""
        yield role, name, f"{name}{color}", tuple(places)


def _choice(
    context: JobContext, name: str, ends: Iterable[_End], typed: Mapping[str, str]
) -> Iterator[Markup]:
    chosen = typed.get(name, "")
    options = (
        element(
            "option",
            shown,
            value=value,
            selected=value == chosen,
            data_what=what,
            data_at=json.dumps(places),
        )
        for what, value, shown, places in ends
    )
    said = context.text(f"end {name}")
    yield element("label", said, for_=f"f-{name}", class_="hidden-label")
    yield element(
        "select",
        element("option", said, value=""),
        *options,
        id=f"f-{name}",
        name=name,
        class_="field end",
        data_own=context.text("own hot" if name == "from" else "itself", valve="#valve"),
    )
