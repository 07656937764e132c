"""Designs that ship with geomgen, all invented: the demo, the starter, and one that differs in every way."""
