"""Findings in Spanish: the values of the English words, and nothing that is half in English."""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardgen import faults
from cardgen.desk.open_job import ChangedMeanwhile
from cardgen.desk.told_findings import USUAL, FaultWords, fault_words, names_in, told, told_refusal
from cardgen.faults.circuit_faults import HOT_MISSING
from cardgen.faults.paper_faults import CODE_TOO_LARGE
from cardgen.faults.value_faults import UNIT_MISSING, UNKNOWN_NAME
from cardgen.problems import Span, UserError
from tests.desk.clients import JOB, DeskClient, answering
from tests.faults.test_examples import JOBS, problems_of
from tests.jobs import sample
from tests.words.test_spanish_words import NOT_TO_USE, found

DESK = Path(faults.__file__).parents[1] / "desk"
REFUSALS = {"BadEdit", "UserError", "NotInFolder", "CannotRename"}
# Said by other stages, or with the words of the system, as a desk on this machine answered.
ELSEWHERE = {
    "'a.yaml' cannot be read: permission denied",
    "'a.yaml' cannot be read: no such file or directory",
    "'boxes' is not a block of 'key: value' lines",
    "change it by hand, with a text editor",
    "revision 2 was printed before and said something else (valve tag A7, flag A7 K1 red at VB-1)",
    "revision 2 hangs, and the job says something else now (valve tag A7 and 12 more)",
}
ENGLISH_REASON = {"'X7' cannot be read: X7"}  # what the system says, which may be anything
HERE = Span("", 1, 1)
# Verbs that English needs in two forms, and what is told in general instead.
NOT_NEEDED = {"have", "verdict", "example", "do", "are", "returns", "return_", "they", "run"}
NOT_NEEDED |= {"both", "title", "device", "name", "fault"}
# Articles, verbs and prepositions of which each English sentence has one; no Spanish word.
ENGLISH = re.compile(
    r"\b(the|is|are|of|and|or|to|in|it|its|has|have|not|with|for|from|this|that|write|both|on|at)\b"
)
# Only while allotting: its examples are no job that is wrong in itself.
NO_JOB = {"hot-without-way"}


def spanish_words() -> FaultWords:
    words = fault_words("es")
    assert words is not None
    return words


SPANISH = spanish_words()
CODES = sorted(SPANISH.said)
each_code = pytest.mark.parametrize("code", CODES)


def outside_quotes(text: str) -> str:
    """Without what stands in quotes or brackets, which is as the file has it, and inches."""
    return re.sub(r"'[^']*'|\[[^\]]*\]|[0-9.]+ in\b", "''", text)


def named(text: str) -> set[str]:
    """Names and numbers: what has a figure in it."""
    return set(re.findall(r"[\w.-]*[0-9][\w-]*", text))


def test_the_usual_faults_of_first_work_are_told() -> None:
    first = {"hot-missing", "unknown-name", "no-such-conductor", "unknown-color", "common-missing"}
    first |= {"missing", "unit-missing", "conductor-used-twice", "hot-stops", "run", "comma"}
    assert first <= set(CODES) and len(CODES) >= 180


@each_code
def test_every_variant_is_told_with_the_values_of_the_english_words(code: str) -> None:
    fault, said = faults.ALL[code], SPANISH.said[code]
    assert said.keys() == {*([USUAL] if fault.sentence else []), *fault.variants}
    for variant, spanish in said.items():
        english = fault.words("" if variant == USUAL else variant)
        assert bool(spanish[1]) == bool(english[1]), variant
        for ours, theirs in zip(spanish, english, strict=True):
            assert names_in(ours) <= names_in(theirs), variant
            assert names_in(theirs) - names_in(ours) <= NOT_NEEDED, variant


@pytest.mark.parametrize(
    "code", [code for code in CODES if faults.ALL[code].base in JOBS and code not in NO_JOB]
)
def test_an_example_is_told_in_spanish_alone(code: str, tmp_path: Path) -> None:
    fault = faults.ALL[code]
    problems = [p for p in problems_of(fault, fault.wrong, tmp_path) if p.code == code]
    assert problems
    for problem in problems:
        said = told(problem, "es")
        assert said.language == "es", problem
        for text in (said.sentence, said.help):
            assert not ENGLISH.search(outside_quotes(text)), text
        assert named(said.sentence) == named(problem.sentence)


def test_phrases_have_the_names_of_the_english_ones() -> None:
    for pattern, said in SPANISH.phrases:
        assert names_in(said) == set(pattern.groupindex), said
        assert not ENGLISH.search(outside_quotes(said)), said


def test_what_is_not_known_in_spanish_is_told_in_english_and_marked_so() -> None:
    code = CODE_TOO_LARGE.at(HERE, what="the tag", least=20.0, side=12.0)
    assert told(code, "es").language == "en"
    # A value that is neither a name nor a phrase that is known.
    strange = UNIT_MISSING.at(HERE, what="a weight of water", examples="'3 lb'")
    assert told(strange, "es").language == "en"
    assert told(strange, "es").sentence == strange.sentence
    named = UNKNOWN_NAME.at(HERE, what="box", name="the shed", suggestion="did you mean 'VB-1'?")
    assert told(named, "es").sentence == "no existe caja 'the shed'"
    assert told(named, "es").help == "¿Quiso decir 'VB-1'?"
    assert told(HOT_MISSING.at(HERE, station="A1"), "en").language == "en"


