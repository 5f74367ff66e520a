"""Every word that is printed and is not the job's own, in the languages asked for."""

from cardgen.words.words import Text, Words
from cardgen.words.words_loader import english, languages, load_words

__all__ = ["Text", "Words", "english", "languages", "load_words"]
