"""Set what is said of readings: a verdict, a row, a link to another page of the job."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from starlette.responses import Response

from cardgen.record import names
from cardgen.record.html import Child, Markup, element, joined
from cardgen.results import Finding, Measured, Outcome, verdict
from cardgen.results.model import value_text
from cardgen.server.asked import Asked, last_valve
from cardgen.server.frame import document
from cardgen.server.visit import Visit

READINGS, RESULTS, REPORTS, TABLE, PHOTOS = (
    *("READINGS_", "RESULTS_", "REPORTS_", "READINGS_CSV_", "PHOTOS_"),
)
# A verdict is a word and a sign beside its colour of none: nothing is told by hue.
SIGNS = {Outcome.GOOD: "✓", Outcome.LOOK: "!", Outcome.UNKNOWN: "?"}
STYLE = """
.verdict{border-left:8px solid #111111;padding:4px 0 4px 12px;margin:8px 0}
.verdict b{font-size:22px}
.sign{display:inline-block;min-width:30px;text-align:center;border:3px solid #111111;\
border-radius:6px;margin-right:8px;font-weight:800}
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
.check input{width:32px;height:32px}
input[type=file]{min-height:64px;width:100%;font:inherit}
input::file-selector-button{min-height:60px;font:inherit;font-weight:700;border:3px solid #111111;\
border-radius:10px;background:#FFFFFF;color:#111111;margin-right:12px;padding:0 14px}
select.field{width:100%}
.table{width:100%;border-collapse:collapse;margin:10px 0}
.table td,.table th{border-bottom:1px solid #111111;padding:8px 6px 8px 0;text-align:left;\
vertical-align:top}
.table td{overflow-wrap:break-word}
.table td:first-child{width:8.5rem}
.table b{display:block;font-size:24px}
summary{min-height:60px;display:flex;align-items:center;font-weight:700;font-size:20px;\
border:3px solid #111111;border-radius:10px;padding:8px 14px;margin-top:20px}
""".strip()


def page(  # a page has that many parts
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
        go(about.text("to the job"), names.INDEX),
        go(about.text("to results"), RESULTS),
    ]
    if visit.crew:
        links.append(go(about.text("to reports"), REPORTS))
    return element("nav", *links, class_="bar", aria_label=about.text("around"))


def go(text: Child, href: str, about: str = "") -> Markup:
    """A large link, with a second line if there is more to say."""
    small = element("small", about) if about else None
    return element("a", element("span", text, small), class_="go", href=href)


def kind_name(about: Asked, kind: str) -> str:
    return str(about.words(f"measured.{kind}"))


def amount(measured: Measured) -> str:
    """`31.4 Ω`, `OL`."""
    text = value_text(measured.value)
    return text if text == "OL" else f"{text} {measured.kind.unit}"


def finding_of(about: Asked, measured: Measured) -> Finding | None:
    """The verdict against the newest revision that has the valve."""
    valve = last_valve(about.job, measured.valve)
    return verdict(measured, valve) if valve is not None else None


def sentence(about: Asked, finding: Finding) -> str:
    return str(about.words(f"verdict.{finding.name}", **finding.values))


def next_step(about: Asked, name: str, finding: Finding) -> str:
    return str(about.words(f"next.{name}", **finding.values))


def sign(outcome: Outcome) -> Markup:
    shown = element("span", SIGNS[outcome], class_="sign", aria_hidden="true")
    return joined(shown, " ")


def verdict_part(about: Asked, measured: Measured) -> Markup:
    """Value, verdict and next step."""
    finding = finding_of(about, measured)
    head = f"{measured.valve}: {kind_name(about, measured.kind)}: {amount(measured)}"
    if finding is None:
        return element("div", element("b", head), class_="verdict")
    return element(
        "div",
        element("p", sign(finding.outcome), element("b", head)),
        element("p", sentence(about, finding)),
        element("p", next_step(about, finding.name, finding)),
        class_="verdict",
    )


def row(about: Asked, measured: Measured) -> Markup:
    """A value with its day and verdict, without who measured it."""
    finding = finding_of(about, measured)
    said: tuple[Child, ...] = (
        f"{kind_name(about, measured.kind)}: ",
        element("b", amount(measured)),
    )
    when_ = element("span", f" · {measured.when[:10]}", class_="small")
    if finding is None:
        return element("div", element("p", *said, when_), class_="verdict")
    first = element("p", sign(finding.outcome), *said, when_)
    return element("div", first, element("p", sentence(about, finding)), class_="verdict")


def table(heads: Iterable[str], rows: Iterable[Iterable[Child]]) -> Markup:
    head = element("tr", *(element("th", text, scope="col") for text in heads))
    body = (element("tr", *(element("td", cell) for cell in row)) for row in rows)
    return element("table", element("thead", head), element("tbody", *body), class_="table")


def lines(text: str) -> Markup:
    """A text of a person, with its line ends."""
    parts = text.split("\n")
    rest = (part for line in parts[1:] for part in (element("br"), line))
    return joined(parts[0], *rest)
