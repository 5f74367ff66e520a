"""Find what the job does not say and somebody has still to look up or to measure on site."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from cardgen.asbuilt.model.as_built import AsBuilt, OwnerFinding
from cardgen.asbuilt.model.built_boxes import BuiltBox, BuiltJoint
from cardgen.asbuilt.model.built_controllers import BuiltController


def gaps(known: AsBuilt) -> Iterator[OwnerFinding]:
    """Kind by kind, each with all that lack it; first what the job says is not known."""
    subjects = dict.fromkeys(question.subject for question in known.questions)
    subjects.pop("ties", None)  # they are told with the boxes that have none
    for subject in subjects:
        asked = (question for question in known.questions if question.subject == subject)
        yield OwnerFinding(
            code=f"{subject} not known", things=tuple(dict.fromkeys(q.thing for q in asked))
        )
    decoders = (valve.decoder for valve in known.in_order if valve.decoder)
    controllers = (c.id for c in known.controllers if _unknown_connector_at(c))
    lacking = {
        "no distances": _boxes(known, lambda box: len(box.ties) < 2 and not box.coordinates),
        "not as built": _boxes(known, lambda box: bool(box.joints) and not box.as_built),
        "leads unknown": _boxes(known, lambda box: any(map(_unknown_leads, box.joints))),
        "connector unknown": (
            *controllers,
            *_boxes(known, lambda box: any(map(_unknown_connector, box.joints))),
        ),
        "no serial": tuple(decoder.id for decoder in decoders if not decoder.serial),
    }
    for code, things in lacking.items():
        if things:
            yield OwnerFinding(code=code, things=tuple(dict.fromkeys(things)))


def _boxes(known: AsBuilt, lacks: Callable[[BuiltBox], bool]) -> tuple[str, ...]:
    return tuple(box.id for box in known.boxes if lacks(box))


def _unknown_leads(joint: BuiltJoint) -> bool:
    """Of a joint with a wire of which the gauge is not known, that gap is the one to close."""
    return not joint.counts and not joint.has_unknown_wire


def _unknown_connector(joint: BuiltJoint) -> bool:
    """Of a joint with a lead of which the gauge is not known, that gap is the one to close."""
    return bool(joint.counts) and not joint.held


def _unknown_connector_at(controller: BuiltController) -> bool:
    on_c = any(
        each.takes_pigtail and not each.held and all(wire.mark.gauge for wire in each.wires)
        for each in controller.terminals
    )
    return on_c or any(map(_unknown_connector, controller.connectors))
