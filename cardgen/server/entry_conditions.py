"""Ask once for a walk under which conditions it is measured, and turn that into their text."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from cardgen.record.html import Markup, element
from cardgen.results.conditions import UnknownCondition, conditions_of
from cardgen.server.bad_field import BadField
from cardgen.server.job_context import JobContext
from cardgen.words import Words

_BYPASSED = "bypassed "  # before the name of a sensor
_PARTED = "commons_parted"
_LENGTH = "6"  # `-12.5`, `26.85`
# By field the unit behind the number.
_NUMBERS = {"lead_ohms": "Ω", "terminal_volts": "V"}
_DEGREES, _SCALE, SCALES = "degrees", "scale", ("F", "C")


def conditions_part(context: JobContext, typed: Mapping[str, str]) -> Markup:
    """Folded up: most walks need none of it.  A script keeps it for the day."""
    summary = element(
        "summary", context.text("conditions"), element("span", id="conditions-said", class_="small")
    )
    return element("details", summary, *_fields(context, typed), id="conditions")


def _fields(context: JobContext, typed: Mapping[str, str]) -> Iterator[Markup]:
    for sensor in context.now.sensors:
        said = context.text("sensor bypassed", sensor=sensor.id)
        yield _check(f"{_BYPASSED}{sensor.id}", said, typed)
    if len(context.now.controllers) > 1:
        yield _check(_PARTED, context.text("commons separated"), typed)
    usual = SCALES[context.now.unit == "m"]
    scales = (
        element("option", f"°{scale}", value=scale, selected=scale == typed.get(_SCALE, usual))
        for scale in SCALES
    )
    yield element("label", context.text(_DEGREES), for_=f"f-{_DEGREES}")
    yield _number(_DEGREES, typed)
    yield element(
        "select",
        *scales,
        name=_SCALE,
        class_="field",
        aria_label=context.text(_DEGREES),
    )
    for name in _NUMBERS:
        yield element("label", context.text(name), for_=f"f-{name}")
        yield _number(name, typed)


def _check(name: str, said: str, typed: Mapping[str, str]) -> Markup:
    box = element("input", type="checkbox", name=name, value="1", checked=name in typed)
    return element("label", box, said, class_="check")


def _number(name: str, typed: Mapping[str, str]) -> Markup:
    return element(
        "input",
        id=f"f-{name}",
        name=name,
        class_="field",
        inputmode="decimal",
        autocomplete="off",
        maxlength=_LENGTH,
        value=typed.get(name, ""),
        data_unit=_NUMBERS.get(name, "°"),
    )


def conditions_text(fields: Mapping[str, str], words: Words) -> str:
    """In the language of the form, as `cardgen.results.conditions` reads it.

    Raises:
        BadField: at the first field that says none.
    """
    parts = []
    sensors = [name.removeprefix(_BYPASSED) for name in fields if name.startswith(_BYPASSED)]
    if sensors:
        parts.append(words("conditions.bypassed", sensors=", ".join(sensors)).printed)
    if fields.get(_PARTED):
        parts.append(words("conditions.commons separated").printed)
    degrees = _decimal(fields, _DEGREES)
    if degrees:
        scale = fields.get(_SCALE, "")
        if scale not in SCALES:
            raise BadField("form")
        parts.append(f"{degrees} {scale}")
    numbers = {name: _decimal(fields, name) for name in _NUMBERS}
    parts += [words(f"conditions.{name}", number=n).printed for name, n in numbers.items() if n]
    for part in parts:
        try:
            conditions_of(part)
        except UnknownCondition as fault:
            raise BadField("conditions", text=part) from fault
    return "; ".join(parts)


def _decimal(fields: Mapping[str, str], name: str) -> str:
    """A comma is a decimal one: none of these is a thousand."""
    return fields.get(name, "").strip().replace(",", ".").rstrip(".")
