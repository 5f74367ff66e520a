"""The whole chain: each sample job printed on each stock, then judged by programs not ours.

Two decoders read every code from the page at the printer's own dots; two readers take out the
text; qpdf's library looks at the structure; page sizes are those of the standards.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from functools import cache

import pytest

from cardgen.address import record_spelling
from cardgen.examine import Examined, examine_text
from cardgen.facts import Facts
from cardgen.output.print_request import PrintRequest
from cardgen.output.printing import Print, make_print
from cardgen.output.selection import EVERYTHING, Selection
from cardgen.printer import PAPERS
from cardgen.wiring.wiring_parts import LoadKind
from tests.jobs import SAMPLES, edit, sample
from tests.layout.cards import shipped
from tests.outside.pages import (
    by_zbar,
    by_zxing,
    gray_by_pdfium,
    outline_by_pypdf,
    pages_by_poppler,
    sizes_mm,
    structure_faults,
    text_by_pdfium,
    text_by_poppler,
    whole_outline_by_pypdf,
)

# One worker makes the whole print of a job for all the tests that look at it.
GROUPS = {name: pytest.mark.xdist_group(f"print {name}") for name in SAMPLES}
NAMES = [pytest.param(name, marks=mark) for name, mark in GROUPS.items()]
# Of what heron has many the others have some: its many pages are judged once, and what differs with
# paper, stock or reader is seen on theirs. tests/layout lays it out on all paper.
LARGEST = "heron"
SMALLER = [param for param in NAMES if param.values != (LARGEST,)]
WHOLE = [
    pytest.param(name, paper, marks=mark)
    for name, mark in GROUPS.items()
    for paper in PAPERS
    if (name, paper) != (LARGEST, "a4")
]
# ISO 216 and ISO/IEC 7810 give millimeters; Letter is 8.5 x 11 in (from memory); a shipping tag
# no. 5 is 2 3/8 x 4 3/4 in (a maker's public list); the roll is 50 x 75 mm by its name.
SHEETS = {
    "id-1-letter": (215.9, 279.4),
    "id-1-a4": (210.0, 297.0),
    "roll-50x75": (50.0, 75.0),
    "shipping-tag-5": (120.65, 60.325),  # its hole lies at the left
}
# One stock for each way of feeding; `tests/layout` lays the samples out on all others.
# Heron's tags are for one of several on a sheet; quarry's are also for what is fed one by one.
PRINTS = [
    (name, stock)
    for name in SAMPLES
    for stock in SHEETS
    if name != LARGEST or stock == "id-1-letter"
]

TAGS = Selection(only=("valve-tags", "box-tags"))


@cache
def examined(name: str) -> Examined:
    return examine_text(sample(name))


def printed(name: str, stock: str = "", paper: str = "letter") -> Print:
    """Everything; with a stock named, only the tags, for nothing else depends on it."""
    return _printed(name, stock, paper)  # all three, or what is left out is printed twice


@cache
def _printed(name: str, stock: str, paper: str) -> Print:
    selection = TAGS if stock else EVERYTHING
    request = PrintRequest(selection=selection, paper=paper, stocks=(stock,))
    made, problems = make_print(examined(name), request)
    assert made is not None, problems
    return made


def pdfs(name: str, stock: str = "", paper: str = "letter") -> dict[str, bytes]:
    files = printed(name, stock, paper).files
    return {file: data for file, data in files.items() if file.endswith(".pdf")}


def expected_addresses(name: str, kind: str) -> Counter[str]:
    """How often each box's address must be found, from the trace."""
    facts = examined(name).facts
    assert facts and facts.job.record
    stem = f"{facts.job.record.address.value}/{facts.job.record.key.value}"
    if kind == "valve-tags.pdf":
        return Counter(f"{stem}/{record_spelling(x.box)}" for x in facts.wiring.loads.values())
    return Counter()


@pytest.mark.parametrize(("name", "stock"), PRINTS)
def test_two_decoders_read_the_code_of_every_tag(name: str, stock: str) -> None:
    """Each page at the dots of its own printer; the two decoders share no code."""
    dpi = min(shipped().stocks[stock].dots_per_inch, 300)
    pdf = printed(name, stock).files["valve-tags.pdf"]
    zxing: Counter[str] = Counter()
    zbar: Counter[str] = Counter()
    for page in range(len(sizes_mm(pdf))):
        picture = gray_by_pdfium(pdf, dpi=dpi, page=page)
        zxing.update(found.text for found in by_zxing(picture))
        zbar.update(found.text for found in by_zbar(picture))
    assert zxing == expected_addresses(name, "valve-tags.pdf")
    assert zbar == zxing


