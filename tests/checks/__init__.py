"""Tests of stage 5, and of what stage 3 says about names and joints."""

import pytest

pytest.register_assert_rewrite("tests.checks.trench")
