"""Pages in two languages: the same pages, each with a link to its twin, and no word left over."""

from __future__ import annotations

import re
from pathlib import Path, PurePosixPath

import pytest

from cardgen.cli.main import main
from cardgen.output.recording import RecordRequest
from cardgen.problems import CannotWrite
from cardgen.words import load_words
from tests.jobs import SAMPLE_JOBS, SAMPLES
from tests.memory.test_revisions import ALL
from tests.record.records import (
    BOTH,
    LARKSPUR,
    in_folder,
    pages,
    publish,
    revision,
    sample_files,
    tree,
    words,
)

ES = "ES_/"


@pytest.mark.parametrize("job", SAMPLES)
def test_each_page_has_a_twin_and_says_which_language_that_is(job: str) -> None:
    files = pages(sample_files(job))
    english = {name for name in files if not name.startswith(ES)}
    assert {ES + name for name in english} == set(files) - english
    for name, page in some_pages(job).items():
        (twin,) = (a for a in tree(page).iter("a") if a.get("hreflang"))
        other = name.removeprefix(ES) if name.startswith(ES) else ES + name
        href = PurePosixPath("/", name).parent / (twin.get("href") or "")
        assert Path("/", *href.parts).resolve() == Path("/", other)
        assert twin.get("lang") == twin.get("hreflang") == tree(files[other]).get("lang")
        assert words(twin) == ("English" if name.startswith(ES) else "Español")


def some_pages(job: str) -> dict[str, bytes]:
    """All, but of the hundreds of heron, which are alike, every fifth and its twin."""
    files = pages(sample_files(job))
    if job != "heron":
        return files
    names = [name for name in files if not name.startswith(ES)][::5]
    return {each: files[each] for name in names for each in (name, ES + name)}


def english_texts() -> list[str]:
    """Texts of the catalogue without values in them that Spanish says otherwise."""
    both, _ = load_words(("en", "es"))
    assert both is not None
    one, other = (catalogue.texts for catalogue in both.catalogues)
    sections = ("record.", "cautions.", "box kinds.", "roles.", "verdict.")
    return [
        text
        for key, text in one.items()
        if key.startswith(sections) and "{" not in text and len(text) > 6 and other[key] != text
        if key != "record.language"
    ]


@pytest.mark.parametrize("job", SAMPLES)
def test_no_english_is_left_on_a_spanish_page(job: str) -> None:
    texts = re.compile("|".join(rf"\b{re.escape(text)}(?!\w)" for text in english_texts()))
    own = sample_text(job)
    for name, page in some_pages(job).items():
        if name.startswith(ES):
            found = [text for text in texts.findall(words(page)) if text not in own]
            assert found == [], name


def sample_text(job: str) -> str:
    """What the job itself says stays as it is."""
    return (SAMPLE_JOBS / f"{job}.yaml").read_text("utf-8")


def languages_in(folder: Path) -> tuple[str | None, bool]:
    """The language at the printed address, and whether there is a further one."""
    page = (folder / "VB-1" / "index.html").read_bytes()
    return tree(page).get("lang"), any(folder.glob("*_/VB-1/index.html"))


def test_the_first_language_lies_at_the_printed_address(tmp_path: Path) -> None:
    folder = publish(revision(1), tmp_path, RecordRequest(languages=("es", "en")))
    assert languages_in(folder) == ("es", True)
    assert tree((folder / "EN_" / "VB-1" / "index.html").read_bytes()).get("lang") == "en"


def test_a_record_keeps_its_languages_until_it_is_given_others(tmp_path: Path) -> None:
    publish(revision(1), tmp_path, BOTH)
    folder = publish(revision(2), tmp_path)
    assert languages_in(folder) == ("en", True)
    publish(revision(2), tmp_path, RecordRequest(languages=("es",)))
    assert languages_in(folder) == ("es", False)


def test_only_the_newest_revision_gives_other_languages(tmp_path: Path) -> None:
    folder = publish(revision(2), tmp_path)
    before = in_folder(folder)
    with pytest.raises(CannotWrite, match="revision 2 is the newest"):
        publish(revision(1), tmp_path, BOTH)
    assert in_folder(folder) == before


def test_the_order_of_publishing_does_not_matter(tmp_path: Path) -> None:
    found = []
    for number, order in enumerate((ALL, ALL[::-1])):
        folders = {publish(text, tmp_path / str(number), BOTH) for text in order}
        found.append(in_folder(folders.pop()))
    assert found[0] == found[1]


def test_a_language_that_nobody_speaks_is_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    command = ["record", str(SAMPLE_JOBS / "larkspur.yaml"), "--out", str(tmp_path / "web")]
    assert main([*command, "--language", "en,xx"]) == 2
    assert "no language is called 'xx'\nway out: there are en, es" in capsys.readouterr().err
    assert not (tmp_path / "web").exists()


def test_words_of_ones_own_stand_on_the_pages(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "own" / "words"
    own.mkdir(parents=True)
    (own / "es.yaml").write_text("colors: {brown: marrón}\n", encoding="utf-8")
    command = ["record", str(SAMPLE_JOBS / "larkspur.yaml"), "--out", str(tmp_path / "web")]
    said = [*command, "--language", "en,es", "--layouts", str(own.parent), "--format", "short"]
    assert main(said) == 0
    page = (tmp_path / "web" / LARKSPUR / "ES_" / "SPARE_LIST" / "index.html").read_bytes()
    assert "marrón BN" in words(page)
    (own / "es.yaml").write_text("colors: {brwn: marrón}\n", encoding="utf-8")
    capsys.readouterr()
    assert main(said) == 1
    assert "es.yaml:1:16: error: no text is called" in capsys.readouterr().err


def test_a_language_of_ones_own_needs_its_words_again(tmp_path: Path) -> None:
    own = tmp_path / "own" / "words"
    own.mkdir(parents=True)
    english = Path(__file__).parents[2] / "layouts" / "words" / "en.yaml"
    (own / "de.yaml").write_bytes(english.read_bytes())
    wanted = RecordRequest(languages=("en", "de"), layouts=own.parent)
    folder = publish(revision(1), tmp_path / "web", wanted)
    assert (folder / "DE_" / "VB-1" / "index.html").is_file()
    with pytest.raises(CannotWrite, match="pages in 'de', and nothing says its words"):
        publish(revision(2), tmp_path / "web")
