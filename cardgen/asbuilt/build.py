"""Put together what is known of a job: conductors first, then what is made of them."""

from __future__ import annotations

from collections.abc import Iterable

from cardgen.asbuilt.box_contents import boxes
from cardgen.asbuilt.connectors import connectors
from cardgen.asbuilt.controllers import controllers
from cardgen.asbuilt.findings import findings
from cardgen.asbuilt.live_metal import LiveMetal
from cardgen.asbuilt.metal import Metal
from cardgen.asbuilt.model.as_built import AsBuilt, BuiltChange
from cardgen.asbuilt.places import cables, usual_unit
from cardgen.asbuilt.questions import questions
from cardgen.asbuilt.sensor_leads import sensors
from cardgen.asbuilt.spare_reach import spares
from cardgen.facts import Facts
from cardgen.gc_pause import gc_paused
from cardgen.job.job_parts import Water
from cardgen.problems import Problem


@gc_paused()
def as_built(facts: Facts, problems: Iterable[Problem] = ()) -> AsBuilt:
    """Everything that is known of a job in which there are no errors; `problems` are the rest."""
    job = facts.job
    info, record = job.info, job.record
    assert info is not None  # else there were errors
    metal = Metal(facts)
    live = LiveMetal(facts, metal)
    free = tuple(spares(facts, metal))
    known = tuple(sensors(facts))
    return AsBuilt(
        job_code=info.code.value,
        site=info.site.value,
        key=record.key.value if record else "",
        address=f"{record.address.value}/{record.key.value}" if record else "",
        revision=info.revision,
        date=info.date,
        boxes=tuple(boxes(facts, metal, live, free)),
        controllers=tuple(controllers(facts, metal, live, known)),
        spares=free,
        changes=tuple(
            BuiltChange(revision=c.revision, date=c.date, text=c.text.value) for c in job.changes
        ),
        water=str(Water.RECLAIMED) if info.water is Water.RECLAIMED else "",
        unit=str(usual_unit(job)),
        order=tuple(facts.wiring.loads),
        conductors=tuple(metal.conductors()),
        cables=tuple(cables(job)),
        sensors=known,
        connectors=tuple(connectors(facts)),
        decoders=len(job.decoders),
        surge_units=tuple(name.value for name in job.surge_units),
        slack=job.slack,
        insulation_test=info.insulation_test,
        least_insulation=info.least_insulation,
        ground_limit=info.ground_limit,
        owner=info.owner,
        contractor=info.contractor,
        license_number=info.license_number,
        findings=tuple(findings(problems)),
        questions=tuple(questions(facts)),
    )
