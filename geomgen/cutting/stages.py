"""Cutting's stage: what is cut first from each sheet."""

from __future__ import annotations

from collections.abc import Sequence

from geomgen.cutting.coupons import fit_coupons
from geomgen.cutting.fit_coupon import FitCoupon
from geomgen.design.schema import Design
from geomgen.model.part import Part
from geomgen.stages import reads


@reads("stock", "laser.kerf", "units", "blade.spar", "pitch.pin")
def coupons(design: Design, parts: Sequence[Part]) -> tuple[FitCoupon, ...]:
    """One for each sheet that a laser cuts."""
    return fit_coupons(parts, design)
