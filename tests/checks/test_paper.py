"""What would be printed: nothing private, revisions in order."""

from __future__ import annotations

import pytest

from tests.checks.trench import assert_problems


def area(text: str, mark: str = "") -> str:
    return f"""
stations:
  A1: {{area: front lawn, box: VB-1, hot: K1 red}}
  A2:
    area: "{text}"{mark}
    box: VB-2
    hot: K1 blue
"""


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("lawn, gate code 1234", "a gate or alarm code"),
        ("lawn, gate code is CRANE", "a gate or alarm code"),
        ("alarm code at the back: 4711", "a code"),
        ("lawn, code 4711", "a code"),
        ("lawn (4711 gate code)", "a gate or alarm code"),
        ("garage door 4711#", "a code"),
        ("lawn, password heron", "a password"),
        ("pump house wifi key 77ab", "a network key"),
        ("ask ann@example.com", "a mail address"),
        ("call 555-123-4567", "a phone number"),
        ("call (555) 123-4567", "a phone number"),
        ("call +44 7700 900123", "a phone number"),
        ("call 07700 900123", "a phone number"),
    ],
)
def test_a_text_that_must_not_hang_in_a_box(text: str, what: str) -> None:
    found = assert_problems(area(text, f' # <- error private-text @ "{text}"'))
    assert found[0].sentence.startswith(f"this text would print {what} ")


@pytest.mark.parametrize(
    "text",
    [
        "east gate lawn",
        "pin oak bed",
        "entry pin oaks",
        "alarm box hedge",
        "combination planters 3",
        "wifi pole lawn",
        "gate code at the office",
        "lawn 100 by 200",
        "bed A-12, 3.5 m",
        "postcode garden",
    ],
)
def test_a_text_that_may(text: str) -> None:
    assert_problems(area(text))


def test_a_code_in_a_note_and_one_in_a_box() -> None:
    assert_problems(
        """
        boxes:
          VB-1: {place: "walk, gate code 12"} # <- error private-text @ "walk, gate code 12"
          VB-2:
            place: front bed
            ties: [6 ft from wall, code 4711] # <- error private-text @ code 4711
        stations:
          A1: {area: front lawn, box: VB-1, hot: K1 red}
          A2:
            area: side lawn
            box: VB-2
            hot: K1 blue
            notes:
              - keep clear of the oak
              - gate code 4711 # <- error private-text @ gate code 4711
    """
    )


def test_a_change_log_that_is_ahead_of_the_job() -> None:
    assert_problems("""
        changes:
          - {revision: 2, date: 2026-03-14, text: first issue}
          - {revision: 3, date: 2026-03-15, text: second} # <- warning change-ahead @ second
    """)