@pytest.mark.parametrize(("name", "stock"), [p for p in PRINTS if p[0] in ("quarry", "heron")])
def test_two_decoders_read_the_code_of_every_box_tag(name: str, stock: str) -> None:
    """The second gets each page at 200 dpi, too.

    It passes over one or two of 40 codes at 300, 400 and 600 dpi, others each time, and over none
    at 200, 250 and 350.
    """
    dpi = min(shipped().stocks[stock].dots_per_inch, 300)
    pdf = printed(name, stock).files["box-tags.pdf"]
    first = 1 if shipped().stocks[stock].is_single else 0  # of a roll the bar
    pictures = zip(pages_by_poppler(pdf, dpi), pages_by_poppler(pdf, 200), strict=True)
    for (picture, coarse), said in [*zip(pictures, text_by_pdfium(pdf), strict=True)][first:]:
        found = Counter(f.text for f in by_zxing(picture))
        assert found
        assert found == Counter(f.text for f in by_zbar(picture)) | Counter(
            f.text for f in by_zbar(coarse)
        )
        for address in found:
            assert address.rpartition("/")[2] in said


@pytest.mark.parametrize(("name", "paper"), WHOLE)
def test_the_code_of_every_legend_opens_its_controller(name: str, paper: str) -> None:
    facts = examined(name).facts
    assert facts
    for file, pdf in printed(name, "", paper).files.items():
        if not file.startswith("door-legend"):
            continue
        controller = file.removeprefix("door-legend-").removesuffix(".pdf")
        texts = {found.text for found in by_zxing(gray_by_pdfium(pdf, dpi=200))}
        assert {text.rpartition("/")[2] for text in texts} == {record_spelling(controller)}


@pytest.mark.parametrize(("name", "stock"), PRINTS)
def test_the_structure_is_sound_and_the_pages_have_their_size(name: str, stock: str) -> None:
    for file, pdf in pdfs(name, stock).items():
        assert structure_faults(pdf) == [], file
        if "tags" in file:
            for size in sizes_mm(pdf):
                assert size == pytest.approx(SHEETS[stock], abs=0.05), file


@pytest.mark.parametrize(("name", "stock"), PRINTS)
def test_two_readers_find_every_word_of_the_trace_on_the_tags(name: str, stock: str) -> None:
    """Area, box, conductor and reading of each valve, in the order of the file.

    No volts are told where the pump's line voltage is: nobody measures there with the power on.
    """
    facts = examined(name).facts
    assert facts
    loads = facts.wiring.loads.values()
    relay_boxes = {load.box for load in loads if load.kind is LoadKind.RELAY}
    pdf = printed(name, stock).files["valve-tags.pdf"]
    pages = [squeezed(" ".join(read(pdf))) for read in (text_by_pdfium, text_by_poppler)]
    for load in loads:
        circuit = facts.circuits.get(load.id)
        reading = facts.readings.get(load.owner.id)
        expected = [load.id, load.box]
        if area := getattr(load.owner, "area", None):
            expected.append(area.value)
        if circuit:
            hot = circuit.hot_at_valve
            expected += [hot.cable.id, hot.insulation.word, hot.insulation.code, hot.flag]
            expected += [circuit.back_at_valve.insulation.word]
        if reading and reading.ohms is not None:
            expected.append(f"Ω {reading.ohms:.1f} (")
        if ohms := load.coil_ohms:  # 15 % of the coil and 1 ohm of the meter either way (practice)
            low, high = 0.85 * ohms - 1, 1.15 * ohms + 1
            expected.append(f"Ω {ohms:g} ({math.floor(low)}–{math.ceil(high)})")
        if running := facts.running.get(load.owner.id):
            if load.box not in relay_boxes:
                low, high = running.low[load.id], running.high[load.id]
                expected.append(f"V {math.floor(10 * low) / 10}–{math.ceil(10 * high) / 10} on")
            at_c, in_hot = f"{running.milliamperes:.0f}", f"{running.in_hot:.0f}"
            expected.append(f"mA {at_c} on" if in_hot == at_c else f"mA {in_hot} / {at_c} C")
        for words in expected:
            for page in pages:
                assert squeezed(words) in page, (load.id, words)


