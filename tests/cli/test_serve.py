"""`serve`, `pin`, `backup` and `restore` as a person types them."""

from __future__ import annotations

import io
import os
import pty
import re
import signal
import socket
import subprocess
import sys
from pathlib import Path

import pytest

from cardgen.cli.main import main
from cardgen.server.backup import checked
from tests.jobs import sample
from tests.record.records import LARKSPUR, publish
from tests.server.phones import PIN, Phone, command, running


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a real record."""
    out = tmp_path_factory.mktemp("serve") / "web"
    publish(sample("larkspur"), out)
    return out


@pytest.fixture
def web(made: Path, tmp_path: Path) -> Path:
    """The same under a name of its own, so that its data lie beside it."""
    link = tmp_path / "web"
    link.symlink_to(made)
    return link


def run(*argv: str | Path) -> int:
    try:
        return main([str(word) for word in argv])
    except SystemExit as leave:  # argparse leaves by itself
        return int(leave.code or 0)


def typed(monkeypatch: pytest.MonkeyPatch, text: str) -> None:
    monkeypatch.setattr(sys, "stdin", io.StringIO(text))


def test_from_the_record_to_a_crew_that_is_in(
    web: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    typed(monkeypatch, f"{PIN}\n")
    assert run("pin", web, "--add", "Ana") == 0
    assert run("pin", web, "--list") == 0
    assert capsys.readouterr().out == "Ana: may log in\nAna\n"
    data = web.parent / "web.sqlite"
    assert data.stat().st_mode & 0o777 == 0o600
    with running(web) as (port, process):
        phone = Phone(port)
        page = phone.get(f"/{LARKSPUR}/VB-1/")
        assert page.status == 200
        assert "31.1 Ω" in page.text
        assert "script-src 'sha256-" in page.headers["content-security-policy"]
        assert phone.log_in().status == 303
        # One server at a time; a backup and a PIN need not wait for it to stop.
        assert run("serve", web, "--port", "0") == 2
        assert "a server is running" in capsys.readouterr().err
        assert run("backup", web, "--out", web.parent / "copy.sqlite") == 0
        assert "0 entries, 0 photos, 1 crew" in capsys.readouterr().out
        assert run("restore", web.parent / "copy.sqlite", web) == 2
        assert "stop it first" in capsys.readouterr().err
        assert run("pin", web, "--remove", "ana") == 0
        assert capsys.readouterr().out.startswith("ana: let in no more")
        assert "Logged in" not in phone.get("/LOGIN_").text
        assert run("pin", web, "--trail") == 0
        trail = capsys.readouterr().out.splitlines()
        assert [line.split("  ")[1:] for line in trail[1:]] == [
            ["Ana", "log in", "127.0.0.0/24"],
            ["office", "pin removed", "Ana", "local"],
        ]
        assert re.match(r"20\d\d-\d\d-\d\d \d\d:\d\d:\d\d UTC  office  pin added", trail[0])
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=30)
        assert process.returncode == 0
        assert out.endswith("stopped; all that was acknowledged is kept\n")
        assert err == ""
    assert run("restore", web.parent / "copy.sqlite", web) == 0
    said = capsys.readouterr().out
    assert "web.sqlite-before-restore-1" in said
    assert "log in again" in said
    assert checked(data).crews == 1


def test_a_pin_is_asked_for_twice_on_a_terminal(web: Path) -> None:
    def answer(first: str, second: str) -> tuple[int, str]:
        ours, theirs = pty.openpty()
        with subprocess.Popen(
            command("pin", web, "--add", "Ana"),
            stdin=theirs, stdout=theirs, stderr=theirs, start_new_session=True,
        ) as process:  # fmt: skip
            os.close(theirs)
            said = b""
            for prompt, text in ((b"not shown): ", first), (b"again: ", second)):
                while prompt not in said:
                    said += os.read(ours, 1000)
                os.write(ours, text.encode() + b"\n")
            code = process.wait(30)
            said += os.read(ours, 1000)
            os.close(ours)
        return code, said.decode()

    code, said = answer(PIN, PIN + "x")
    assert code == 2
    assert "not the same" in said
    code, said = answer(PIN, PIN)
    assert code == 0
    assert PIN not in said


@pytest.mark.parametrize(
    ("argv", "text", "said"),
    [
        (["--add", "Ana"], "12345\n", "6 to 128 characters"),
        (["--add", "Ana"], "123456\n", "the first that anybody tries"),
        (["--add", "Ana"], "", "6 to 128 characters"),
        (["--add", ""], f"{PIN}\n", "a crew's name is"),
        (["--change", "Ana"], f"{PIN}\n", "no crew is called 'Ana'"),
        (["--remove", "Ana"], "", "no crew is called 'Ana'"),
        (["--add", "Ana", "--list"], "", "not allowed with"),
        ([], "", "required"),
    ],
)
def test_a_pin_that_is_not_taken(
    web: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    argv: list[str],
    text: str,
    said: str,
) -> None:
    typed(monkeypatch, text)
    assert run("pin", web, *argv) == 2
    assert said in capsys.readouterr().err


@pytest.mark.parametrize("name", ["serve", "pin", "backup"])
def test_a_folder_that_is_no_record(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    more = {"pin": ["--list"], "backup": ["--out", "x"]}.get(name, [])
    assert run(name, tmp_path / "web", *more) == 2
    assert "there is no folder" in capsys.readouterr().err
    (tmp_path / "web").mkdir()
    assert run(name, tmp_path / "web", *more) == 2
    assert "is not a job record" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == [tmp_path / "web"]


def test_the_folder_of_one_job_is_not_the_whole_record(
    web: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("serve", web / LARKSPUR) == 2
    assert "after --out" in capsys.readouterr().err


def test_what_crews_enter_never_lies_where_it_is_published(
    web: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    inside = (web / "data.sqlite", web / LARKSPUR / "d", web / ".." / "web" / "d")
    for data in (*inside, web.resolve() / "d"):
        assert run("serve", web, "--data", data) == 2
        assert "is published" in capsys.readouterr().err
        assert not data.exists()
    assert run("pin", web, "--list") == 0
    assert run("backup", web, "--out", web / "copy.sqlite") == 2
    assert "is published" in capsys.readouterr().err
    assert not (web / "copy.sqlite").exists()


def test_data_may_lie_elsewhere(web: Path, tmp_path: Path) -> None:
    (tmp_path / "deep").mkdir()
    data = tmp_path / "deep" / "yard.db"
    assert run("pin", web, "--list", "--data", data) == 0
    assert data.exists()
    assert not (tmp_path / "web.sqlite").exists()


def test_an_address_that_cannot_be_had(web: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with socket.create_server(("127.0.0.1", 0)) as taken:
        assert run("serve", web, "--port", taken.getsockname()[1]) == 2
    told = capsys.readouterr().err
    assert "choose another --port" in told
    assert "address already in use" in told
    assert "errno" not in told  # the reason in words, not the number before it
    assert run("serve", web, "--host", "no.such.host.example") == 2
    told = capsys.readouterr().err
    assert "cannot answer at no.such.host.example" in told
    assert "errno" not in told
    for port in ("-1", "65536", "http"):
        assert run("serve", web, "--port", port) == 2


def test_outside_of_this_machine_pins_want_tls(web: Path) -> None:
    with running(web, "--host", "0.0.0.0") as (_, process):  # noqa: S104
        assert process.stdout is not None
        assert "PINs travel unprotected" in process.stdout.readline()


def test_behind_tls_cookies_go_over_https_only(
    web: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with running(web, "--behind-tls") as (port, _):
        (visitor,) = Phone(port).get("/LOGIN_").cookies
        assert visitor.startswith("__Host-")
        assert "Secure" in visitor
    assert run("serve", web, "--proxy", "192.0.2.1") == 2
    assert "--behind-tls" in capsys.readouterr().err


def test_a_file_of_another_program_stops_the_server(
    web: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (web.parent / "web.sqlite").write_bytes(b"")
    assert run("serve", web, "--port", "0") == 2
    assert "is not a data file of cardgen" in capsys.readouterr().err


def test_nothing_to_copy_yet(web: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("backup", web, "--out", web.parent / "copy.sqlite") == 2
    assert "to copy" in capsys.readouterr().err


def test_without_the_extra_the_way_out_is_one_line(web: Path) -> None:
    without = (
        "import sys\nfor name in ('starlette', 'uvicorn', 'itsdangerous', 'h11'):\n"
        "    sys.modules[name] = None\n"
        "from cardgen.cli.main import main\nsys.exit(main(sys.argv[1:]))"
    )
    done = subprocess.run(
        [sys.executable, "-c", without, "serve", web], capture_output=True, text=True, check=False
    )
    assert done.returncode == 2
    assert done.stderr.endswith("way out: 'cardgen manual install' says how to add it\n")
    assert done.stderr.count("\n") == 2
    for more in (["pin", str(web), "--list"], ["backup", str(web), "--out", f"{web}.copy"]):
        done = subprocess.run(
            [sys.executable, "-c", without, *more], capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stderr
