"""Closed forms: stresses, and what shapes stand, from figures to figures."""