def squeezed(text: str) -> str:
    """Without blanks, so that wrapping does not matter."""
    return re.sub(r"\s+", "", text)


@pytest.mark.parametrize("name", NAMES)
def test_the_legend_says_what_the_trace_says_terminal_by_terminal(name: str) -> None:
    facts = examined(name).facts
    assert facts
    for file, pdf in printed(name).files.items():
        if not file.startswith("door-legend"):
            continue
        controller = file.removeprefix("door-legend-").removesuffix(".pdf")
        text = squeezed(" ".join(text_by_pdfium(pdf)))
        for circuit in facts.circuits.values():
            load = circuit.load
            if load.controller != controller or load.hot_end.of != controller:
                continue
            first = circuit.hot_at_controller
            assert squeezed(load.owner.id) in text
            assert squeezed(f"{first.cable.id} {first.insulation.word}") in text, load.id


@pytest.mark.parametrize("name", NAMES)
def test_the_drawing_has_a_file_of_its_own_with_all_cables_and_no_legend_has_it(name: str) -> None:
    facts = examined(name).facts
    assert facts
    pages = [squeezed(text) for text in text_by_pdfium(printed(name).files["wiring-drawing.pdf"])]
    for number, page in enumerate(pages, 1):
        assert f"sheet{number}of{len(pages)}" in page
        assert f"continuesonsheet{number + 1}" in page or "continuesonsheet" not in page
    drawing = "".join(pages)
    for controller in facts.job.controllers:
        assert f"CONTROLLER{controller}" in drawing
        assert all(squeezed(cable) in drawing for cable in cables_of(facts, controller))
    for file, pdf in printed(name).files.items():
        if file.startswith("door-legend"):
            texts = [squeezed(text) for text in text_by_pdfium(pdf)]
            assert all(f"sheet{n}of{len(texts)}" in text for n, text in enumerate(texts, 1))
            assert not any(re.search(r"CONTROLLER.*joinedto", text) for text in texts)


def cables_of(facts: Facts, controller: str) -> set[str]:
    """The cables that leave a controller, and those that begin in a box on one of them."""
    found: set[str] = set()
    reached = {controller}
    for _ in facts.job.cables:
        for cable in facts.job.cables.values():
            if cable.run[0].at in reached and cable.id not in found:
                found.add(cable.id)
                reached |= {stop.at for stop in cable.run} - set(facts.job.controllers)
    return found


@pytest.mark.parametrize("name", SMALLER)
def test_same_job_same_bytes(name: str) -> None:
    again, _ = make_print(examine_text(sample(name)))
    assert again is not None
    assert again.files == printed(name).files
    assert again.manifest == printed(name).manifest


def test_fonts_are_embedded() -> None:
    for file, pdf in printed("larkspur").files.items():
        assert b"/FontFile2" in pdf or file.endswith((".csv", ".xlsx"))


def test_a_name_that_does_not_fit_stops_the_print_at_its_place() -> None:
    area = "the long border beneath the old espaliered pear trees behind the summer house " * 2
    text = edit(sample("larkspur"), '"front beds, drip"', f'"{area.strip()}"')
    made, problems = make_print(examine_text(text), PrintRequest(stocks=("id-1-letter",)))
    assert made is None
    assert {p.code for p in problems} == {"text-too-long"}
    line = text[: text.index("the long border")].count("\n") + 1
    assert {p.span.line for p in problems} == {line}


@pytest.mark.parametrize("letter", ["花", "🌷", "ﷺ"])
def test_a_letter_that_the_fonts_lack_stops_the_print(letter: str) -> None:
    text = edit(sample("larkspur"), '"front beds, drip"', f'"front beds {letter}"')
    made, problems = make_print(examine_text(text))
    assert made is None
    assert {p.code for p in problems} == {"letter-not-in-font"}


def test_accents_and_umlauts_are_printed() -> None:
    text = edit(sample("larkspur"), '"front beds, drip"', '"jardín ñandú, Grünfläche Łódź"')
    made, problems = make_print(examine_text(text))
    assert made is not None, problems
    assert squeezed("jardín ñandú, Grünfläche Łódź") in squeezed(
        " ".join(text_by_pdfium(made.files["valve-tags.pdf"]))
    )


# ---- field sheets and packet ---------------------------------------------------------------

