"""What a number on paper means: read by hand, as people of the US and Mexico write them."""

from __future__ import annotations

from cardgen.reading.shapes import meant_number

MEANT = {
    # NIST SP 811 (2008), 10.5.3: the comma as thousands separator of US usage.
    "1,050": "1050",
    "12,345,678": "12345678",
    "1,050.5": "1050.5",
    # The same place: a thin space, as ISO 80000-1 has it.
    "1 050": "1050",
    "1\u202f050": "1050",
    "1\u00a0050,5": "1050.5",
    # The decimal comma (ISO 80000-1, 7.3.2), with points or apostrophes between thousands.
    "85,5": "85.5",
    "0,40": "0.40",
    "0,393": "0.393",  # no thousand begins with a zero
    "1.050,5": "1050.5",
    "1.050.000": "1050000",
    "1'050": "1050",
    "1\u2019050.5": "1050.5",
    # Fractions of an inch, as a tape measure is read.
    "3 1/2": "3.5",
    "3-1/2": "3.5",
    "1/4": "0.25",
    "8\u00bd": "8.5",
    "\u00be": "0.75",
    # As a job file has it.
    "85": "85",
    "1.050": "1.050",
    # In doubt.
    "1,0,5": "",
    "10,50,5": "",
    "1.050.5": "",
    "3 4/2": "",
    "1/0": "",
    "eighty": "",
    "": "",
    "9" * 40: "",
}


def test_numbers_as_people_write_them() -> None:
    assert {text: meant_number(text) for text in MEANT} == MEANT
