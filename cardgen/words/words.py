"""Turn the name of a text and the values in it into the words of one language, or of two."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import field

from cardgen.english_lists import runs
from cardgen.light_dataclass import dataclass
from cardgen.words.text import Said, Text


@dataclass(frozen=True, slots=True)
class Catalogue:
    """The texts of one language by `section.key`; `language` is its tag (BCP 47), `es`."""

    language: str
    texts: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class Words:
    """The languages of a print, in their order on paper; what takes no value is said once."""

    catalogues: tuple[Catalogue, ...]
    in_short: bool = False  # one language, in the short forms
    _made: dict[str, Text] = field(default_factory=dict, init=False, compare=False, repr=False)
    _found: dict[str, tuple[str, ...]] = field(
        default_factory=dict, init=False, compare=False, repr=False
    )
    _colors: dict[str, Text] = field(default_factory=dict, init=False, compare=False, repr=False)

    @property
    def languages(self) -> tuple[str, ...]:
        return tuple(c.language for c in self.catalogues)

    @property
    def brief(self) -> Words:
        """The same in the short forms, for small stock."""
        return self if self.is_short else Words(self.catalogues, in_short=True)

    @property
    def is_short(self) -> bool:
        """Two languages share the room of one."""
        return self.in_short or len(self.catalogues) > 1

    def __call__(self, key: str, **values: object) -> Text:
        """The text of that name with the values in it.

        A value that is a `Text` stands in each language in its own; any other in all as it is.
        """
        if values:
            return self._with(key, values)
        if key not in self._made:
            self._made[key] = self._with(key, {})
        return self._made[key]

    def _with(self, key: str, values: Mapping[str, object]) -> Text:
        said = enumerate(self._forms(key))
        return Text(
            tuple(
                [form.format_map({n: _in(v, at) for n, v in values.items()}) for at, form in said]
            )
        )

    def _forms(self, key: str) -> tuple[str, ...]:
        """By language; where room is scarce, the short form, if the catalogue has one."""
        found = self._found.get(key)
        if found is None:
            texts, shorter = [c.texts for c in self.catalogues], f"{key} short"
            found = tuple(t.get(shorter, t[key]) if self.is_short else t[key] for t in texts)
            self._found[key] = found
        return found

    def count(self, key: str, number: int, **values: object) -> Text:
        """`3 splices`, `1 splice`: the key for many, or the same with ` one` behind it."""
        return self(f"{key} one" if number == 1 else key, number=number, **values)

    def has(self, key: str) -> bool:
        return key in self.catalogues[0].texts

    def own(self, section: str, name: str) -> Text:
        """The text of that name in a section, short as above; a name that is not there is said."""
        key = f"{section}.{name}"
        keys = (f"{key} short", key) if self.is_short else (key,)
        said = ([c.texts[k] for k in keys if k in c.texts] or [name] for c in self.catalogues)
        return Text(tuple(first for first, *_ in said))

    def color(self, word: str) -> Text:
        """`white/black` as the trade says it in each language; a word of the job stays."""
        if word not in self._colors:
            parts = word.split("/")
            self._colors[word] = Text(
                tuple(
                    "/".join(c.texts.get(f"colors.{part}", part) for part in parts)
                    for c in self.catalogues
                )
            )
        return self._colors[word]

    def labeled(self, key: str, figure: str) -> Text:
        """`terminal 7`: a label before what is the same in all languages, printed once."""
        return Text(self(key).each, figure)

    def joined(self, parts: Iterable[Said], between: str = ", ") -> Text:
        """The parts that say something in a row, each language for itself."""
        row = [part for part in parts if part]
        return Text(
            tuple([between.join([_in(p, at) for p in row]) for at in range(len(self.catalogues))])
        )

    def list_of(self, parts: Iterable[Said]) -> Text:
        """`A1, A2 and A4`, each once; runs of numbers are drawn together: `A11 to A14`."""
        row = list(parts)
        return Text(
            tuple(
                _listed(c.texts, [_in(part, at) for part in row])
                for at, c in enumerate(self.catalogues)
            )
        )

    def named(self, section: str, names: Iterable[str]) -> tuple[Text, ...]:
        """The texts of those names in a section: the columns of a table, the rules of a sheet."""
        return tuple(self(f"{section}.{name}") for name in names)

    def same(self, said: Said) -> Text:
        """What is no word of ours: the same in all languages, unless it is a `Text` already."""
        return said if isinstance(said, Text) else Text((said,) * len(self.catalogues))


def _listed(texts: Mapping[str, str], row: Sequence[str]) -> str:
    found = [
        texts["lists.to"].format(first=run[0], last=run[1]) if len(run) > 1 else run[0]
        for run in runs(row)
    ]
    if len(found) < 2:
        return "".join(found)
    return texts["lists.and"].format(front=", ".join(found[:-1]), last=found[-1])


def _in(value: object, at: int) -> str:
    """A value as the language at that place says it."""
    return value.languages[at] if isinstance(value, Text) else str(value)
