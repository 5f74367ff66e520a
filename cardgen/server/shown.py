"""Set what is said of readings: a verdict, a row, a link to another page of the job."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from starlette.responses import Response

from cardgen.record.frame import go
from cardgen.record.html import Child, Markup, element, joined
from cardgen.record.judging import Judged, judged
from cardgen.record.results_page import verdict_line
from cardgen.results import Measured
from cardgen.server.frame import document
from cardgen.server.job_context import JobContext as Asked
from cardgen.server.request_context import RequestContext as Visit

READINGS, RESULTS, REPORTS, TABLE, PHOTOS = (
    *("READINGS_", "RESULTS_", "REPORTS_", "READINGS_CSV_", "PHOTOS_"),
)
STYLE = """
.where+*{margin-top:12px}
.verdict{border-left:8px solid #111111;padding:4px 0 4px 12px;margin:8px 0}
.tiles{border:0;padding:0;margin:14px 0;display:grid;gap:10px;\
grid-template-columns:repeat(auto-fill,minmax(140px,1fr))}
.tiles legend{font-weight:700;padding:0;margin-bottom:6px}
.tile{position:relative;margin:0;font-weight:400}
.tile input{position:absolute;opacity:0;width:100%;height:100%;margin:0}
.tile span{display:block;min-height:60px;border:3px solid #111111;border-radius:10px;\
padding:8px 12px;font-weight:700}
.tile small{display:block;font-weight:400}
.tile input:checked+span{background:#111111;color:#FFFFFF}
.tile input:checked+span:before{content:"\\2713\\20"}
.tile input:checked+span small{color:#FFFFFF}
.tile input:focus-visible+span{outline:4px solid #0B3D91;outline-offset:2px}
.keys{display:grid;grid-template-columns:1fr 1fr 1fr;gap:8px;margin:10px 0}
.keys button{margin:0;min-height:64px;background:#FFFFFF;color:#111111;font-size:28px}
.keys button:last-child{grid-column:1/-1}
.keys button:active{background:#111111;color:#FFFFFF}
input.value{font-size:40px;font-weight:800;min-height:72px}
textarea.field{min-height:96px}
.check{display:flex;align-items:center;gap:12px;min-height:60px}
.check input{width:48px;height:48px}
input[type=file]{min-height:64px;width:100%;font:inherit}
input::file-selector-button{min-height:60px;font:inherit;font-weight:700;border:3px solid #111111;\
border-radius:10px;background:#FFFFFF;color:#111111;margin-right:12px;padding:0 14px}
select.field{width:100%}
.table{width:100%;border-collapse:collapse;margin:10px 0}
.table td,.table th{border-bottom:1px solid #111111;padding:8px 6px 8px 0;text-align:left;\
vertical-align:top}
.table td{overflow-wrap:break-word}
.table td:first-child{width:8.5rem}
.table td:first-child b{display:block;font-size:24px}
#next{margin-bottom:12px}
summary{min-height:60px;display:flex;align-items:center;font-weight:700;font-size:20px;\
border:3px solid #111111;border-radius:10px;padding:8px 14px;margin-top:20px}
""".strip()


def page(
    visit: Visit,
    about: Asked,
    title: str,
    *contents: Child,
    scripts: Sequence[str] = (),
    status: int = 200,
) -> Response:
    """A page of the crews, with the way back to the job above it."""
    head = element("h1", title)
    site = element("p", f"{about.now.site} · {about.now.job}", class_="where")
    return document(
        about.words,
        f"{title}: {about.now.site}",
        bar(visit, about),
        head,
        site,
        *contents,
        scripts=scripts,
        style=STYLE,
        status=status,
    )


def bar(visit: Visit, about: Asked) -> Markup:
    """The job, and what crews have entered."""
    links = [
        go(about.text("to the job"), about.to_place("")),
        go(about.text("to results"), about.to(RESULTS)),
    ]
    if visit.crew:
        links.append(go(about.text("to reports"), about.to(REPORTS)))
    return element("nav", *links, class_="bar", aria_label=about.text("around"))


def kind_name(about: Asked, kind: str) -> str:
    return str(about.words(f"measured.{kind}"))


def judged_of(about: Asked, measured: Measured) -> Judged | None:
    """With its verdict, against what the job said on that day; None of a valve it never had."""
    found = judged(about.job.revisions, (measured,)).get(measured.valve)
    return found[0] if found else None


def title_of(about: Asked, measured: Measured) -> str:
    return f"{measured.valve}: {kind_name(about, measured.kind)}: {measured.shown}"


def next_step(about: Asked, each: Judged) -> str:
    return about.page_words.of("next", each.finding.name, **each.finding.values)


def row(about: Asked, measured: Measured) -> Markup:
    """A value with its day and verdict, without who measured it."""
    each = judged_of(about, measured)
    day = element("span", f" · {measured.when[:10]}", class_="small")
    head = element("p", f"{kind_name(about, measured.kind)}: ", element("b", measured.shown), day)
    line = verdict_line(about.page_words, each) if each else None
    return element("div", head, line, class_="verdict")


def table(heads: Iterable[str], rows: Iterable[Iterable[Child]]) -> Markup:
    head = element("tr", *(element("th", text, scope="col") for text in heads))
    body = (element("tr", *(element("td", cell) for cell in row)) for row in rows)
    return element("table", element("thead", head), element("tbody", *body), class_="table")


def lines(text: str) -> Markup:
    """A text of a person, with its line ends."""
    parts = text.split("\n")
    rest = (part for line in parts[1:] for part in (element("br"), line))
    return joined(parts[0], *rest)
