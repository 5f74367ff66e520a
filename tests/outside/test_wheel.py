"""Install the built wheel where there is no checkout, and run it in an empty folder."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import venv
import zipfile
from importlib.metadata import Distribution, distribution
from pathlib import Path
from urllib.parse import urljoin
from urllib.request import HTTPCookieProcessor, build_opener

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

from tests.outside import pages
from tests.source_trees import BROUGHT

ROOT = Path(__file__).parents[2]

# The wheel is made and installed once; another worker would have to make its own.
pytestmark = pytest.mark.xdist_group("wheel")


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The wheel, built from the source archive as an index would have it."""
    out = tmp_path_factory.mktemp("dist")
    python("-m", "build", "--no-isolation", "--outdir", str(out), str(ROOT))
    (built,) = out.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def home(wheel: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A new virtual environment with the wheel and, linked, what it declares that it needs.

    Linked rather than downloaded, so that the test needs no network; and no more than declared,
    so that a forgotten dependency shows.
    """
    folder = tmp_path_factory.mktemp("home") / "venv"
    venv.create(folder, symlinks=True)
    site = next(folder.glob("lib/python*/site-packages"))
    python("-m", "pip", "--python", str(folder / "bin" / "python"), *INSTALL, str(wheel))
    cardgen, *_ = Distribution.discover(name="cardgen", path=[str(site)])  # told by each finder
    for needed in needed_by(cardgen):
        link(needed, site)
    return folder


INSTALL = ("install", "--quiet", "--disable-pip-version-check", "--no-index", "--no-deps")


def python(*arguments: str) -> None:
    done = subprocess.run([sys.executable, *arguments], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def needed_by(start: Distribution, extra: str = "") -> list[Distribution]:
    """Everything that a distribution requires, directly or not, and what its extra brings."""
    own = name_of(start)
    found, done = {own: start}, set[tuple[str, str]]()
    waiting = [(own, extra), (own, "")]
    while waiting:
        name, its_extra = waiting.pop()
        if (name, its_extra) in done:
            continue
        done.add((name, its_extra))
        for line in found[name].requires or ():
            wanted = Requirement(line)
            if wanted.marker and not wanted.marker.evaluate({"extra": its_extra}):
                continue
            needed = canonicalize_name(wanted.name)
            found.setdefault(needed, distribution(wanted.name))
            assert not wanted.specifier or found[needed].version in wanted.specifier
            waiting += [(needed, more) for more in ("", *wanted.extras)]
    del found[own]
    return list(found.values())


def name_of(installed: Distribution) -> str:
    return canonicalize_name(installed.metadata["Name"])


def link(needed: Distribution, site: Path) -> None:
    """Link what a distribution has at the top of its site-packages into another."""
    tops = {file.parts[0] for file in needed.files or ()} - {"..", "__pycache__"}
    for top in tops:
        (site / top).symlink_to(Path(str(needed.locate_file(top))).resolve())


@pytest.fixture
def empty(tmp_path: Path) -> Path:
    """An empty folder, with a blank in its name as folders of people have."""
    folder = tmp_path / "somewhere else"
    folder.mkdir()
    return folder


def cardgen(home: Path, folder: Path, *arguments: str) -> str:
    """What the installed command prints; it must end well, and no library may warn."""
    kept = {name: os.environ[name] for name in ("HOME", "LANG", "PATH") if name in os.environ}
    done = subprocess.run(
        [str(home / "bin" / "cardgen"), *arguments],
        cwd=folder,
        env=kept | {"PYTHONNOUSERSITE": "1", "PYTHONWARNINGS": "error"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


def test_the_wheel_holds_all_that_is_read_at_run_time(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = set(archive.namelist())
    layouts = {str(path.relative_to(ROOT)) for path in (ROOT / "layouts").rglob("*.yaml")}
    assert layouts
    assert {f"cardgen/{path}" for path in layouts} <= names
    data = {
        str(path.relative_to(ROOT))
        for path in (ROOT / "cardgen").rglob("*")
        if path.is_file() and path.suffix not in {".py", ".pyc"}
    }
    assert data <= names


def test_what_is_brought_for_the_desk_comes_with_its_licence(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = set(archive.namelist())
        brought = [name for name in names if Path(name).name in BROUGHT]
        assert len(brought) == len(BROUGHT)
        for name in brought:
            license_ = str(Path(name).with_suffix(".LICENSE"))
            assert b"Permission is hereby granted" in archive.read(license_)  # MIT


def test_each_font_comes_with_its_licence(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = archive.namelist()
    families = {Path(name).stem.split("-")[0] for name in names if name.endswith(".ttf")}
    licensed = {name.split("/")[-1].split("-")[0] for name in names if "LICENSE" in name}
    assert families
    assert families <= licensed


def test_nothing_but_cardgen_is_installed(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        tops = {name.split("/")[0] for name in archive.namelist()}
    assert {top for top in tops if not top.endswith(".dist-info")} == {"cardgen"}


def test_help_in_an_empty_folder(home: Path, empty: Path) -> None:
    assert cardgen(home, empty, "--help").startswith("usage: cardgen")
    assert cardgen(home, empty, "desk", "--help").startswith("usage: cardgen desk")


def test_every_page_of_the_manual_can_be_read(home: Path, empty: Path) -> None:
    listed = cardgen(home, empty, "manual").split("\n\n")[0].splitlines()
    topics = [line.split()[0] for line in listed]
    assert {"job-file", "printing", "layouts"} <= set(topics)
    for topic in topics:
        assert cardgen(home, empty, "manual", topic).splitlines()[1].startswith("===")


def test_from_a_new_job_to_printed_tags(home: Path, empty: Path) -> None:
    cardgen(home, empty, "new", "garden.yaml")
    cardgen(home, empty, "check", "garden.yaml")
    cardgen(home, empty, "print", "garden.yaml", "--out", "cards")
    printed = sorted((empty / "cards").rglob("*.pdf"))
    assert printed
    for path in printed:
        pdf = path.read_bytes()
        assert pages.structure_faults(pdf) == []
        assert all(text.strip() for text in pages.text_by_poppler(pdf))


def test_the_desk_is_open_with_all_that_its_pages_name(home: Path, empty: Path) -> None:
    """With what the extra `desk` declares and no more, which is found beside the environment."""
    site = next(home.glob("lib/python*/site-packages"))
    installed, *_ = Distribution.discover(name="cardgen", path=[str(site)])
    extras = empty / "extras"
    extras.mkdir()
    bare = {name_of(needed) for needed in needed_by(installed)}
    for needed in needed_by(installed, "desk"):
        if name_of(needed) not in bare:
            link(needed, extras)
    jobs = empty / "my jobs"
    jobs.mkdir()
    cardgen(home, jobs, "new", "garden.yaml")
    command = [str(home / "bin" / "cardgen"), "desk", str(jobs), "--no-browser"]
    environment = {"PYTHONPATH": str(extras), "PYTHONNOUSERSITE": "1", "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(
        command, cwd=empty, env=environment, stdout=subprocess.PIPE, text=True
    ) as desk:
        try:
            assert desk.stdout
            address = next(line.strip() for line in desk.stdout if "http://" in line)
            browser = build_opener(HTTPCookieProcessor())
            browser.open(address)
            page_address = urljoin(address, "/jobs/garden.yaml")
            page = browser.open(page_address).read().decode()
            named = re.findall(r'"(/assets/[^"]+)"', page)
            assert {Path(name).name for name in named} >= {*BROUGHT, "desk.css"}
            for name in named:
                assert browser.open(urljoin(address, name)).read()
        finally:
            desk.terminate()
            desk.wait()
    assert desk.returncode == 0
