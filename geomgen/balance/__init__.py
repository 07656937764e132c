"""Inertia, where a blade's mass sits along its chord, the unbalance of what turns, and what trims it."""