def refusals() -> Iterator[tuple[str, str]]:
    """Each sentence and way out that the source of the desk has, by Python's own parser."""
    for path in [*DESK.glob("*.py"), *DESK.parent.glob("renaming/*.py")]:
        for call in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(call, ast.Call) and getattr(call.func, "id", "") in REFUSALS:
                texts = [eval_text(each) for each in call.args[:2]]
                if texts[0]:
                    yield texts[0], "".join(texts[1:])


def eval_text(node: ast.expr) -> str:
    """Of a literal; what an f-string fills in is a name."""
    if isinstance(node, ast.Constant):
        return str(node.value)
    parts = node.values if isinstance(node, ast.JoinedStr) else []
    return "".join(str(p.value) if isinstance(p, ast.Constant) else "X7" for p in parts)


@pytest.mark.parametrize(("sentence", "help_"), sorted(set(refusals())))
def test_what_the_desk_refuses_is_told_in_spanish(sentence: str, help_: str) -> None:
    said = told_refusal(UserError(sentence, help_), "es")
    assert said.language == ("en" if sentence in ENGLISH_REASON else "es")
    if said.language == "es":
        assert bool(said.help) == bool(help_)
        assert not ENGLISH.search(outside_quotes(f"{said.sentence} {said.help}"))
        assert named(said.sentence) == named(sentence)


def test_no_refusal_is_there_for_nothing() -> None:
    changed = ChangedMeanwhile("a.yaml")
    texts = {text for pair in refusals() for text in pair} | {changed.sentence, changed.help}
    texts |= ELSEWHERE
    spare = [p.pattern for p, _ in SPANISH.refusals if not any(map(p.fullmatch, texts))]
    assert not spare
    for text in (changed.sentence, changed.help, *ELSEWHERE):
        assert told_refusal(UserError(text), "es").language == "es", text


@pytest.mark.parametrize("word", NOT_TO_USE)
def test_no_word_is_used_that_crews_misread(word: str) -> None:
    texts = {
        f"{code} {variant} {number}": outside_quotes(text)
        for code, variants in SPANISH.said.items()
        for variant, pair in variants.items()
        for number, text in enumerate(pair)
    }
    said_ = (*SPANISH.phrases, *SPANISH.refusals)
    texts |= {pattern.pattern: outside_quotes(said) for pattern, said in said_}
    assert found(word, texts) == {}, NOT_TO_USE[word]


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[DeskClient]:
    (tmp_path / "larkspur.yaml").write_text(sample("larkspur"), encoding="utf-8")
    with answering(tmp_path) as port:
        yield DeskClient(port)


def test_a_page_in_spanish_has_its_findings_in_spanish(desk: DeskClient) -> None:
    desk.edit(["A2", "box", "VB-9"], ["A6", "hot", ""])
    spanish = {"Accept-Language": "es"}
    findings = desk.get(f"{JOB}/findings", **spanish).json()["findings"]
    told_ = {each["row"]: each for each in findings}
    assert told_["A2"]["sentence"] == "no existe caja 'VB-9'"
    assert told_["A6"]["sentence"] == "A6 todavía no tiene cable de estación"
    assert {each["lang"] for each in told_.values()} == {"es"}
    page = desk.get(f"{JOB}/print", **spanish).text
    assert '<b lang="es">No existe caja &#x27;VB-9&#x27;.</b>' in page
    english = desk.get(f"{JOB}/findings").json()["findings"]
    assert {each["lang"] for each in english} == {"en"}


def test_what_is_refused_and_what_does_not_fit_is_told_in_spanish(desk: DeskClient) -> None:
    spanish = {"Accept-Language": "es", "Accept": "application/json"}
    body = {"version": desk.data()["version"], "section": "stations", "removed": ["A99"]}
    sent = {"Content-Type": "application/json", "Origin": desk.here, **spanish}
    refused = desk.ask("POST", f"{JOB}/edit", json.dumps(body).encode(), sent)
    assert refused.status == 409 and refused.json()["sentence"] == "ya no existe 'A99'"
    page = desk.get("/jobs/none.yaml", **{"Accept-Language": "es"})
    assert page.status == 404 and '<p lang="es">no hay ningún archivo de trabajo' in page.text
    desk.edit(["A1", "area", "un nombre muy largo de un área " * 6])
    (found,) = desk.get(f"{JOB}/misfits", **spanish).json()["misfits"]
    assert found["lang"] == "es" and not ENGLISH.search(outside_quotes(found["help"]))
    assert re.search(r"le sobran \d+\.\d mm de (ancho|alto)", found["sentence"])
