"""What is typed comes to each command as its own typed options; `--verbose` follows the stages."""

from __future__ import annotations

import argparse
import re
from dataclasses import fields
from importlib import import_module
from pathlib import Path

import pytest

from cardgen.cli.main import COMMANDS, main
from cardgen.cli.parser import FORMATS, parser_of_all
from cardgen.printer import PAPERS, Ink
from cardgen.stages import LOGGER, Stage
from tests.jobs import SAMPLE_JOBS

ROOT = Path(__file__).parents[2]
NOT_HANDED_ON = {"help", "verbose", "jobs"}
ONE_OF_THEM = {"job_files": "job_file"}  # the command is told one job at a time


def parsers() -> dict[str, argparse.ArgumentParser]:
    actions = parser_of_all()._actions
    (found,) = (each.choices for each in actions if isinstance(each.choices, dict))
    return found


def test_every_command_has_a_module() -> None:
    assert list(COMMANDS) == list(parsers())


@pytest.mark.parametrize("name", COMMANDS)
def test_a_command_is_told_what_its_parser_finds(name: str) -> None:
    module = import_module(COMMANDS[name])
    named = {action.dest for action in parsers()[name]._actions} - NOT_HANDED_ON
    typed = {ONE_OF_THEM.get(name, name) for name in named}
    assert {field.name for field in fields(module.Options)} == typed
    assert module.Options.__dataclass_params__.frozen
    assert module.run.__annotations__ == {"options": "Options", "return": "int"}


def test_words_of_options_in_any_case_and_spelling() -> None:
    def ink(said: str) -> object:
        return vars(parser_of_all().parse_args(["print", "j", "--out", "o", "--ink", said]))["ink"]

    said = {"color": Ink.COLOR, "Color": Ink.COLOR, "gray": Ink.GRAY, "GRAY": Ink.GRAY}
    assert {word: ink(word) for word in [*said, "one"]} == {**said, "one": Ink.ONE}
    assert type(ink("one")) is Ink
    assert PAPERS[0] == "letter" and FORMATS[0] == "text"  # what is usual comes first


def test_verbose_says_which_stage_begins(capsys: pytest.CaptureFixture[str]) -> None:
    job = str(SAMPLE_JOBS / "sandpiper.yaml")
    try:
        assert main(["trace", job, "--verbose"]) == 0
    finally:
        LOGGER.handlers.clear()
    said = capsys.readouterr()
    assert said.err.splitlines()[:5] == [
        *(" 1 reading", " 2 job", " 3 wiring", " 4 electrics", " 5 checks")
    ]
    assert "reading\n" not in said.out
    assert main(["trace", job]) == 0
    assert "electrics" not in capsys.readouterr().err


def test_the_stages_are_those_of_the_flow() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    flow = re.findall(r"^(\d+) (\w+)  +\S", text, re.MULTILINE)
    assert flow == [(str(stage.value), stage.name.lower()) for stage in Stage]
