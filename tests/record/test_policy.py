"""What a page says may run on it, by digests, is read back as it was written."""

from __future__ import annotations

import base64
import hashlib

import pytest

from cardgen.record.page_assets import FIND, SAVED_COPY, STYLE
from cardgen.record.policy import digests, policy_of
from tests.record.records import sample_files, tree

_META = '<meta http-equiv="Content-Security-Policy" content="{}">'


def test_a_digest_is_that_of_the_standard() -> None:
    """Content Security Policy Level 3, 2.3.1: of the text in UTF-8, in base64."""
    # echo -n 'alert("ñ")' | openssl dgst -sha256 -binary | base64
    assert digests(('alert("ñ")',)) == "'sha256-Ax9OSBplF/sgwadnGuT+Kx8pzgiw54/XuxymgZO8VWA='"
    assert digests(()) == "'none'"


def test_a_page_allows_its_own_style_and_scripts_and_nothing_else() -> None:
    page = sample_files("larkspur")["FIND_IN_JOB/index.html"]
    said = dict(part.split(" ", 1) for part in policy_of(page).split("; "))
    assert said["default-src"] == "'none'"
    for kind, tag, texts in (
        ("style-src", "style", [STYLE]),
        ("script-src", "script", [SAVED_COPY, FIND]),
    ):
        found = [node.text or "" for node in tree(page).iter(tag)]
        assert found == texts
        hashes = (hashlib.sha256(text.encode()).digest() for text in found)
        allowed = [f"'sha256-{base64.b64encode(each).decode()}'" for each in hashes]
        assert said[kind].split(" ") == allowed


@pytest.mark.parametrize(
    ("page", "policy"),
    [
        ("<!DOCTYPE html>" + _META.format("default-src &#x27;none&#x27;"), "default-src 'none'"),
        (_META.format("a") + _META.format("b"), "a"),
        ("<p>" + _META.format("a").replace("http-equiv", "name"), ""),
        ("<!-- " + _META.format("a") + " -->", ""),
        ("<script>" + _META.format("a") + "</script>", ""),
        ("<p>nothing", ""),
        (_META.format("a&#13;&#10;Set-Cookie: x"), ""),
        (_META.format("ñ"), ""),
        (" " * 5000 + _META.format("a"), ""),
        ("<meta http-equiv", ""),
    ],
)
def test_only_what_fits_into_a_header_is_read(page: str, policy: str) -> None:
    assert policy_of(page.encode()) == policy