FIELD = ("splice-cards.pdf", "test-sheet.pdf", "spare-list.pdf", "materials.pdf", "packet.pdf")


@pytest.mark.parametrize(("name", "paper"), WHOLE)
def test_the_structure_of_a_whole_print_is_sound(name: str, paper: str) -> None:
    for file, pdf in pdfs(name, "", paper).items():
        assert structure_faults(pdf) == [], file


@pytest.mark.parametrize(("name", "paper"), WHOLE)
def test_field_sheets_have_the_size_of_the_paper(name: str, paper: str) -> None:
    upright = SHEETS[f"id-1-{paper}"]
    for file in FIELD:
        pdf = pdfs(name, "", paper).get(file)
        for size in sizes_mm(pdf) if pdf else ():
            assert sorted(size) == pytest.approx(sorted(upright), abs=0.05), file


@pytest.mark.parametrize("name", NAMES)
def test_two_readers_find_every_wire_of_every_joint_on_the_splice_cards(name: str) -> None:
    facts = examined(name).facts
    assert facts
    pdf = pdfs(name)["splice-cards.pdf"]
    texts = [squeezed(" ".join(read(pdf))) for read in (text_by_poppler, text_by_pdfium)]
    for joint in facts.wiring.joints:
        if joint.at not in facts.job.boxes:
            continue
        for end in joint.ends:
            conductor = facts.wiring.conductors.get(end.of)
            insulation = conductor.insulation if conductor else None
            words = (
                f"{conductor.cable.id} {insulation.word} {insulation.code}"
                if conductor and insulation
                else end.of
            )
            assert all(squeezed(words) in text for text in texts), end


@pytest.mark.parametrize("name", SMALLER)
def test_the_code_of_every_splice_card_opens_its_box(name: str) -> None:
    pdf = pdfs(name)["splice-cards.pdf"]
    texts = text_by_pdfium(pdf)
    for page in range(len(texts)):
        found = {f.text for f in by_zxing(gray_by_pdfium(pdf, dpi=200, page=page))}
        assert found
        said = texts[page]
        assert all(address.rpartition("/")[2] in said for address in found)


@pytest.mark.parametrize("name", NAMES)
def test_two_readers_find_every_expected_reading_on_the_test_sheets(name: str) -> None:
    facts = examined(name).facts
    assert facts
    pdf = pdfs(name)["test-sheet.pdf"]
    for read in (text_by_poppler, text_by_pdfium):
        text = squeezed(" ".join(read(pdf)))
        for load in facts.wiring.loads.values():
            reading = facts.readings.get(load.owner.id)
            assert load.id in text
            if reading and reading.ohms is not None:
                assert f"{reading.ohms:.1f}(" in text, load.id


@pytest.mark.parametrize("name", NAMES)
def test_the_packet_names_each_document_at_its_page(name: str) -> None:
    """The cover's pages are those of the reader's outline, and each page says which it is."""
    pdf = pdfs(name)["packet.pdf"]
    texts = text_by_pdfium(pdf)
    count = len(texts)
    for number, text in enumerate(texts, 1):
        assert f"packet page {number} of {count}" in text
    outline = outline_by_pypdf(pdf)
    assert outline[0] == ("Cover", 1)
    cover = squeezed(texts[0])
    for title, page in outline[1:]:
        # Of an annex place and number of stations are between its name and its page.
        between = ".{0,40}" if title.startswith("Annex") else ""
        assert re.search(re.escape(squeezed(title)) + between + str(page), cover), title
    for _, title, page in whole_outline_by_pypdf(pdf)[1:]:
        # The drawing's sheets are headed by what they show.
        heading = "" if title == "Wiring drawing" else squeezed(title.split(" ")[0].upper())
        assert heading in squeezed(texts[page - 1]).upper(), title
    for file in ("spare-list.pdf", "materials.pdf"):  # the other files are cut by controllers
        for text in text_by_pdfium(pdfs(name)[file]) if file in pdfs(name) else ():
            assert any(squeezed(text) in squeezed(page) for page in texts), file


@pytest.mark.parametrize("name", NAMES)
def test_no_field_sheet_claims_compliance_or_asks_for_a_phone(name: str) -> None:
    for file in FIELD:
        text = " ".join(text_by_pdfium(pdfs(name)[file])) if file in pdfs(name) else ""
        assert not re.search(
            r"\b(complies|compliant|conforms|approved by|phone)\b", text, re.IGNORECASE
        )
