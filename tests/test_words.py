"""The words a practitioner reads: one name for a thing, none of this code's own, nothing promised that is not there."""

import re

import pytest

from app.document.messages import filled
from app.document.units import System
from tests.words_said import words_said
from tests.words_shown import words_shown

SHOWN = [(where, words) for where, words in (*words_shown(), *words_said()) if words != "cross slope"]
"""All of it but the one word that the units turn another into."""

BANNED = {
    r"\bfeel(s|ing)? the (play|slop)": "read the dial",
    r"\bactuat\w*": "work the cylinder",
    r"\boperat(e|es|ing) the cylinder": "work the cylinder",
    r"\b(play|plays|played) (a|the) (lesson|run|stroke|animation)\b": "teach, start or work",
    r"^(Play|play|Play or pause.*)$": "start: play is what a clearance lets happen",
    r"\bcross[- ]slope\b": "cross fall, which the units turn into cross slope",
    r"(?<!--)(?<!mount, )\bcommands?\b": "movement asked for",
    r"\b(jacobian|residual|iterat\w+|topolog\w+|singular\w*|adjoint|converge\w*|solver|params?)\b": "the trade's words",
    r"\b(pivot joint|pin joint|revolute|prismatic|kinematic pair)\b": "pin or slide",
    r"\b(headlines|every headline|widgets?|dropdowns?|click here)\b": "what it is called on the page",
    r"\b(simply|just click|easily|please)\b": "fewer words",
    r"\bnought\b": "zero",
    r"\bbacklash\b": "play, clearance or lost motion",
    r"\bno such number\b": "what the mount lacks for it",
    r"\b(guarantee\w*|foolproof|always safe|perfect(ly)?|exactly like)\b": "what was measured",
}
"""What stands nowhere on a screen, and what is said instead."""


@pytest.mark.parametrize("banned", BANNED)
def test_words_of_no_practitioner_are_shown_nowhere(banned: str) -> None:
    found = [f"{where}: {words[:90]}" for where, words in SHOWN if re.search(banned, words, re.I)]
    assert found == [], f"say {BANNED[banned]}"


def test_every_key_that_is_told_of_the_wall_is_one_the_page_knows() -> None:
    told = next(
        words for where, words in SHOWN if where == "_dialogs.html" and words.startswith("the wall, for a class")
    )
    assert re.findall(r"\b([a-z]): ", told) == ["n", "b", "q", "t"]


@pytest.mark.parametrize(("system", "name"), [("metric", "cross fall"), ("inch", "cross slope")])
def test_a_message_names_the_slope_as_the_trade_of_its_units_does(system: System, name: str) -> None:
    assert (
        filled("the cross fall of '{name}'", {"name": ("cross fall", "word")}, system) == f"the {name} of 'cross fall'"
    )


def test_the_sentences_are_found() -> None:
    assert len(SHOWN) > 1800
