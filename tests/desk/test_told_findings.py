"""Findings in Spanish: the values of the English words, and nothing that is half in English."""

from __future__ import annotations

import ast
import json
import re
from collections.abc import Iterator, Sequence
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from cardgen import faults
from cardgen.desk.open_job import ChangedMeanwhile
from cardgen.desk.told_findings import USUAL, fault_words, names_in, told, told_refusal
from cardgen.faults.circuit_faults import HOT_MISSING
from cardgen.faults.paper_faults import CODE_TOO_LARGE
from cardgen.faults.value_faults import UNIT_MISSING, UNKNOWN_NAME
from cardgen.problems import Problem, Span, UserError
from tests.desk.clients import JOB, DeskClient, answering
from tests.faults.found_problems import problems_of_any
from tests.for_each import for_each
from tests.jobs import sample
from tests.words.test_spanish_words import NOT_TO_USE, found

DESK = Path(faults.__file__).parents[1] / "desk"
REFUSALS = {"BadEdit", "UserError", "NotInFolder", "CannotRename", "CannotWrite", "CannotEdit"}
REFUSALS |= {"PrintedOtherwise", "NotOfPrints"}
# Where the desk asks for something that can be refused.
REFUSING = ("desk", "renaming", "editing", "output", "memory", "files", "workbook")
NOT_ASKED = {"recording.py", "readings_file.py"}  # for a record, and for readings as a file
# Put together of parts, said by the system, or as a desk on this machine answered.
ELSEWHERE = {
    "'a.yaml' cannot be written: no space left on device",
    "'a' cannot be written: read-only file system; some files are new and some old now",
    "look for a full disk, a folder without the right to write, or a file open elsewhere",
    (
        "look for a full disk, a folder without the right to write, or a file open elsewhere, "
        "then run it again: that finishes it first"
    ),
    "'stations.A1' cannot be changed without changing more of the file",
    "one of these values cannot be changed without changing more of the file",
    "nothing was printed into 'a-cards'",
    "revision 3 was never printed into 'a-cards'",
    "did you mean 'VB-1'?",
    "it has VB-1, VB-2 and VB-3",
    "the job has no box 'VB-9'",
    "'call 555-0100' looks like a phone number, which is not printed",
    "raise 'revision' in the job; if no tag of it hangs yet, add --replace",
    (
        "raise 'revision' in the job; if no tag of it hangs yet, "
        "print all of that again with --replace"
    ),
    "raise 'revision' in the job, and print what changed with --since 2",
    "revision 4 was never printed there",
    "there is 1, 2 and 3",
    "choose at least one of valve-tags and box-tags",
    "what is named has no valve-tags",
    "'cardgen manual install' says how to add it",
    "name a spreadsheet (.xlsx) or a CSV file",
    "line 5 must be put right first: 'A1' está escrito dos veces",
    "'a.yaml' cannot be read: permission denied",
    "'a.yaml' cannot be read: no such file or directory",
    "'boxes' is not a block of 'key: value' lines",
    "change it by hand, with a text editor",
    "revision 2 was printed before and said something else (valve tag A7, flag A7 K1 red at VB-1)",
    "revision 2 hangs, and the job says something else now (valve tag A7 and 12 more)",
}
HERE = Span("", 1, 1)
# Verbs that English needs in two forms, and what is told in general instead.
NOT_NEEDED = {"have", "verdict", "example", "do", "are", "returns", "return_", "they", "run"}
NOT_NEEDED |= {"both", "title", "device", "name", "fault"}
# Articles, verbs and prepositions of which each English sentence has one; no Spanish word.
ENGLISH = re.compile(
    r"\b(the|is|are|of|and|or|to|in|it|its|has|have|not|with|for|from|this|that|write|both|on|at)\b"
)
# Examples that are a command, a print, or what a server has: other tests ask for these.
NO_VALUES = {"command", "print", "server"}
NO_DESK = {"stock", "face", "words", "results"}  # files that no desk reads


SPANISH, DESK_ENGLISH = fault_words("es"), fault_words("en")
CODES = sorted(faults.ALL)
each_code = for_each("code", CODES)


def outside_quotes(text: str) -> str:
    """Without what stands in quotes or brackets, which is as the file has it, and inches."""
    return re.sub(r"'[^']*'|\[[^\]]*\]|[0-9.]+ in\b", "''", text)


