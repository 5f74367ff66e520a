"""A hundred random yards, read by the program and by a tracer that knows nothing of it."""

from __future__ import annotations

import pytest

from tests.oracle.compare import differences
from tests.oracle.yards import random_yard


@pytest.mark.parametrize("seed", range(100))
def test_the_program_finds_what_the_joints_say(seed: int) -> None:
    assert differences(random_yard(seed).text) == []
