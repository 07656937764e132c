"""Records come back from bytes as they were, and nothing else is read from them."""

from __future__ import annotations

import os
import pathlib
import pickle

import numpy as np
import pytest

from geomgen.craft import Craft
from geomgen.digest import digest
from geomgen.model.role import Role
from geomgen.packing import packed, unpacked


def test_plain_data_comes_back() -> None:
    value = {"a": (1, 2.5, None, "x"), Role.RIB: frozenset({3}), "place": pathlib.Path("a/b")}
    data = packed(value)
    assert data is not None and unpacked(data) == value
    array = np.arange(12.0).reshape(3, 4)[:, ::2]
    data = packed(array)
    assert data is not None and np.array_equal(unpacked(data), array)


def test_a_crafts_parts_come_back_with_their_joints(lantern: Craft) -> None:
    for value in (lantern.flying, lantern.as_cut):
        data = packed(value)
        assert data is not None
        assert digest(list(unpacked(data))) == digest(list(value))
    data = packed(lantern.flying)
    assert data is not None and digest(unpacked(data).joints) == digest(lantern.flying.joints)


def test_what_holds_a_function_is_not_packed(lantern: Craft) -> None:
    assert packed(lambda: None) is None and packed(lantern.layout) is None


class Harm:
    def __init__(self, call: object, *words: object) -> None:
        self.call, self.words = call, words

    def __reduce__(self) -> tuple[object, tuple[object, ...]]:
        return self.call, self.words


@pytest.mark.parametrize(
    ("call", "words"),
    [(os.system, ("true",)), (eval, ("1",)), (getattr, (1, "real")), (np.load, ("x",)), (pathlib.Path.home, ())],
    ids=["system", "eval", "getattr", "load", "method"],
)
def test_no_call_is_carried_out(call: object, words: tuple[object, ...]) -> None:
    with pytest.raises(pickle.UnpicklingError, match="no record"):
        unpacked(pickle.dumps(Harm(call, *words)))


def test_functions_of_this_package_are_not_called_either() -> None:
    with pytest.raises(pickle.UnpicklingError, match="no record"):
        unpacked(pickle.dumps(Harm(packed, 1)))
