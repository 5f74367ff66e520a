"""Every word that is printed and is not the job's own, in the languages asked for."""

from cardgen.words.text import Said, Text, all_printed, apart, printed
from cardgen.words.words import Words
from cardgen.words.words_loader import english, languages, load_words

__all__ = [
    "Said",
    "Text",
    "Words",
    "all_printed",
    "apart",
    "english",
    "languages",
    "load_words",
    "printed",
]
