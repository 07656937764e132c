"""geomgen: one design file in; rib outlines, pitch caps, a printable hub and a mass statement out."""

__version__ = "0.1.0"
