"""Every role belongs to one group, and covers are what air meets."""

from __future__ import annotations

import pytest

from geomgen.model.groups import Group, group, is_cover
from geomgen.model.role import Role


@pytest.mark.parametrize("role", Role)
def test_every_role_has_its_group(role: Role) -> None:
    assert isinstance(group(role), Group)
    assert not is_cover(role) or group(role) is Group.SKIN


def test_groups_as_a_builder_sorts_them() -> None:
    """A cap strip lies along an edge, and is no cap; a web belongs to its spar; the hub is on no blade."""
    assert (group(Role.CAP_STRIP), group(Role.WEB), group(Role.FIXED_CAP)) == (
        Group.EDGES,
        Group.SPARS,
        Group.FASTENERS,
    )
    assert [role for role in Role if group(role) is Group.OTHER] == [
        Role.HUB,
        Role.JIG_BOARD,
        Role.GAUGE,
        Role.WIRE_TEMPLATE,
        Role.COUPON,
    ]
    assert [role for role in Role if is_cover(role)] == [Role.SKIN, Role.SHEETING, Role.FOLDED_SKIN, Role.FILM]