def without_syntax(text: str) -> bool:
    """Whether it says nothing as a job file or a command would: braces, brackets, `box: VB-1`."""
    return not re.search(r"[\[\]{}]|'[a-z][a-z ]*: [^']+'|--\w|'cardgen", text)


def named(text: str) -> set[str]:
    """Names and numbers: what has a figure in it."""
    return set(re.findall(r"[\w.-]*[0-9][\w-]*", text))


def test_every_fault_is_told_and_no_other() -> None:
    assert SPANISH.said.keys() == faults.ALL.keys()


@each_code
def test_every_variant_is_told_with_the_values_of_the_english_words(code: str) -> None:
    fault, said = faults.ALL[code], SPANISH.said[code]
    assert said.keys() == {*([USUAL] if fault.sentence else []), *fault.variants}
    for variant, spanish in said.items():
        english = fault.words("" if variant == USUAL else variant)
        of_desk = DESK_ENGLISH.said.get(code, {}).get(variant, english)
        assert bool(spanish[1]) == bool(english[1]), variant
        for ours, theirs, first in zip(spanish, of_desk, english, strict=True):
            assert names_in(ours) <= names_in(theirs) <= names_in(" ".join(english)), variant
            assert names_in(theirs) - names_in(ours) <= NOT_NEEDED, variant
            assert bool(theirs) == bool(first), variant


@cache
def problems_of_example(code: str) -> Sequence[Problem]:
    with TemporaryDirectory() as folder:
        return problems_of_any(faults.ALL[code], Path(folder))


@for_each("code", [code for code in CODES if faults.ALL[code].base not in NO_VALUES])
def test_an_example_is_told_in_spanish_alone(code: str) -> None:
    problems = [p for p in problems_of_example(code) if p.code == code]
    assert problems
    for problem in problems:
        said = told(problem, "es")
        assert said.language == "es", problem
        for text in (said.sentence, said.help):
            assert not ENGLISH.search(outside_quotes(text)), text
        assert named(said.sentence) == named(problem.sentence)


# What is wrong with the text of a file that no cell shows: the way out is in a text editor.
OF_THE_TEXT = {"not-yaml", "key-not-text", "comma", "remark-in-text", "curly-quotes", "bullet"}


@each_code
def test_no_way_out_of_the_desk_is_written_as_a_job_file_or_a_command(code: str) -> None:
    """By the words and, for what their values have, by the example."""
    fault = faults.ALL[code]
    assert DESK_ENGLISH.of_the_text == OF_THE_TEXT
    if code in OF_THE_TEXT or fault.base in NO_DESK:
        return
    for variant in SPANISH.said[code]:
        english = fault.words("" if variant == USUAL else variant)
        for _, help_ in (
            SPANISH.said[code][variant],
            DESK_ENGLISH.said.get(code, {}).get(variant, english),
        ):
            assert without_syntax(re.sub(r"(?<!\{)\{\w+[^{}]*\}(?!\})", "X7", help_)), help_
    if fault.base in NO_VALUES:
        return
    for problem in problems_of_example(code):
        for language in ("en", "es"):
            if problem.code not in OF_THE_TEXT:
                assert without_syntax(told(problem, language).help), problem


def test_a_way_out_of_the_desk_names_what_the_page_has() -> None:
    """As a person reads it, by hand: labels of `layouts/words`, with the button and the cell."""
    missing = HOT_MISSING.at(HERE, station="A1")
    assert told(missing, "en").help.startswith("type it in 'Hot', 'A-K1 red', or press 'Choose wi")
    assert told(missing, "es").help.startswith("escríbalo en 'Cable de estación', 'A-K1 red', o p")
    assert told(missing, "en").sentence == missing.sentence


def test_phrases_have_the_names_of_the_english_ones() -> None:
    for pattern, said in SPANISH.phrases:
        assert names_in(said) == set(pattern.groupindex), said
        assert not ENGLISH.search(outside_quotes(said)), said


