"""Our dataclasses behave as those of the standard library, which is the outside source here."""

from __future__ import annotations

import copy
import dataclasses
import pickle
from collections.abc import Callable
from typing import Any

import pytest

from cardgen.light_dataclass import dataclass as light
from cardgen.light_dataclass import replace

STANDARD: Callable[..., Any] = dataclasses.dataclass
OURS: Callable[..., Any] = light
MAKERS = pytest.mark.parametrize("make", [STANDARD, OURS], ids=["standard", "ours"])
Maker = Callable[..., Any]


@light(frozen=True, slots=True, kw_only=True)
class Kept:
    """To be pickled, a class has a place in a module."""

    name: str
    parts: tuple[int, ...] = ()


def plain(name: str, base: type = object, /, *, own: Any = None, **fields: str) -> type:
    """A class with fields of these types, before it is made a dataclass."""
    return type(name, (base,), {"__annotations__": fields, "__module__": __name__, **(own or {})})


def station_of(make: Maker, **options: bool) -> Any:
    note = dataclasses.field(default="", compare=False, repr=False)
    fields = {"name": "str", "number": "int", "note": "str"}
    return make(**options)(plain("Station", own={"number": 1, "note": note}, **fields))


@MAKERS
@pytest.mark.parametrize("slots", [False, True])
def test_equal_by_the_fields_that_are_compared(make: Maker, slots: bool) -> None:
    station = station_of(make, frozen=True, slots=slots)
    other = station_of(make, frozen=True, slots=slots)
    assert station("A1", 1, "wet") == station("A1", 1, "dry")
    assert station("A1", 1) != station("A1", 2)
    assert station("A1") != other("A1"), "of another class"
    assert station("A1") != ("A1", 1)
    assert len({station("A1"), station("A1", note="dry"), station("A2")}) == 2
    assert hasattr(station("A1"), "__dict__") is not slots


@MAKERS
def test_what_may_change_is_found_in_no_set(make: Maker) -> None:
    with pytest.raises(TypeError, match="unhashable"):
        hash(station_of(make)("A1"))


@MAKERS
def test_without_eq_each_is_its_own(make: Maker) -> None:
    station = station_of(make, frozen=True, eq=False)
    one, two = station("A1"), station("A1")
    assert one != two
    assert len({one, two}) == 2


@MAKERS
def test_of_one_field_and_of_none(make: Maker) -> None:
    one = make(frozen=True, slots=True)(plain("One", name="str"))
    nothing = make(frozen=True)(plain("Nothing"))
    assert one("A") == one("A") != one("B")
    assert hash(one("A")) == hash(("A",))
    assert nothing() == nothing()
    assert hash(nothing()) == hash(())


@MAKERS
def test_a_class_keeps_its_own_methods(make: Maker) -> None:
    own = {
        "__hash__": lambda _: 7,
        "__eq__": lambda _, __: True,
        "__repr__": lambda _: "own",
    }
    made = make(frozen=True, slots=True)(plain("Own", own=own, name="str"))
    assert hash(made("A")) == 7
    assert made("A") == 3
    assert repr(made("A")) == "own"


@MAKERS
def test_a_field_may_be_left_out_of_the_hash(make: Maker) -> None:
    about: Any = dataclasses.field(default_factory=dict, hash=False)
    stock = make(frozen=True)(plain("Stock", own={"about": about}, name="str", about="dict"))
    assert hash(stock("a", {"es": "x"})) == hash(stock("a"))
    assert stock("a", {"es": "x"}) != stock("a")


@MAKERS
def test_a_subclass_has_the_fields_of_both(make: Maker) -> None:
    first = make(frozen=True, kw_only=True)(plain("First", name="str"))
    second = make(frozen=True, kw_only=True)(plain("Second", first, number="int"))
    one = second(name="A", number=2)
    assert [field.name for field in dataclasses.fields(one)] == ["name", "number"]
    assert one != first(name="A")
    assert dataclasses.replace(one, number=3) == second(name="A", number=3)
    with pytest.raises(TypeError):
        second("A", 2)


@MAKERS
@pytest.mark.parametrize("slots", [False, True])
def test_one_with_other_values(make: Maker, slots: bool) -> None:
    """A field that is never given is made anew, as by the standard library."""
    found: Any = dataclasses.field(default_factory=list, init=False, compare=False)
    own = {"found": found}
    yard = make(slots=slots)(plain("Yard", own=own, name="str", size="int", found="list"))
    one = yard("A", 1)
    one.found.append("seen")
    for changed in (dataclasses.replace, replace):
        other = changed(one, size=2)
        assert (type(other), other.name, other.size, other.found) == (yard, "A", 2, [])
        assert changed(one) == one
        with pytest.raises(TypeError):
            changed(one, color="red")


@MAKERS
def test_it_is_shown_with_its_fields(make: Maker) -> None:
    said = repr(station_of(make, frozen=True)("A1", 2, "wet"))
    assert said.endswith("Station(name='A1', number=2)")
    ring = make()(plain("Ring", own={"other": None}, other="object"))()
    ring.other = ring
    assert repr(ring).endswith("Ring(other=...)")


@MAKERS
def test_it_may_be_matched_by_place(make: Maker) -> None:
    assert station_of(make).__match_args__ == ("name", "number", "note")


def test_it_goes_to_another_process_and_is_copied() -> None:
    kept = Kept(name="A", parts=(1, 2))
    assert pickle.loads(pickle.dumps(kept)) == kept  # noqa: S301 - just written here
    assert copy.deepcopy(kept) == kept
