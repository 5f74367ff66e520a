"""Spanish words that crews of Mexico and the US Southwest misread, and what to say for them."""

from __future__ import annotations

import re

from cardgen.words import load_words
from tests.for_each import for_each

# A word as it must not be printed (read from its beginning, in any case), and the one to use.
NOT_TO_USE = {
    "(corriente|energía) bloquead": "energía cortada y con candado: the other is a fault",
    "sin corriente": "energía cortada y con candado",
    "hacia afuera": "alejando la navaja del cuerpo",
    "alto voltaje": "voltaje de línea",
    "centro de aviso": "811",
    "regenerada": "reciclada",
    "beber": "tomar",
    "aprobad|aprobacion": "listado: nobody has approved anything",
    "suelt[oa]s?": "desconectado",
    "puentes?": "cola (pigtail): a puente is a jumper",
    "banderitas?": "marcador: a banderita is a flag in the turf",
    "aislador(es)?": "relevador de aislamiento",
    "relés?": "relevador",
    "ohmios?|voltios?|miliamperios?|megaohmios?": "ohms, volts, miliamperes, megaohms",
    "medidor(es)?\\b(?! de agua)": "multímetro: a medidor measures water",
    "terminales (de la bobina|del solenoide)": "cables del solenoide",
    "tap(ado|ar|ón|ones|e)": "con capuchón: a tapón closes a pipe",
    "forro": "cubierta",
    "amarres?": "cincho",
    "legajos?": "carpeta de entrega",
    "pinzas?": "amperímetro de gancho",
    "regresos?": "retorno",
    "vivos?": "cable de estación: the power is off",
    "planos?": "diagrama",
    "celeste": "azul claro",
    "(el|un|este|los|unos) terminal(es)?": "la terminal",
    "una décima": "10 %",
    "mandan?": "rigen, siga",
}


def found(word: str, texts: dict[str, str]) -> dict[str, str]:
    whole = re.compile(rf"\b(?:{word})", re.IGNORECASE)
    return {key: text for key, text in texts.items() if whole.search(text)}


@for_each("word", NOT_TO_USE)
def test_no_spanish_text_has_a_word_that_crews_misread(word: str) -> None:
    words, problems = load_words(("es",))
    assert words is not None, problems
    assert found(word, dict(words.catalogues[0].texts)) == {}, NOT_TO_USE[word]


def test_the_search_finds_such_words() -> None:
    texts = {"a": "Corriente bloqueada", "b": "en este terminal", "c": "en la terminal"}
    assert found("(corriente|energía) bloquead", texts).keys() == {"a"}
    assert found("(el|un|este|los|unos) terminal(es)?", texts).keys() == {"b"}
