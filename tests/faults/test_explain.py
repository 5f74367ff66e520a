"""What is told of a fault fits the terminal and the manual."""

from __future__ import annotations

import re

from cardgen.faults import ALL
from cardgen.faults.explain import explain, list_of_faults
from cardgen.faults.fault import Fault
from tests.for_each import for_each


@for_each("fault", ALL.values())
def test_what_is_said_is_fit_to_be_read(fault: Fault) -> None:
    assert fault.title and not fault.title.endswith(".") and len(fault.title) <= 80
    for text in (fault.why, fault.fix):
        assert text.endswith(".")
    whole = explain(fault.code)
    assert whole is not None
    assert all(len(line) <= 80 for line in whole.splitlines())
    assert not re.search(r"\b(None|str|dict|exception|parser?)\b", fault.why + fault.fix)


def test_nothing_is_said_of_a_code_that_is_not_there() -> None:
    assert explain("no-such-code") is None


def test_the_whole_text_once() -> None:
    assert explain("units-mixed") == (
        "warning units-mixed: some legs are in feet and some in meters\n"
        "\n"
        "The odd one out is likely a typing error, and the volts come out three times\n"
        "wrong.\n"
        "\n"
        "Write all legs in one unit.\n"
        "\n"
        "Reported:\n"
        "\n"
        "    cables:\n"
        "      K1:\n"
        "        gauge: 18 AWG\n"
        "        colors: [white, red, blue, green, yellow]\n"
        "        run: [A, 85 ft, VB-1, 60 m, VB-2]\n"
        "\n"
        "Fine:\n"
        "\n"
        "    cables:\n"
        "      K1:\n"
        "        gauge: 18 AWG\n"
        "        colors: [white, red, blue, green, yellow]\n"
        "        run: [A, 85 ft, VB-1, 60 ft, VB-2]"
    )


def test_the_list_holds_each_code_once() -> None:
    assert [line.split()[0] for line in list_of_faults().splitlines()] == sorted(ALL)
