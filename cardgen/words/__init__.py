"""Every word that is printed and is not the job's own, in the languages asked for."""

from cardgen.words.load import english, languages, load_words
from cardgen.words.words import Text, Words

__all__ = ["Text", "Words", "english", "languages", "load_words"]
