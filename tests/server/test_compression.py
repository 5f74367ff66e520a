"""The form arrives in fewer bytes where the browser takes it."""

from __future__ import annotations

import gzip

from tests.server.crews import READINGS, Served


def test_the_form_is_compressed_for_a_browser_that_takes_it(record: Served) -> None:
    phone = record.anyone()
    plain = phone.get(READINGS)
    packed = phone.get(READINGS, **{"Accept-Encoding": "gzip, br"})
    assert "content-encoding" not in plain.headers
    assert packed.headers["content-encoding"] == "gzip"
    assert len(packed.body) < len(plain.body) / 2
    assert packed.headers["content-length"] == str(len(packed.body))
    for answer in (plain, packed):
        assert answer.headers["vary"] == "Accept-Encoding"
    assert b'id="f-value"' in gzip.decompress(packed.body)
