"""A hundred random yards, read by the program and by a tracer that knows nothing of it."""

from __future__ import annotations

import pytest

from tests.oracle.cases import first_cases
from tests.oracle.compare import differences

pytestmark = pytest.mark.xdist_group("oracle")

YARDS = 100


@pytest.mark.parametrize("number", range(YARDS))
def test_the_program_finds_what_the_joints_say(number: int) -> None:
    case = first_cases(YARDS)[number]
    assert differences(case.traced, case.printable.asbuilt) == [], case.yard.seed
