"""Blade Mount Sketcher: how a blade mount's layout turns play, oil and load into error at the cutting edge."""

__version__ = "0.1.0"
