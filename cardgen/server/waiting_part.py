"""Set what a script shows of the entries that wait on the phone; it has no word of its own."""

from __future__ import annotations

from cardgen.record.html import Markup, element
from cardgen.server.job_context import JobContext
from cardgen.server.request_body import SLOWEST_BYTES_PER_S, START_S
from cardgen.server.request_context import LOGIN


def waiting_list() -> Markup:
    return element("div", id="waiting", class_="alert", hidden=True, role="status")


def waiting_state(context: JobContext, **more: str) -> Markup:
    """What every page says that sends: the sentences, the login, how long an answer may take."""
    return element(
        "div",
        id="state",
        hidden=True,
        data_waits=context.text("waits", number="#number"),
        data_waits_one=context.text("waits one", number="#number"),
        data_sending=context.text("sending"),
        data_login=context.text("log in to send"),
        data_offline=context.text("offline"),
        data_stalled=context.text("stalled"),
        data_change=context.text("change it"),
        data_again=context.text("send again"),
        data_away=context.text("throw away"),
        data_sure=context.text("throw away sure"),
        data_login_page=LOGIN,
        data_patience=str(int(START_S * 1000)),
        data_bytes_per_s=str(SLOWEST_BYTES_PER_S),
        **more,
    )
