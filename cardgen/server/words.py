"""Every word of the server's own pages, by name: another language is another dictionary."""

from __future__ import annotations

from cardgen.record.words import Words

# A refusal is three texts: its title, what is wrong, and the way out.
_REFUSALS = {
    "not here": (
        "No page here",
        "Nothing of the job record has this address.",
        "Scan the code on the tag again, or type the address with its capitals.",
    ),
    "method": (
        "Not possible here",
        "This address does not take what was sent.",
        "Go back and use the button on the page.",
    ),
    "address": (
        "Address not understood",
        "The address holds characters that no page has.",
        "Scan the code on the tag again.",
    ),
    "kind": (
        "Wrong kind of data",
        "What was sent is not of a kind that is taken here.",
        "Go back and use the form on the page.",
    ),
    "length": (
        "Length missing",
        "What was sent does not say how long it is.",
        "Go back and use the form on the page.",
    ),
    "large": (
        "Too large",
        "What was sent is larger than {most} KB.",
        "Nothing is stored. Send less: a smaller photo, a shorter note.",
    ),
    "slow": (
        "Connection too slow",
        "What was sent did not arrive in time.",
        "Nothing is stored. Send it again where the signal is better.",
    ),
    "unread": (
        "Not understood",
        "What was sent cannot be read.",
        "Nothing is stored. Go back and send it again.",
    ),
    "forged": (
        "Not sent from our page",
        "This did not come from a page of this server, or the page was open for too long.",
        "Nothing is stored. Load the page again and send it once more.",
    ),
    "login": (
        "Log in first",
        "Only a crew with a PIN can do this.",
        "Log in, then send it again: nothing is lost on your side.",
    ),
    "wait": (
        "Wait a moment",
        "Too many PINs were tried.",
        "Try again in {seconds} seconds. Nobody is locked out for good.",
    ),
    "bug": (
        "Something failed",
        "The server made a mistake of its own.",
        "Nothing is stored. Tell the office: its server says what happened.",
    ),
    "not stored": (
        "Not stored",
        "Nothing was stored: {sentence}.",
        "Way out: {help}. Write it down and send it again. The record itself can be read.",
    ),
    "not shown": (
        "Cannot be shown now",
        "What crews have entered cannot be read: {sentence}.",
        "Way out: {help}. The record itself can be read.",
    ),
}

ENGLISH = {
    "log in": "Log in",
    "log out": "Log out",
    "logged in": "Logged in as {crew}",
    "crew": "Crew",
    "pin": "PIN",
    "wrong pin": "That crew and PIN do not belong together.",
    "who logs in": "For crews that enter readings. Reading the record needs no PIN.",
    "no pin yet": "The office gives out PINs: cardgen pin.",
    "go on": "Go on",
    **{
        f"{name}{part}": text
        for name, texts in _REFUSALS.items()
        for part, text in zip((" title", "", " help"), texts, strict=True)
    },
}

ENGLISH_WORDS = Words(ENGLISH, "en")
