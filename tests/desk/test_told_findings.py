"""Findings in Spanish: the values of the English words, and nothing that is half in English."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from cardgen import faults
from cardgen.desk.told_findings import USUAL, FaultWords, fault_words, names_in, told
from cardgen.faults.circuit_faults import HOT_MISSING
from cardgen.faults.paper_faults import CODE_TOO_LARGE
from cardgen.faults.value_faults import UNIT_MISSING, UNKNOWN_NAME
from cardgen.problems import Span
from tests.desk.clients import JOB, DeskClient, answering
from tests.faults.test_examples import JOBS, problems_of
from tests.jobs import sample
from tests.words.test_spanish_words import NOT_TO_USE, found

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
    assert first <= set(CODES) and len(CODES) >= 140


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


@pytest.mark.parametrize("word", NOT_TO_USE)
def test_no_word_is_used_that_crews_misread(word: str) -> None:
    texts = {
        f"{code} {variant} {number}": outside_quotes(text)
        for code, variants in SPANISH.said.items()
        for variant, pair in variants.items()
        for number, text in enumerate(pair)
    }
    texts |= {pattern.pattern: said for pattern, said in SPANISH.phrases}
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
