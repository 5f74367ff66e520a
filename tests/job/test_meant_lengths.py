"""What a length on paper means; an inch is 1/12 ft, a yard 3 ft (NIST SP 811, appendix B.8)."""

from __future__ import annotations

from cardgen.job.meant_lengths import certain_length, meant_length
from cardgen.job.quantities import LENGTH

MEANT = {
    "60'": "60 ft",
    "60\u2019": "60 ft",
    "60\u2032": "60 ft",
    "1,050'": "1050 ft",
    "12'6\"": "12.5 ft",
    "12' 6''": "12.5 ft",
    "12\u2019 6\u201d": "12.5 ft",
    "12'-3 1/2\"": "12.2917 ft",
    "12 ft 6 in": "12.5 ft",
    "12 ft. 6 in.": "12.5 ft",
    '6"': "0.5 ft",
    "3 1/2 in": "0.2917 ft",
    "40 yd": "120 ft",
    "0.4 km": "400 m",
    "250 cm": "2.5 m",
    "85 ft.": "85 ft",
    "85 lf": "85 ft",
    "about 85 ft": "85 ft",
    "~85 ft": "85 ft",
    "85 ft ?": "85 ft",
    "25 metros": "25 m",
    "30 pies": "30 ft",
    # In doubt.
    "85": "",
    "85 to 90 ft": "",
    "12'14\"": "",
    "85 paces": "",
    "": "",
}


def test_lengths_as_people_write_them() -> None:
    assert {text: meant_length(text) for text in MEANT} == MEANT
    for meant in filter(None, MEANT.values()):
        LENGTH.parse(meant)  # the way out can be followed


def test_what_is_short_may_be_in_inches() -> None:
    assert meant_length("3 1/2 in", is_short=True) == "3.5 in"
    assert meant_length('8"', is_short=True) == "8 in"


# In a list, which nobody looks through: what leaves a doubt is asked about.
CERTAIN = {
    "1,050 ft": "1050 ft",
    "\u201860\u2019": "",
    "60\u2032 6\u2033": "60.5 ft",
    "85 Pies": "85 ft",
    "12 pies 6 pulgadas": "12.5 ft",
    "85,5 ft": "85.5 ft",
    "10,50 m": "10.50 m",
    "40 yd": "120 ft",
    "10,50 ft": "",
    "about 85 ft": "",
    "85 ft ?": "",
    '60"': "",
    "85": "",
}


def test_what_is_certain() -> None:
    assert {text: certain_length(text) for text in CERTAIN} == CERTAIN
    assert certain_length('60"', is_short=True) == "60 in"
    assert certain_length("3 1/2 pulgadas", is_short=True) == "3.5 in"