def test_what_is_not_known_in_spanish_is_told_in_english_and_marked_so() -> None:
    code = CODE_TOO_LARGE.at(HERE, what="the tag", least=20.0, side=12.0)
    assert told(code, "es").language == "en"
    assert told(code, "de").sentence == code.sentence  # a catalogue that somebody has added
    # A value that is neither a name nor a phrase that is known.
    strange = UNIT_MISSING.at(HERE, what="a weight of water", examples="'3 lb'")
    assert told(strange, "es").language == "en"
    assert told(strange, "es").sentence == strange.sentence
    named = UNKNOWN_NAME.at(HERE, what="box", name="the shed", suggestion="did you mean 'VB-1'?")
    assert told(named, "es").sentence == "no existe caja 'the shed'"
    assert told(named, "es").help == "¿Quiso decir 'VB-1'?"
    assert told(HOT_MISSING.at(HERE, station="A1"), "en").language == "en"


def test_what_keeps_the_file_from_being_changed_is_told_in_spanish(
    desk: DeskClient, tmp_path: Path
) -> None:
    """A station that is there twice: nothing can be typed before that is put right."""
    twice = f"{sample('larkspur')}\nstations:\n  A1: {{area: lawn}}\n"
    (tmp_path / "larkspur.yaml").write_text(twice, encoding="utf-8")
    body = {"version": desk.data()["version"], "section": "boxes", "cells": [["VB-1", "size", "x"]]}
    sent = {"Content-Type": "application/json", "Origin": desk.here, "Accept": "application/json"}
    sent["Accept-Language"] = "es"
    refused = desk.ask("POST", f"{JOB}/edit", json.dumps(body).encode(), sent)
    assert refused.status == 409
    assert re.fullmatch(
        r"corrija primero la línea \d+: 'stations' está escrito dos veces",
        refused.json()["sentence"],
    )
    assert refused.json()["help"] == "deje uno de los dos, o dé otro nombre al segundo"


def refusals() -> Iterator[tuple[str, str]]:
    """Each sentence and way out that the source of the desk has, by Python's own parser."""
    paths = [path for stage in REFUSING for path in DESK.parent.glob(f"{stage}/*.py")]
    for path in paths:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        named_ = {
            target.id: each.value
            for each in tree.body if isinstance(each, ast.Assign)
            for target in each.targets if isinstance(target, ast.Name)
        }  # fmt: skip
        for call in ast.walk(tree) if path.name not in NOT_ASKED else ():
            if isinstance(call, ast.Call) and getattr(call.func, "id", "") in REFUSALS:
                texts = [eval_text(each, named_) for each in call.args[:2]]
                if texts and texts[0]:
                    yield texts[0], "".join(texts[1:])


def eval_text(node: ast.expr, named_: dict[str, ast.expr]) -> str:
    """Of a literal, or one that has a name; what an f-string fills in is a name.

    Empty for what is put together otherwise: `ELSEWHERE` has these.
    """
    if isinstance(node, ast.Name) and node.id in named_:
        return eval_text(named_[node.id], named_)
    if isinstance(node, ast.Constant):
        return str(node.value)
    parts = node.values if isinstance(node, ast.JoinedStr) else []
    said = "".join(str(p.value) if isinstance(p, ast.Constant) else "X7" for p in parts)
    return "" if said.startswith("X7") else said


@for_each(("sentence", "help_"), sorted(set(refusals())))
def test_what_the_desk_refuses_is_told_in_spanish(sentence: str, help_: str) -> None:
    said = told_refusal(UserError(sentence, help_), "es")
    assert said.language == "es"
    assert bool(said.help) == bool(help_)
    assert not ENGLISH.search(outside_quotes(f"{said.sentence} {said.help}"))
    assert named(said.sentence) <= named(sentence)
    assert without_syntax(said.help)
    assert without_syntax(told_refusal(UserError(sentence, help_), "en").help)


def test_no_refusal_is_there_for_nothing() -> None:
    changed = ChangedMeanwhile("a.yaml")
    texts = {text for pair in refusals() for text in pair} | {changed.sentence, changed.help}
    texts |= ELSEWHERE
    for words in (SPANISH, DESK_ENGLISH):
        spare = [p.pattern for p, _ in words.refusals if not any(map(p.fullmatch, texts))]
        assert not spare
    for text in (changed.sentence, changed.help, *ELSEWHERE):
        assert told_refusal(UserError(text), "es").language == "es", text


@for_each("word", NOT_TO_USE)
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
